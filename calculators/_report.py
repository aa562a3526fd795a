"""What a calculator answers: values with formula and source, tables, figures, cautions, notes."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal, get_args

from calculators._units import bare, magnitude_in, printed, printed_bare, uncertainty_in

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


@dataclass(frozen=True, kw_only=True, slots=True)
class Value:
    """One answer. It cannot be built without its formula and its source.

    Parameters
    ----------
    quantity : Quantity, number, or str for an answer in words
        A measured one carries its uncertainty as a ``ufloat`` magnitude.
    units : tuple of str
        Units to print it in, the first one first; empty for words and bare numbers.
    places : int, optional
        Decimals, where the unit's own are not what the bench reads.
    words : str, optional
        Printed in place of the number in the first unit; data keep that number.
    lead : bool
        One of the few that answer the reader's question.
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

    def __post_init__(self) -> None:
        if not self.formula.strip() or not isinstance(self.source, Source):
            raise ValueError(f"{self.key}: a value needs its formula and its source")

    @property
    def texts(self) -> tuple[str, ...]:
        if isinstance(self.quantity, str):
            return (self.quantity,)
        if not self.units:
            return (printed_bare(self.quantity, self.places),)
        places = self.places if len(self.units) == 1 else None
        texts = tuple(printed(self.quantity, symbol, places) for symbol in self.units)
        return (self.words, *texts[1:]) if self.words else texts

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
            "words": self.words,
            "formula": self.formula,
            "source": str(self.source),
        }


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """One column: a heading, the unit its quantities are printed in, and its decimals.

    A column headed by its unit does not repeat it in each cell. ``key`` names it in
    data; ``strong`` marks the column that the hand follows; a ``wide`` one holds words,
    and takes a line of its own on a phone.
    """

    key: str
    label: str
    unit: str | None = None
    places: int | None = None
    strong: bool = False
    wide: bool = False

    def text(self, cell: Any) -> str:
        if isinstance(cell, str):
            return cell
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
    """Rows of quantities or words, with the formula and the source they rest on."""

    key: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    formula: str
    source: Source
    folded: bool = False

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


Signal = Literal["danger", "warning", "caution", "notice"]
_GRADES: tuple[Signal, ...] = get_args(Signal)  # the gravest first


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning, graded as ISO 3864-2 and ANSI Z535.6 grade signal words."""

    signal: Signal
    text: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Report:
    """A whole answer. ``lead`` is one sentence: what to do; cautions stand by grade, the gravest first."""

    lead: str
    values: tuple[Value, ...] = ()
    tables: tuple[Table, ...] = ()
    figures: tuple[Figure, ...] = ()
    cautions: tuple[Caution, ...] = ()
    notes: tuple[str, ...] = field(default=())

    def __post_init__(self) -> None:
        graded = sorted(self.cautions, key=lambda caution: _GRADES.index(caution.signal))
        object.__setattr__(self, "cautions", tuple(graded))

    def as_data(self) -> dict[str, Any]:
        """Return the report as plain data, unrounded, for ``run --json``."""
        return {
            "lead": self.lead,
            "values": [value.as_data() for value in self.values],
            "tables": [table.as_data() for table in self.tables],
            "cautions": [{"signal": caution.signal, "text": caution.text} for caution in self.cautions],
            "notes": list(self.notes),
        }
