"""A question as HTML: headline, drawing, warnings, entries, folds; for the build and for the browser alike."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from calculators.bench.desk import Asked, Known, Origin, path_of, said_otherwise, units_beside
from calculators.bench.entries import Entry, Table, cell_of
from calculators.bench.errors import FieldError
from calculators.bench.kinds import Measure, Number, Series
from calculators.bench.markup import environment, phrased, shown
from calculators.bench.printing import said, said_whole
from calculators.bench.question import question
from calculators.bench.report import Caution

_QUESTION = environment.get_template("question.html")
_PARTS = environment.get_template("question-parts.html").module
WHOSE = {
    Origin.CARD: "from the card",
    Origin.USUAL: "usual",
    Origin.EXAMPLE: "example",
}
"""What stands beside a box that nobody typed in."""
ONLY_THE_EXAMPLES = "the card has only the example’s"
MOST_BOXES = 10
"""A list of at most so many readings has a box for each; a longer one is typed as one text."""
MANY = 4
"""So many numbers, not known beforehand, are worth a pad that asks for one after another."""
_LIKE = "like "
PARTED = "; "
"""What parts the readings of several boxes in the one text that the job keeps."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Box:
    """One box on the page: what it asks, what stands in it, and what is to be said of that.

    Parameters
    ----------
    key, path, label : str
    typed : str
        What a person typed; the box is empty where nobody did.
    hint : str
        What stands greyed in an empty box.
    whose : str
        Where that comes from.
    unit : str, optional
        The one that stands beside it.
    """

    entry: Entry[Any]
    key: str
    path: str
    label: str
    typed: str
    hint: str
    whose: str
    unit: str | None
    error: str = ""
    read: str = ""
    missing: bool = False

    @property
    def units(self) -> tuple[str, ...]:
        return units_beside(self.entry)

    @property
    def most(self) -> int:
        """How many boxes it may open, one a reading, where it asks for readings of one thing; else none."""
        kind = self.entry.kind
        return kind.most if isinstance(kind, Series) and not kind.run_on and kind.most <= MOST_BOXES else 0

    @property
    def pad(self) -> str:
        """Which keys a phone shows for one of its readings: the number pad may lack the minus."""
        low = getattr(getattr(self.entry.kind, "of", None), "low", 0)
        return "text" if low < 0 else "decimal"

    @property
    def keys(self) -> str | None:
        """Which keys its number may need beside the digits: the point, the minus; None where it takes no number."""
        kind = self.entry.kind
        of = kind.of if isinstance(kind, Series) and self.most else kind
        if not isinstance(of, Measure | Number):
            return None
        return ("" if isinstance(of, Number) and of.whole else ".") + ("-" if of.low < 0 else "")

    @property
    def fewest(self) -> int:
        """How many of its boxes are to be filled at least."""
        return getattr(self.entry.kind, "fewest", 1)

    @property
    def readings(self) -> tuple[tuple[str, str], ...]:
        """Return what stands in each of its boxes, and what greyed: those that are filled, and one more."""
        typed, hints = _readings(self.entry, self.typed), _readings(self.entry, self.hint)
        count = max(self.fewest, min(len(typed) + 1, self.most))
        return tuple(
            (typed[at] if at < len(typed) else "", hints[at] if at < len(hints) else "") for at in range(count)
        )

    def as_data(self) -> dict[str, Any]:
        """Return what changes while a person types."""
        hint = PARTED.join(_readings(self.entry, self.hint)) if self.most else self.hint
        found = {"hint": hint, "whose": self.whose, "error": self.error, "read": self.read}
        changes = {"unit": self.unit} if self.entry.facts.usual_beside and not self.typed else {}
        return found | changes | ({"missing": True} if self.missing else {})


@dataclass(frozen=True, kw_only=True, slots=True)
class Refinement:
    """A fold of entries that only a few need: its title, and in one line what it now holds."""

    title: str
    line: str
    boxes: tuple[Box, ...]

    @property
    def wants_a_look(self) -> bool:
        """Whether something in it is wrong or missing, so that it must not stay shut."""
        return any(box.error or box.missing for box in self.boxes)


