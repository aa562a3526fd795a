"""What answers are made of: values with formula and source, tables, figures, walks, cautions."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Literal

from uncertainties import UFloat

from calculators.bench.units import (
    bare,
    magnitude_in,
    number_in,
    printed,
    printed_bare,
    symbol_of,
    uncertainty_in,
)
from calculators.bench.words import word
from calculators.formulas.decision_rule import Verdict

Standing = Literal["published", "library", "identity", "common practice", "memory"]

_STANDING_WORDS = {
    "published": "",
    "library": "computed by a library that we did not write",
    "identity": "follows from the definitions",
    "common practice": "common practice, no source",
    "memory": "quoted from memory, not seen",
}


@dataclass(frozen=True, slots=True)
class Source:
    """Where a formula or a number comes from.

    Parameters
    ----------
    name : str
        Title, edition, and clause, table or page; never an address.
    standing : str
        How sure it is: published, library, identity, common practice or memory.
    """

    name: str
    standing: Standing = "published"

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("a source needs a name")

    def __str__(self) -> str:
        words = _STANDING_WORDS[self.standing]
        return f"{self.name} ({words})" if words and words != self.name else self.name


COMMON_PRACTICE = Source("common practice, no source", "common practice")
GEOMETRY = Source("plane and solid geometry", "identity")
CONVERSION = Source("NIST SP 811 (2008), Appendix B.8")

COVERAGE = 0.95
"""How often the true value lies within ±, about (JCGM 100:2008, 6.3.3)."""

Given = tuple[tuple[str, Any], ...]
"""What was put into a formula: a name and a quantity, number or word each."""


def given_text(given: Given) -> str:
    """Return what was put in, as the page prints it: ``bore 80.00 mm; stroke 74.00 mm``.

    Examples
    --------
    >>> given_text((("n", 4), ("how", "by hand")))
    'n 4; how by hand'
    """
    return "; ".join(f"{word(name)} {_as_printed(value)}" for name, value in given)


def _as_printed(value: Any) -> str:
    if isinstance(value, str):
        return word(value)
    if hasattr(value, "units"):
        return printed(value, symbol_of(value)) if symbol_of(value) else printed_bare(value)
    return printed_bare(value)


@dataclass(frozen=True, kw_only=True, slots=True)
class Value:
    """One answer. It cannot be built without its formula and its source.

    Parameters
    ----------
    quantity : Quantity, number, or str for an answer in words
        A measured one carries its uncertainty as a ``ufloat`` magnitude.
    units : tuple of str
        Units to print it in, the first one first; its own where none is named.
    places : int, optional
        Decimals, where the unit's own are not what the bench reads.
    words : str, optional
        Printed in place of the number in the first unit; data keep that number.
    lead : bool
        One of the few that answer the reader's question.
    given : tuple of (str, quantity, number or str)
        The numbers put into the formula, by name.
    """

    key: str
    label: str
    quantity: Any
    formula: str
    source: Source
    units: tuple[str, ...] = ()
    places: int | None = None
    words: str | None = None
    lead: bool = False
    given: Given = ()

    def __post_init__(self) -> None:
        if not self.formula.strip() or not isinstance(self.source, Source):
            raise ValueError(f"{self.key}: a value needs its formula and its source")
        if not self.units and hasattr(self.quantity, "units") and self.quantity.unit_items():
            object.__setattr__(self, "units", (symbol_of(self.quantity),))

    @property
    def texts(self) -> tuple[str, ...]:
        if isinstance(self.quantity, str):
            return (word(self.quantity),)
        if not self.units:
            return (printed_bare(self.quantity, self.places),)
        places = self.places if len(self.units) == 1 else None
        texts = tuple(printed(self.quantity, symbol, places) for symbol in self.units)
        return (self.words, *texts[1:]) if self.words else texts

    @property
    def budget(self) -> tuple[tuple[str, float], ...]:
        """Which readings the uncertainty comes from: name and share of the variance, the largest first.

        References
        ----------
        JCGM 100:2008 (GUM), 5.1.3.
        """
        number = number_in(self.quantity, self.units[0]) if self.units else self.quantity
        if not isinstance(number, UFloat):
            return ()
        parts: dict[str, float] = {}
        for variable, part in number.error_components().items():
            name = str(variable.tag or "a reading")
            parts[name] = parts.get(name, 0.0) + part**2
        whole = math.fsum(parts.values())
        shares = ((name, part / whole) for name, part in parts.items()) if whole else ()
        return tuple(sorted(shares, key=lambda share: -share[1]))

    def as_data(self) -> dict[str, Any]:
        symbol = self.units[0] if self.units else None
        if symbol:
            magnitude, uncertainty = magnitude_in(self.quantity, symbol), uncertainty_in(self.quantity, symbol)
        else:
            magnitude, uncertainty = bare(self.quantity)
        return {
            "key": self.key,
            "label": self.label,
            "magnitude": magnitude,
            "unit": symbol,
            "uncertainty": uncertainty,
            "coverage": None if uncertainty is None else COVERAGE,
            "words": self.words,
            "formula": self.formula,
            "given": given_text(self.given),
            "source": str(self.source),
        }


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """One column: a heading, the unit its quantities are printed in, and its decimals.

    A column headed by its unit does not repeat it in each cell. ``key`` names it in
    data; ``strong`` marks the column that the hand follows; a ``wide`` one holds words,
    and takes a line of its own on a phone; what is ``stamped`` on a part, a class 8.8, keeps
    its point where readers write a comma.
    """

    key: str
    label: str
    unit: str | None = None
    places: int | None = None
    strong: bool = False
    wide: bool = False
    stamped: bool = False

    def text(self, cell: Any) -> str:
        if isinstance(cell, str):
            return word(cell)
        if cell is None:
            return "–"
        if not self.unit:
            return printed_bare(cell, self.places)
        text = printed(cell, self.unit, self.places)
        return text.removesuffix(self.unit).rstrip() if self.label == self.unit else text

    def data(self, cell: Any) -> Any:
        if cell is None or isinstance(cell, str):
            return cell
        return magnitude_in(cell, self.unit) if self.unit else bare(cell)[0]


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One row; a ``chosen`` one is the answer, and is marked by more than colour."""

    cells: tuple[Any, ...]
    chosen: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """Rows of quantities or words, with the formula and the source they rest on.

    One ``on_paper`` goes onto the job sheet with the answer, to be printed as a card.
    """

    key: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    formula: str
    source: Source
    folded: bool = False
    given: Given = ()
    on_paper: bool = False

    def __post_init__(self) -> None:
        if any(len(row.cells) != len(self.columns) for row in self.rows):
            raise ValueError(f"{self.key}: every row needs {len(self.columns)} cells")
        if not self.formula.strip() or not isinstance(self.source, Source):
            raise ValueError(f"{self.key}: a table needs its formula and its source")

    def as_data(self) -> dict[str, Any]:
        return {
            "key": self.key,
            "title": self.title,
            "columns": [{"key": column.key, "label": column.label, "unit": column.unit} for column in self.columns],
            "rows": [
                {column.key: column.data(cell) for column, cell in zip(self.columns, row.cells, strict=True)}
                | {"chosen": row.chosen}
                for row in self.rows
            ],
            "formula": self.formula,
            "source": str(self.source),
        }


