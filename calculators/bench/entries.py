"""What a question asks for: attributes of a class, each with its unit, its limits and the reason for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Self, overload

import pint

from calculators.bench.instrument_kinds import INSTRUMENTS
from calculators.bench.kinds import (
    Choice,
    Date,
    Groups,
    Kind,
    Measure,
    Names,
    Number,
    Series,
    Text,
    split_line,
    three_figures,
)
from calculators.bench.units import magnitude_in, plain, quantity, read_number

if TYPE_CHECKING:
    from datetime import date

    from calculators.bench.sections import Section

Quantity = pint.Quantity
"""A number with its unit; a measured one has an uncertainty as well, as a ``ufloat`` magnitude."""


class Given:
    """What holds the values of entries: a question that was asked, or one row of its table."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        self._given = dict(values)  # a question's own names begin otherwise

    def value_of[T](self, entry: Entry[T]) -> T:
        value: T = self._given[entry.key]
        return value


@dataclass(frozen=True, kw_only=True, slots=True)
class Facts:
    """What is said of an entry beside its kind.

    Parameters
    ----------
    hint : str
        One line under the label.
    card : str, optional
        Path of the fact on the engine card that fills it: ``CardFacts.dimensions.bore.path``.
    stands_in : bool
        The card's fact only stands in for it: what is typed is another thing, as the hint says, and not for the card.
    usual : str, optional
        What is taken where nobody says otherwise, as typed; the page shows it.
    usual_beside : tuple of str and mapping of str to str, optional
        What is usual instead where another entry, asked above, is written in a unit of the mapping:
        ``("target", {"lbf·ft": "1 lbf·ft"})``.
    example : str, optional
        What the worked example reads.
    shared_as : str, optional
        The name under which the job keeps it: entries of one name, in any question, are one reading.
        In a table each row has its own: ``chamber.2``.
    read_by : str, optional
        The kind of instrument that reads it.
    refines : str, optional
        The fold in which it lies: what only a few need.
    said : str
        How the one line of entries says it: ``"marks of {}"``.
    """

    hint: str = ""
    card: str | None = None
    stands_in: bool = False
    usual: str | None = None
    usual_beside: tuple[str, Mapping[str, str]] | None = None
    example: str | None = None
    shared_as: str | None = None
    read_by: str | None = None
    refines: str | None = None
    said: str = ""

    def __post_init__(self) -> None:
        if self.read_by and self.read_by not in INSTRUMENTS:
            raise ValueError(f"no kind of instrument is called {self.read_by}")


def cells_in(text: str) -> list[str]:
    """Return the cells of a text that stands for a column: one behind each semicolon."""
    return [cell.strip() for cell in text.split(";")] if text.strip() else []


def cell_of(text: str, row: int) -> str:
    """Return a text, or of a text that stands for a column the cell of a row; one cell stands for all rows."""
    if not row:
        return text.strip()
    cells = cells_in(text)
    return cells[0] if len(cells) == 1 else cells[row - 1] if row <= len(cells) else ""