@dataclass(frozen=True, kw_only=True, slots=True)
class Rows:
    """A table to type into: its headings once, one row for each thing, with its number from 1 on."""

    table: Table[Any]
    columns: tuple[Entry[Any], ...]
    rows: tuple[tuple[int, str, tuple[Box, ...]], ...]

    @property
    def stands_for(self) -> str:
        """What of the engine each row is: ``cylinder``, ``head``, or nothing that its map shows."""
        return {"cylinders": "cylinder", "heads": "head"}.get(self.table.count or "", "")

    @property
    def wants_a_look(self) -> bool:
        """Whether something in it is wrong or missing, so that it must not stay shut."""
        return any(box.error or box.missing for *_, boxes in self.rows for box in boxes)


class View:
    """A question that was asked, as the page shows it.

    Parameters
    ----------
    asked : Asked
    engine : str
        What the example's engine is called.
    opened : collection of str, optional
        The folds that stand open; what is in the others is not sent. None sends all.
    place : str, optional
        Where the question stands: ``room``, folded to its headline among others, or ``step``, small, its form a sheet.
    is_open : bool, optional
        Whether it stands unfolded in its room.
    """

    def __init__(
        self,
        asked: Asked,
        engine: str,
        opened: Collection[str] | None = None,
        place: str = "room",
        is_open: bool = True,
    ) -> None:
        self.asked, self.answer, self.engine, self.opened = asked, asked.answer, engine, opened
        self.place, self.is_open = place, is_open
        self.of = asked.of
        self.id = f"q-{self.of.name.replace('.', '-')}"
        self._wrong = {error.field: error.message for error in asked.errors}
        self._missing = {error.field for error in asked.lacking}

    @property
    def whose(self) -> str:
        """Say whose numbers the answer rests on, or what is still needed for one."""
        if self.asked.errors:
            return "Check the marked entries."
        if self.asked.lacking:
            return f"Still needed: {'; '.join(_noun(error) for error in self.asked.lacking)}."
        if self.asked.is_example:
            return f"Example: {self.engine}" if not self.asked.typed else f"Rests on the example, {self.engine}"
        own = (Origin.TYPED, Origin.WORKED_OUT)
        from_readings = any(known.origin in own for known in self.asked.known.values())
        return "Worked out from your readings" if from_readings else "Worked out from your engine card"

    @property
    def state(self) -> str:
        """Return ``example``, ``mixed`` (the reader's and the example's), ``yours``, ``lacking`` or ``wrong``."""
        if self.asked.errors:
            return "wrong"
        if self.asked.lacking:
            return "lacking"
        if self.asked.is_example:
            return "mixed" if self.asked.typed else "example"
        return "yours"

    @property
    def headline(self) -> str:
        return self.answer.headline if self.answer else ""

    @property
    def deed(self) -> str:
        """Return what the button beside the line of entries does."""
        return {"lacking": "Enter your readings", "wrong": "Correct your readings"}.get(self.state, "Change")

    @property
    def behind(self) -> str:
        """Say in one line what stands behind the answer in a step, folded."""
        if not self.answer:
            return ""
        counts = (
            (len(self.notices), "notice"),
            (len(self.answer.figures), "drawing"),
            (len(self.answer.tables), "table"),
            (len(self.answer.notes), "note"),
        )
        told = [f"{count} {noun}{'' if count == 1 else 's'}" for count, noun in counts if count]
        return " · ".join((*told, "working") if self.answer.values else told)

    @property
    def stray(self) -> tuple[FieldError, ...]:
        """Return errors that belong to no box on the page."""
        keys = {box.key for box in self.boxes}
        return tuple(error for error in self.asked.errors if error.field not in keys)

    @cached_property
    def open_boxes(self) -> tuple[Box, ...]:
        return tuple(self._box(entry) for entry in self.of.entries() if not entry.facts.refines)

    @cached_property
    def refinements(self) -> tuple[Refinement, ...]:
        titles = dict.fromkeys(entry.facts.refines for entry in self.of.entries() if entry.facts.refines)
        found = []
        for title in titles:
            boxes = tuple(self._box(entry) for entry in self.of.entries() if entry.facts.refines == title)
            found.append(Refinement(title=title or "", line=_line(self.asked, boxes), boxes=boxes))
        return tuple(found)

    @cached_property
    def tables(self) -> tuple[Rows, ...]:
        return tuple(self.rows_of(table, 1) for table in self.of.tables())

    def rows_of(self, table: Table[Any], first: int) -> Rows:
        """Return a table's rows from one number on."""
        numbers = range(first, self.asked.rows.get(table.key, 0) + 1)
        rows = tuple(
            (number, table.each.format(number), tuple(self._box(column, number) for column in table.columns))
            for number in numbers
        )
        return Rows(table=table, columns=table.columns, rows=rows)

    @property
    def is_read_one_by_one(self) -> bool:
        """Whether it asks for a row of readings: a table of numbers, or many that neither card nor custom gives."""
        in_tables = (column for table in self.of.tables() if not table.refines for column in table.columns)
        if any(isinstance(column.kind, Measure | Number | Series) for column in in_tables):
            return True
        alone = [box for box in self.open_boxes if not (box.entry.facts.card or box.entry.facts.usual)]
        return sum(box.keys is not None for box in alone) >= MANY

    @property
    def boxes(self) -> Iterator[Box]:
        """Yield every box on the page."""
        yield from self.open_boxes
        for part in self.refinements:
            yield from part.boxes
        for table in self.tables:
            for *_, boxes in table.rows:
                yield from boxes

    @property
    def line(self) -> str:
        """Say in one line what the open entries hold; of a table that stands alone, which rows are filled."""
        return _line(self.asked, self.open_boxes) or " · ".join(self._filled())

    def _filled(self) -> Iterator[str]:
        for table in self.of.tables():
            rows = sorted({row for column in table.columns for row in _filled_rows(column, self.asked)})
            if rows and not table.refines:
                first, last = table.each.format(rows[0]), rows[-1]
                yield first if first == table.each.format(last) else f"{first} to {last}"

    @property
    def notices(self) -> tuple[Caution, ...]:
        return tuple(caution for caution in self._warnings if caution.signal == "notice")

    @property
    def warnings(self) -> tuple[Caution, ...]:
        return tuple(caution for caution in self._warnings if caution.signal != "notice")

    @property
    def _warnings(self) -> Sequence[Caution]:
        return self.answer.warnings if self.answer else ()

    def _box(self, entry: Entry[Any], row: int = 0) -> Box:
        key = f"{entry.key}.{row}" if row else entry.key
        known = self.asked.known.get(key)
        is_typed = known is not None and known.origin is Origin.TYPED
        text, beside = _parted(entry, known, self.asked.unit_beside(entry))
        return Box(
            entry=entry,
            key=key,
            path=path_of(self.of, entry, row),
            label=entry.label,
            typed=known.text if known and is_typed else "",
            hint="" if is_typed else text or _greyed(entry, row, beside),
            whose="" if is_typed else _whose(known, key in self.asked.inherited),
            unit=(known.unit if known and is_typed else None) or beside,
            error=self._wrong.get(key, ""),
            missing=key in self._missing or (bool(row) and entry.key in self._missing),
            read=said_otherwise(entry, known) if known and not self._wrong.get(key) else "",
        )


