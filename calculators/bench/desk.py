"""One pass over a job: each question's answer, from what was given, worked out once and only when it is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property, lru_cache
from typing import Any

from calculators.bench.answer import Answer, Worked, WorkedFirst
from calculators.bench.card import EngineCard, is_invented
from calculators.bench.entries import Entry, Table, cell_of, cells_in
from calculators.bench.errors import FieldError, InputErrors, Lacking
from calculators.bench.kinds import Measure, Series, Wrong
from calculators.bench.question import Question, provider, question
from calculators.bench.understood import understood
from calculators.bench.units import named, spelled, symbol_of, unit

KEPT = 4096
"""So many texts that were read are remembered: between two keys, all but one stay as they were."""
TORQUE = "N·m"


class Origin(StrEnum):
    """Where a value comes from."""

    TYPED = "typed"
    CARD = "card"
    WORKED_OUT = "worked out"
    USUAL = "usual"
    EXAMPLE = "example"


@dataclass(frozen=True, slots=True)
class Reading:
    """What a person typed: the text, and the unit that stood beside the box at that moment."""

    text: str
    unit: str | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """A value and where it comes from.

    Parameters
    ----------
    value
        None for an optional entry that nobody filled.
    origin : Origin
    text : str
        As it was typed, or would be; empty for what was worked out.
    unit : str, optional
        The unit that stands beside the box.
    by : str
        The question that worked it out, or the card's source.
    is_example : bool
        It is the example's, or rests on something that is.
    """

    value: Any
    origin: Origin
    text: str = ""
    unit: str | None = None
    by: str = ""
    is_example: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """A question as it stands: what each of its boxes holds, and its answer, or why there is none.

    Parameters
    ----------
    of : type of Question
    known : mapping of str to Known
        By the entry's key; a table's cells as ``key.1``.
    rows : mapping of str to int
        How many rows each table has.
    lacking : tuple of FieldError
        What is still to be entered.
    errors : tuple of FieldError
        What was typed and cannot be.
    found : Answer or WorkedFirst, optional
    torque_unit : str, optional
        The unit that stands beside an empty box for a torque: the one in which the card writes its torques.
    inherited : frozenset of str
        The keys of the entries for which the reader's own card has nothing but the example's figure.
    """

    of: type[Question]
    known: Mapping[str, Known]
    rows: Mapping[str, int] = field(default_factory=dict)
    lacking: tuple[FieldError, ...] = ()
    errors: tuple[FieldError, ...] = ()
    found: Answer | WorkedFirst | None = None
    torque_unit: str | None = None
    inherited: frozenset[str] = frozenset()

    def unit_beside(self, entry: Entry[Any]) -> str | None:
        """Return the unit that stands beside an entry's box while the box is empty."""
        own = entry.own_unit
        return self.torque_unit or own if own == TORQUE else own

    @property
    def answer(self) -> Answer | None:
        """The whole answer."""
        return self.found.answer if isinstance(self.found, WorkedFirst) else self.found

    @property
    def worked(self) -> tuple[Worked, ...]:
        """What other questions go on with."""
        return self.found.worked if self.found else ()

    @property
    def is_example(self) -> bool:
        """Whether one thing under the answer is the example's."""
        return any(known.is_example for known in self.known.values())

    @property
    def typed(self) -> tuple[str, ...]:
        """Keys of what a person typed."""
        return tuple(key for key, known in self.known.items() if known.origin is Origin.TYPED)


@dataclass(frozen=True, slots=True)
class _Rests:
    """All that an answer rests on, itself and through others: while none of it changes, it stands.

    Parameters
    ----------
    readings : dict of str to Reading
        What was typed under each path that was looked up, None for nothing.
    rows : dict of str to tuple of int
        The rows of each table column in which something was typed.
    values : dict
        What each reading was taken for.
    under : set of str
        The questions whose answers were sought.
    """

    readings: dict[str, Reading | None] = field(default_factory=dict)
    rows: dict[str, tuple[int, ...]] = field(default_factory=dict)
    values: dict[tuple[str, str, str | None], Any] = field(default_factory=dict)
    under: set[str] = field(default_factory=set)

    def also_on(self, other: _Rests) -> None:
        self.readings.update(other.readings)
        self.rows.update(other.rows)
        self.values.update(other.values)
        self.under.update(other.under)