class Entry[T]:
    """One thing asked for; on a question that was asked it gives the value.

    Its key is the attribute's name; of an engine card's fact, its path is that and those above: ``dimensions.bore``.
    What several questions ask for is called by each: that gives one of its own, like this but for what is named.
    """

    key, path = "", ""

    def __init__(self, label: str, kind: Kind, facts: Facts, *, optional: bool = False) -> None:
        self.label, self.kind, self.facts, self.optional = label, kind, facts, optional

    def __set_name__(self, owner: type, name: str) -> None:
        self.key = name

    def __call__(self, label: str = "", **facts: Any) -> Entry[T]:
        return Entry(label or self.label, self.kind, replace(self.facts, **facts), optional=self.optional)

    @overload
    def __get__(self, given: None, owner: type) -> Self: ...
    @overload
    def __get__(self, given: Given, owner: type) -> T: ...
    @overload
    def __get__(self, given: Section, owner: type) -> T | None: ...
    def __get__(self, given: Given | Section | None, owner: type) -> Self | T | None:
        return self if given is None else given.value_of(self)

    @property
    def each(self) -> Measure | Number | Choice | Date | Text | Names:
        """What it asks for, or what each entry of its list is."""
        return self.kind.of if isinstance(self.kind, Series | Groups) else self.kind

    @property
    def measure(self) -> Measure | None:
        return self.each if isinstance(self.each, Measure) else None

    @property
    def own_unit(self) -> str | None:
        return self.measure.own if self.measure else None

    @property
    def signed(self) -> bool:
        """True where a minus or a dash can occur, so that a phone must offer one."""
        return isinstance(self.kind, Date) or (isinstance(self.kind, Measure) and self.kind.low < 0)

    def like(self, chosen: str | None = None, row: int = 0) -> str:
        """Return a value to show in an error: the entry's own example, in the unit chosen and bare of it."""
        text = cell_of(self.facts.example or "", row) or self.facts.usual
        if isinstance(self.kind, Series):
            return text or self.kind.like
        if isinstance(self.kind, Groups | Choice):
            return text or "1 2 / 3 4"
        if isinstance(self.kind, Date):
            return text or "2026-11-25"
        if isinstance(self.kind, Text | Names):
            return text or "A B C D"
        if not text:
            return self.measure.likely(chosen or self.measure.own) if self.measure else self.kind.limits[0]
        text = split_line(text)[0]
        typed = read_number(text)
        if self.measure and chosen and typed.number:
            written_in = typed.unit.symbol if typed.unit else self.measure.own
            if written_in != chosen:
                return plain(three_figures(magnitude_in(quantity(typed.number, written_in), chosen), round))
        return text.split()[0] if typed.number else "0 or 0.5"


class Row(Given):
    """One row of a table: subclass it with the entries of its columns."""


class Table[R: Row]:
    """Rows of the same entries, one for each thing; on a question that was asked it gives the rows.

    Parameters
    ----------
    of : type of Row
    each : str
        ``"Cylinder {}"``.
    most : int
    count : str, optional
        Key of the whole-number entry that says how many rows there are, or of the list with one thing for each;
        else the reader adds rows.
    refines : str, optional
        The fold in which it lies.
    hint : str
        One line above it: what its headings are too short for.
    """

    key = ""

    def __init__(
        self,
        of: type[R],
        each: str,
        most: int,
        count: str | None = None,
        refines: str | None = None,
        hint: str = "",
    ) -> None:
        self.of, self.each, self.most, self.count, self.refines, self.hint = of, each, most, count, refines, hint
        self.columns = entries_of(of)

    def __set_name__(self, owner: type, name: str) -> None:
        self.key = name

    @overload
    def __get__(self, given: None, owner: type) -> Self: ...
    @overload
    def __get__(self, given: Given, owner: type) -> tuple[R, ...]: ...
    def __get__(self, given: Given | None, owner: type) -> Self | tuple[R, ...]:
        return self if given is None else given._given[self.key]


def entries_of(owner: type) -> tuple[Entry[Any], ...]:
    """Return the entries of a class in the order in which they are written, a parent's first."""
    return tuple(found for found in _written_in(owner) if isinstance(found, Entry))


def tables_of(owner: type) -> tuple[Table[Any], ...]:
    """Return the tables of a class in the order in which they are written."""
    return tuple(found for found in _written_in(owner) if isinstance(found, Table))


def _written_in(owner: type) -> Iterator[Any]:
    for parent in reversed(owner.__mro__):
        yield from vars(parent).values()


def optional[T](entry: Entry[T]) -> Entry[T | None]:
    """Return an entry that may be left empty: it then gives None."""
    return Entry(entry.label, entry.kind, entry.facts, optional=True)