def _readings(entry: Entry[Any], text: str) -> list[str]:
    """Return the readings in a text, one a box, as its kind takes them apart."""
    kind = entry.kind
    if not text.strip():
        return []
    like = _LIKE if text.startswith(_LIKE) else ""
    parts = kind.parts(text.removeprefix(like)) if isinstance(kind, Series) else [text]
    return [f"{like}{part}" for part in parts] if len(parts) <= MOST_BOXES else [text]


def _filled_rows(column: Entry[Any], asked: Asked) -> Iterator[int]:
    stem = f"{column.key}."
    return (int(key.removeprefix(stem)) for key, known in asked.known.items() if key.startswith(stem) and known.text)


def _parted(entry: Entry[Any], known: Known | None, empty: str | None) -> tuple[str, str | None]:
    """Return what an empty box shows greyed, and the unit beside it."""
    if known is None or known.value is None or known.origin is Origin.TYPED:
        return "", empty
    own = entry.own_unit
    options = getattr(entry.kind, "options", {})
    if known.text:
        text, beside = shown(entry, known.text)
        return str(options.get(text, text)), beside
    return options[known.value] if options else said(known.value, own), own


def _greyed(entry: Entry[Any], row: int, beside: str | None) -> str:
    """Return the example as a hint for a box that holds nothing, bare of the unit that stands beside it."""
    text = "" if entry.optional else cell_of(entry.facts.example or "", row)
    number, unit = shown(entry, text)
    return f"{_LIKE}{number if unit == beside else text}" if text else ""