@dataclass(frozen=True, kw_only=True, slots=True)
class Figure:
    """A drawing as SVG text, which says in its label what it shows."""

    key: str
    title: str
    svg: str
    size: Literal["whole", "half"] = "whole"


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """One deed of a walk, ticked when done.

    Parameters
    ----------
    key : str
        Its own within the walk.
    label : str
        A word or two, for a button: ``"A"``, ``"3 inlet"``.
    words : str
        The whole deed in one sentence. A tick holds for these words: where the plan changes, it goes.
    large : str
        What is read from two metres: ``"A · 20 N·m"``.
    minutes : float, optional
        How long the step lasts, where it is a matter of time.
    nut : str
        The nut or screw that is turned, as a map of them names it; there it ticks the step too.
    """

    key: str
    label: str
    words: str
    large: str
    minutes: float | None = None
    nut: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stage:
    """Steps that belong together: one pass, one stop; a drawing is shown with each of them."""

    title: str
    steps: tuple[Step, ...]
    drawing: Figure | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Walk:
    """Steps to do one after the other with the hands full: ticked on the page, and followed full-screen.

    One ``on_paper`` goes onto the job sheet with the answer, to be printed as a strip for the bench.
    A ``folded`` one stays shut on the page until its turn comes.
    """

    key: str
    title: str
    stages: tuple[Stage, ...]
    on_paper: bool = False
    folded: bool = False

    def __post_init__(self) -> None:
        keys = [step.key for stage in self.stages for step in stage.steps]
        if not keys or len(set(keys)) != len(keys):
            raise ValueError(f"{self.key}: a walk needs steps, each with a key of its own")

    def as_data(self) -> dict[str, Any]:
        return {
            "key": self.key,
            "title": self.title,
            "stages": [
                {
                    "title": stage.title,
                    "steps": [
                        {"key": step.key, "label": step.label, "words": step.words, "minutes": step.minutes}
                        for step in stage.steps
                    ],
                }
                for stage in self.stages
            ],
        }