class Desk:
    """What lies on the bench for one job, and what can be worked out from it.

    Parameters
    ----------
    readings : mapping of str to Reading
        What was typed, by path: an entry's shared name, else ``room.question.key``; a row's cell has ``.2`` behind.
    card : EngineCard, optional
    example : bool
        Whether the worked example may fill what nobody gave; what rests on it then says so.
    before : Desk, optional
        That of the key before: answers that rest on nothing that has changed since are taken from it.
    """

    def __init__(
        self,
        readings: Mapping[str, Reading] | None = None,
        card: EngineCard | None = None,
        *,
        example: bool = False,
        before: Desk | None = None,
    ) -> None:
        self._readings = readings or {}
        self._card = card
        self._example = example
        self._asked: dict[str, tuple[Asked, _Rests]] = {}
        self._under_way: list[_Rests] = []
        self._read: dict[tuple[str, str, str | None], Any] = {}
        is_alike = before and before._example == example and before._card == card
        self._before = before._asked if before and is_alike else {}

    def ask(self, name: str) -> Asked:
        """Return a question with what was given to it and its answer.

        Raises
        ------
        UnknownQuestion
        """
        if name not in self._asked and not self._stands(name):
            self._under_way.append(rests := _Rests())
            try:
                self._asked[name] = self._worked_out(question(name)), rests
            finally:
                self._under_way.pop()
        asked, rests = self._asked[name]
        if self._asking:
            self._asking.under.add(name)
            self._asking.also_on(rests)
        return asked

    @property
    def _asking(self) -> _Rests | None:
        """What the question rests on that is just being worked out."""
        return self._under_way[-1] if self._under_way else None

    def _stands(self, name: str) -> bool:
        """Take an answer of the desk before, with all under it, where it would come out the same."""
        if name not in self._before:
            return False
        _, rests = self._before[name]
        if (
            any(self._typed(path) != reading for path, reading in rests.readings.items())
            or any(self._typed_rows(stem) != rows for stem, rows in rests.rows.items())
            or any(self._read.get(key, value) is not value for key, value in rests.values.items())
        ):
            return False
        self._asked |= {one: self._before[one] for one in (name, *rests.under)}
        self._read.update(rests.values)
        return True

    @cached_property
    def torque_unit(self) -> str | None:
        """The unit in which the card writes its torques."""
        return self._card.torque_unit if self._card else None

    def _worked_out(self, of: type[Question]) -> Asked:
        reader = _Reader(self, of)
        values: dict[str, Any] = {}
        for entry in of.entries():
            values[entry.key] = reader.value(entry, entry.key, entry.label)
        for table in of.tables():
            values[table.key] = reader.rows_of(table, values)
        known = dict(reader.known)
        if any(self.from_card(path).is_example for path in of.from_card):
            known["card"] = Known(value=None, origin=Origin.EXAMPLE, is_example=True)
        lacking = reader.lacking + ([] if reader.errors else reader.waiting)
        asked = Asked(
            of=of,
            known=known,
            rows=reader.rows,
            lacking=tuple(lacking),
            errors=tuple(reader.errors),
            torque_unit=self.torque_unit,
            inherited=frozenset(entry.key for entry in of.entries() if self._inherits(entry)),
        )
        if asked.lacking or asked.errors:
            return asked
        try:
            return replace(asked, found=of(values, self._card_for(of)).answer())
        except Lacking as still:
            return replace(asked, lacking=still.errors)
        except InputErrors as wrong:
            return replace(asked, errors=wrong.errors)

    def _inherits(self, entry: Entry[Any]) -> bool:
        path = entry.facts.card
        return bool(path and self._card and self._card.inherited(path))

    def _card_for(self, of: type[Question]) -> EngineCard | None:
        """Return the card without what a made-up engine's says, where no example may speak."""
        card = self._card
        for path in of.from_card if card else ():
            if card and not self.from_card(path).text:
                card = card.without(path)
        return card

    def same(self, path: str, text: str, chosen: str | None, value: Any) -> Any:
        """Return the value that whoever asked first for this reading got: it is one reading, with one error."""
        found = self._read.setdefault((path, text, chosen), value)
        if self._asking:
            self._asking.values[path, text, chosen] = found
        return found

    def reading(self, path: str) -> Reading | None:
        """Return what was typed under a path; an emptied box counts as never typed."""
        found = self._typed(path)
        if self._asking:
            self._asking.readings[path] = found
        return found

    def _typed(self, path: str) -> Reading | None:
        found = self._readings.get(path)
        return found if found and found.text.strip() else None

    def rows(self, stem: str) -> tuple[int, ...]:
        """Return the rows of a table's column in which something was typed; its cells' paths begin with the stem."""
        found = self._typed_rows(stem)
        if self._asking:
            self._asking.rows[stem] = found
        return found

    def _typed_rows(self, stem: str) -> tuple[int, ...]:
        return tuple(int(path.removeprefix(stem)) for path in self._readings if _is_row(path, stem))

    def worked_out(self, path: str) -> Known | None:
        """Return what another question works out for a path, or None."""
        by = provider(path.partition(".")[0])
        if by is None:
            return None
        asked = self.ask(by.name)
        for worked in asked.worked:
            if worked.name == path:
                return Known(value=worked.value, origin=Origin.WORKED_OUT, by=by.name, is_example=asked.is_example)
        return None

    def stuck(self, path: str) -> type[Question] | None:
        """Return the question that would work out a path, where what was typed into it cannot be; else None."""
        by = provider(path.partition(".")[0])
        return by if by and self.ask(by.name).errors else None

    def from_card(self, path: str) -> Known:
        """Return a fact of the card; a made-up engine's is the example's, and no fact where no example may speak."""
        text = self._card.text(path) if self._card else None
        source = (self._card.source(path) or "") if self._card else ""
        invented = is_invented(source)
        if text is None or (invented and not self._example):
            return Known(value=None, origin=Origin.CARD, is_example=False)
        origin = Origin.EXAMPLE if invented else Origin.CARD
        return Known(value=None, origin=origin, text=text, by=source, is_example=invented)