def _whose(known: Known | None, inherited: bool) -> str:
    if known is None:
        return ONLY_THE_EXAMPLES if inherited else ""
    if known.origin is Origin.USUAL and inherited:
        return f"{WHOSE[known.origin]}; {ONLY_THE_EXAMPLES}"
    if known.origin is Origin.WORKED_OUT:
        return f"worked out: {question(known.by).asks}"
    return WHOSE[known.origin]


def _noun(error: FieldError) -> str:
    return error.message.removeprefix("Enter the ").partition(",")[0]


def _line(asked: Asked, boxes: Collection[Box]) -> str:
    """Say in one line what some entries hold, in the order in which they are asked."""
    parts = []
    for box in boxes:
        known = asked.known.get(box.key)
        if known is None:
            continue
        options = getattr(box.entry.kind, "options", {})
        text = (options and options.get(known.value)) or (
            said_whole(known.value) if known.value is not None else box.typed
        )
        parts.append(box.entry.facts.said.format(text) if box.entry.facts.said else f"{box.label} {text}")
    return " · ".join(parts)


def question_html(asked: Asked, engine: str, card: str, place: str = "room", is_open: bool = True) -> str:
    """Return the whole custom element, as the build puts it into a page."""
    return _QUESTION.render(view=View(asked, engine, place=place, is_open=is_open), card=card)


def inner_html(view: View) -> str:
    """Return all that stands in the element."""
    return str(_PARTS.inner(view))  # type: ignore[attr-defined]


def changes(view: View, rows_shown: Mapping[str, int]) -> dict[str, Any]:
    """Return what changes on the page while a person types.

    Returns
    -------
    dict
        ``answer`` and ``folds`` (HTML), ``line``, ``state``, ``boxes`` (what is said of each, by key), ``refines`` (the
        line of each fold), and ``rows``: for each table how many to show and the HTML of those that the page lacks.
        Of a question that stands folded, only its headline, whose it is, and its line: the rest waits until opened.
    """
    at_a_glance = {
        "name": view.of.name,
        "state": view.state,
        "headline": phrased(view.headline),
        "whose": view.whose,
        "line": view.line,
    }
    if not view.is_open:
        return at_a_glance
    parts: Any = _PARTS
    rows = {}
    for table in view.of.tables():
        wanted = view.asked.rows.get(table.key, 0)
        more = view.rows_of(table, rows_shown.get(table.key, wanted) + 1)
        rows[table.key] = {"count": wanted, "more": str(parts.table_rows(view, more)) if more.rows else ""}
    return at_a_glance | {
        "deed": view.deed,
        "answer": str(parts.answer(view)),
        "folds": str(parts.behind(view)),
        "boxes": {box.key: box.as_data() for box in view.boxes},
        "refines": {part.title: part.line for part in view.refinements},
        "rows": rows,
    }