@dataclass(frozen=True, slots=True)
class Part:
    """One part that was measured: ``Part("cylinder 3", quantity, "out")``; no name where there is only one."""

    name: str
    found: Any
    verdict: Verdict | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """What was measured of one kind, beside its limit, for whoever owns the engine: the handover says it in words.

    Parameters
    ----------
    key, what : str
        ``what`` as it stands inside a sentence: ``bore taper``.
    parts : tuple of Part
    units : tuple of str
        In which it may be printed, the metric one first.
    places : int, optional
        Decimals in the first unit, where its own are not what the bench reads.
    low, high : Quantity, optional
        The limits.
    apart : Quantity, optional
        By how much the parts may differ.
    limits : tuple of str
        Keys of the entries from which the limits come, so that it can be said whose they are.
    when : str
        Where it was measured twice: ``before`` the job or ``after`` it.
    gloss : str
        What it is, for who does not know the word: ``one end of the barrel wider than the other``.
    is_set : bool
        It was set to its limit, not worn towards it: what cannot be told from the limit is right.
    """

    key: str
    what: str
    parts: tuple[Part, ...]
    units: tuple[str, ...]
    places: int | None = None
    low: Any = None
    high: Any = None
    apart: Any = None
    limits: tuple[str, ...] = ()
    when: Literal["", "before", "after"] = ""
    gloss: str = ""
    is_set: bool = False

    def __post_init__(self) -> None:
        if not self.parts:
            raise ValueError(f"{self.key}: nothing was found")
        if any(part.verdict for part in self.parts) and not (self.limits and self.has_limit):
            raise ValueError(f"{self.key}: a verdict needs a limit, and an entry that it comes from")

    @property
    def has_limit(self) -> bool:
        return any(limit is not None for limit in (self.low, self.high, self.apart))


@dataclass(frozen=True, kw_only=True, slots=True)
class Check:
    """What is to be looked at later: an answer put on the job sheet takes it along to the next checks.

    Parameters
    ----------
    key : str
        Its own within the question; the same check worked out anew replaces the old one.
    what : str
    due, distance : str
        The day and the odometer's reading, whichever comes first, as they are written on the sheet; either may be
        empty.
    """

    key: str
    what: str
    due: str
    distance: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Clock:
    """What is waited for: the page offers to start it, and the job keeps when it runs out.

    Parameters
    ----------
    waits_for : str
        What may be done, or must be done, when it is over: ``Oil may meet the joint``.
    starts : str
        What the button says, by the deed from which it counts: ``Last bolt done: start the cure, 24 h``.
    minutes : float
        From that deed.
    """

    waits_for: str
    starts: str
    minutes: float

    def __post_init__(self) -> None:
        if not self.minutes > 0 or " " not in self.waits_for:
            raise ValueError(f"a clock runs for some minutes and says in words what for: {self.waits_for!r}")


@dataclass(frozen=True, kw_only=True, slots=True)
class Attachment:
    """A file to take away, as text: a calendar, a table.

    Parameters
    ----------
    name : str
        The file's name, with its ending.
    title : str
        What the button says.
    media_type : str
        As registered: ``text/calendar``, ``text/csv``.
    """

    name: str
    title: str
    media_type: str
    text: str


Signal = Literal["danger", "warning", "caution", "notice"]
_SIGNAL_WORDS = {"danger": "DANGER", "warning": "WARNING", "caution": "CAUTION", "notice": "NOTICE"}


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning, graded as ISO 3864-2 and ANSI Z535.6 grade signal words."""

    signal: Signal
    text: str

    @property
    def word(self) -> str:
        return _SIGNAL_WORDS[self.signal]