class _Reader:
    """Reads the entries of one question, and notes what is lacking and what is wrong."""

    def __init__(self, desk: Desk, of: type[Question]) -> None:
        self._desk, self._of = desk, of
        self.known: dict[str, Known] = {}
        self.rows: dict[str, int] = {}
        self.errors: list[FieldError] = []
        self.lacking: list[FieldError] = []
        self.waiting: list[FieldError] = []

    def value(self, entry: Entry[Any], key: str, label: str, row: int = 0) -> Any:
        """Return an entry's value, None where there is none."""
        try:
            found = self._found(entry, key, label, row)
        except Wrong as wrong:
            reading = self._desk.reading(path_of(self._of, entry, row)) or Reading("")
            self.known[key] = Known(value=None, origin=Origin.TYPED, text=reading.text, unit=reading.unit)
            self.errors.append(FieldError(key, f"{label} {wrong}"))
            return None
        if found is None:
            if not entry.optional:
                self.lacking.append(FieldError(key, f"Enter the {_inside(label)}{entry.kind.wanted(None)}"))
            return None
        self.known[key] = found
        return found.value

    def _found(self, entry: Entry[Any], key: str, label: str, row: int) -> Known | None:
        path = path_of(self._of, entry, row)
        if reading := self._desk.reading(path):
            value = _read(entry, reading.text, reading.unit, label, row)
            value = self._desk.same(path, reading.text, reading.unit, value)
            return Known(value=value, origin=Origin.TYPED, text=reading.text, unit=reading.unit)
        if entry.facts.shared_as and (worked := self._desk.worked_out(path)):
            return worked
        if entry.facts.card:
            fact = self._desk.from_card(entry.facts.card)
            text = cell_of(fact.text, row)
            if text:
                value = _read(entry, text, None, label)
                return Known(value=value, origin=fact.origin, text=text, by=fact.by, is_example=fact.is_example)
        if usual := cell_of(self._usual(entry), row):
            return Known(value=_read(entry, usual, None, label), origin=Origin.USUAL, text=usual)
        would_be_filled = self._desk._example and entry.facts.example
        if entry.facts.shared_as and (would_be_filled or not entry.optional) and (stuck := self._desk.stuck(path)):
            self.waiting.append(FieldError(key, f"Enter the {_inside(label)}, or put right: {stuck.asks}"))
            return Known(value=None, origin=Origin.WORKED_OUT, by=stuck.name)
        if self._desk._example and (example := cell_of(entry.facts.example or "", row)):
            value = _read(entry, example, None, label)
            return Known(value=value, origin=Origin.EXAMPLE, text=example, is_example=True)
        return None

    def _usual(self, entry: Entry[Any]) -> str:
        beside, by_unit = entry.facts.usual_beside or ("", {})
        known = self.known.get(beside)
        unit_there = known.unit if known else self._desk.torque_unit  # what stands beside a wrong text, or an empty box
        if known and known.value is not None:
            unit_there = symbol_of(known.value)
        return by_unit.get(unit_there or "") or entry.facts.usual or ""

    def rows_of(self, table: Table[Any], values: Mapping[str, Any]) -> tuple[Any, ...]:
        """Return a table's rows: as many as its count says, else those in which something stands."""
        wanted = values.get(table.count) if table.count else max(map(self._filled, table.columns), default=0)
        wanted = min(len(wanted) if isinstance(wanted, tuple) else int(wanted or 0), table.most)
        self.rows[table.key] = wanted if table.count else min(wanted + 1, table.most)
        rows = []
        for number in range(1, wanted + 1):
            each = table.each.format(number).lower()
            cells = {
                column.key: self.value(column, f"{column.key}.{number}", f"{column.label} of {each}", number)
                for column in table.columns
            }
            rows.append(table.of(cells))
        return tuple(rows)

    def _filled(self, column: Entry[Any]) -> int:
        """Return the last row of a column in which something was typed or, without any, the example's last."""
        typed = self._desk.rows(path_of(self._of, column, 0) + ".")
        if typed or not self._desk._example:
            return max(typed, default=0)
        return len(cells_in(column.facts.example or ""))