def _measure(own: str, label: str, low: float, high: float, why: str, exact: bool, facts: Any) -> Entry[Quantity]:
    return Entry(label, Measure(own=own, low=low, high=high, why=why, exact=exact), Facts(**facts))


def length(
    label: str, low: float, high: float, *, why: str, exact: bool = False, own: str = "mm", **facts: Any
) -> Entry[Quantity]:
    """Return an entry for a length; limits in ``own``, millimetres unless said. ``facts`` as ``Facts`` has them."""
    return _measure(own, label, low, high, why, exact, facts)


def volume(label: str, low: float, high: float, *, why: str, exact: bool = False, **facts: Any) -> Entry[Quantity]:
    """Return an entry for a volume; limits in cubic centimetres."""
    return _measure("cm³", label, low, high, why, exact, facts)


def torque(label: str, low: float, high: float, *, why: str, exact: bool = True, **facts: Any) -> Entry[Quantity]:
    """Return an entry for a torque, a figure to work to unless ``exact`` is false; limits in newton metres."""
    return _measure("N·m", label, low, high, why, exact, facts)


def angle(label: str, low: float, high: float, *, why: str, exact: bool = False, **facts: Any) -> Entry[Quantity]:
    """Return an entry for an angle; limits in degrees."""
    return _measure("°", label, low, high, why, exact, facts)


def measure(
    label: str, own: str, low: float, high: float, *, why: str, exact: bool = False, **facts: Any
) -> Entry[Quantity]:
    """Return an entry for a quantity of any other kind, by the unit that is taken where none is typed."""
    return _measure(own, label, low, high, why, exact, facts)


def count(label: str, low: int, high: int, *, why: str, **facts: Any) -> Entry[int]:
    """Return an entry for a whole number."""
    return Entry(label, Number(low=low, high=high, why=why), Facts(**facts))


def number(label: str, low: float, high: float, *, why: str, to_one: bool = False, **facts: Any) -> Entry[float]:
    """Return an entry for a number without a unit; with ``to_one`` a ratio, typed ``7.6`` or ``7.6 : 1``."""
    return Entry(label, Number(low=low, high=high, why=why, whole=False, to_one=to_one), Facts(**facts))


def choice(label: str, options: Mapping[str, str], **facts: Any) -> Entry[str]:
    """Return an entry for one of a few options: what the code compares → what the reader sees."""
    return Entry(label, Choice(options=options), Facts(**facts))


def day(label: str, low: date, high: date, *, why: str, **facts: Any) -> Entry[date]:
    """Return an entry for a day of the calendar."""
    return Entry(label, Date(low=low, high=high, why=why), Facts(**facts))


def listed[T](
    of: Entry[T], fewest: int, most: int, *, like: str = "1 2 3", run_on: bool = False
) -> Entry[tuple[T, ...]]:
    """Return an entry for several values on one line; ``like`` is what an error shows where there is no example."""
    if not isinstance(of.kind, Measure | Number):
        raise TypeError(f"{of.label}: a list is of numbers or of measures")
    return Entry(of.label, Series(of=of.kind, fewest=fewest, most=most, like=like, run_on=run_on), of.facts)


def grouped(of: Entry[int], most: int) -> Entry[tuple[tuple[int, ...], ...]]:
    """Return an entry for whole numbers in groups: the cylinders under each head, ``1 2 / 3 4``."""
    if not isinstance(of.kind, Number):
        raise TypeError(f"{of.label}: groups are of whole numbers")
    return Entry(of.label, Groups(of=of.kind, most=most), of.facts)


def either_way[T](entry: Entry[T]) -> Entry[T]:
    """Return an entry for half the width of a band, such as an error limit: a ± typed in front of it is understood."""
    if not isinstance(entry.kind, Measure | Number):
        raise TypeError(f"{entry.label}: only a measure or a number has two sides")
    return Entry(entry.label, replace(entry.kind, plus_minus=True), entry.facts, optional=entry.optional)