def _inside(label: str) -> str:
    """Return a label as it stands inside a sentence."""
    return label if label[:2].isupper() else label[0].lower() + label[1:]


def _is_row(path: str, stem: str) -> bool:
    row = path.removeprefix(stem)
    return path.startswith(stem) and row.isascii() and row.isdigit()


def path_of(of: type[Question], entry: Entry[Any], row: int = 0) -> str:
    """Return the name under which the job keeps an entry, or one row of it."""
    stem = entry.facts.shared_as or f"{of.name}.{entry.key}"
    return f"{stem}.{row}" if row else stem


@lru_cache(maxsize=KEPT)
def _read(entry: Entry[Any], text: str, chosen: str | None, label: str, row: int = 0) -> Any:
    """Return what a text says; the same text of the same entry is the same reading, with the same error in it."""
    beside = spelled(chosen) if chosen else None
    if chosen and entry.measure and (beside is None or beside.kind != unit(entry.measure.own).kind):
        raise Wrong(entry.measure.wrong_unit)
    symbol = beside.symbol if beside else None
    return named(entry.kind.read(text, lambda: entry.like(symbol, row), symbol), label)


def said_otherwise(entry: Entry[Any], known: Known) -> str:
    """Return what a typed text was taken for, where that is written otherwise."""
    if known.origin is not Origin.TYPED:
        return ""
    return understood(entry, known.text, spelled(known.unit or ""))


def units_beside(entry: Entry[Any]) -> tuple[str, ...]:
    """Return the units offered beside an entry's box; none for what has no unit."""
    kind = entry.kind.of if isinstance(entry.kind, Series) else entry.kind
    return tuple(found.symbol for found in kind.units) if isinstance(kind, Measure) else ()


def cells_of(of: type[Question], asked: Asked) -> Iterator[tuple[Table[Any], int, Entry[Any]]]:
    """Yield each cell of each table that a question shows: its table, its row from 1, its column."""
    for table in of.tables():
        for number in range(1, asked.rows.get(table.key, 0) + 1):
            for column in table.columns:
                yield table, number, column
