"""What a calculator asks for: fields declared once, read from text, with the errors a reader sees."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property, lru_cache
from types import SimpleNamespace
from typing import Any, Protocol

from calculators._errors import FieldError, InputErrors
from calculators._instruments import INSTRUMENTS
from calculators._units import (
    LONGEST,
    NotANumber,
    Typed,
    Unit,
    UnknownUnit,
    magnitude_in,
    measured,
    named,
    plain,
    quantity,
    read_number,
    spelled,
    unit,
    units_of,
)
from calculators._words import word


class Card(Protocol):
    """What a form needs of an engine card: a fact as text, or None."""

    def text(self, path: str) -> str | None: ...


class _Wrong(ValueError):
    """A message about one value, without its label."""


class _OutOfRange(_Wrong):
    """The value is not between its limits, which are as they would be printed."""

    def __init__(self, limits: tuple[str, str]) -> None:
        self.between = f"between {limits[0]} and {limits[1]}"
        super().__init__(f"must be {self.between}")


Like = Callable[[], str]
"""Gives a value to show in an error; it is asked only when there is one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Measure:
    """A number with a unit.

    Parameters
    ----------
    own : str
        The unit taken when none is typed, as printed (``"mm"``).
    low, high : float
        Limits in that unit.
    why : str
        The reason for the limits, one line.
    exact : bool
        A figure to work to, not a reading: a ± behind it is refused.
    plus_minus : bool
        Half the width of a band, so that a ± in front of it is understood.
    """

    own: str
    low: float
    high: float
    why: str
    exact: bool = False
    plus_minus: bool = False

    name = "quantity"

    @property
    def units(self) -> tuple[Unit, ...]:
        return units_of(unit(self.own).kind)

    @property
    def limits(self) -> tuple[str, str]:
        return self.limits_in(self.own)

    def limits_in(self, symbol: str) -> tuple[str, str]:
        """Return the limits as printed in a unit: in another than the own one to three figures, rounded inwards."""
        low, high = self.low, self.high
        if symbol != self.own:
            low, high = (magnitude_in(quantity(limit, self.own), symbol) for limit in (low, high))
            low, high = _three_figures(low, math.ceil), _three_figures(high, math.floor)
        return _with_unit(low, symbol), _with_unit(high, symbol)

    def likely(self, symbol: str) -> str:
        """Return a value to show in an error: the least allowed or, where that is below nought, a fifth of the most."""
        if self.low >= 0:
            return self.limits_in(symbol)[0]
        return _with_unit(_three_figures(magnitude_in(quantity(self.high / 5, self.own), symbol), round), symbol)

    def wanted(self, chosen: str | None = None) -> str:
        return f", in {unit(chosen or self.own).words}"

    def read(self, text: str, like: Like, chosen: str | None = None) -> Any:
        """Return a Quantity in the unit typed, else the one chosen beside the field, else the field's own."""
        typed = _number(self, text, like)
        found = typed.unit or unit(chosen or self.own)
        if found.kind != unit(self.own).kind:
            raise _Wrong(self.wrong_unit)
        value = quantity(typed.number, found.symbol)
        slack = 1e-9 * max(abs(self.low), abs(self.high))
        if not self.low - slack <= magnitude_in(value, self.own) <= self.high + slack:
            raise _OutOfRange(self.limits_in(chosen or self.own))
        if typed.plus_minus is None:
            return value
        if self.exact:
            raise _Wrong(f"must be one figure without a ±, like {like()}")
        return measured(value, quantity(typed.plus_minus, found.symbol))

    @property
    def wrong_unit(self) -> str:
        names = " or ".join(unit.symbol for unit in self.units[:2])
        return f"must use a unit of {word(unit(self.own).kind)}, like {names}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Number:
    """A bare number; a whole one unless ``whole`` is false.

    Parameters
    ----------
    to_one : bool
        A ratio to 1, so that ``7.6 : 1`` and ``7.6 to 1`` are understood.
    plus_minus : bool
        Half the width of a band, so that a ± in front of it is understood.
    """

    low: float
    high: float
    why: str
    whole: bool = True
    to_one: bool = False
    plus_minus: bool = False

    name = "number"
    wrong_unit = "must be a number without a unit"

    @property
    def limits(self) -> tuple[str, str]:
        return plain(self.low), plain(self.high)

    def wanted(self, chosen: str | None = None) -> str:
        return ""

    def read(self, text: str, like: Like, chosen: str | None = None) -> Any:
        typed = _number(self, _without_to_one(text) if self.to_one else text, like)
        if typed.unit:
            raise _Wrong(self.wrong_unit)
        if typed.plus_minus is not None:
            raise _Wrong(f"must be one figure without a ±, like {like()}")
        if self.whole and typed.number != int(typed.number):
            raise _Wrong(f"must be a whole number, like {like()}")
        if not self.low <= typed.number <= self.high:
            raise _OutOfRange(self.limits)
        return int(typed.number) if self.whole else typed.number


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """One of a few named options: value → what the reader sees."""

    options: Mapping[str, str]

    name = "choice"

    def wanted(self, chosen: str | None = None) -> str:
        return ""

    def meant(self, text: str) -> str:
        """Return the option that a text means, else the text."""
        wanted = _folded(text)
        for value, seen in self.options.items():
            if wanted in (_folded(value), _folded(seen)):
                return value
        return text

    def read(self, text: str, like: Like, chosen: str | None = None) -> str:
        meant = self.meant(text)
        if meant in self.options:
            return meant
        if len(self.options) > _FEW:
            raise _Wrong(f"must be one of the {len(self.options)} listed, like {next(iter(self.options))}")
        raise _Wrong(f"must be one of: {', '.join(self.options)}")


def _is_number(text: str) -> bool:
    try:
        read_number(text)
    except (NotANumber, UnknownUnit):
        return False
    return True


_FEW = 16
"""So many options an error still names one by one."""
_SHORT = 12
"""So many characters of an entry an error still says again."""


def _folded(text: str) -> str:
    """Return a text as two people would write it alike: ``M10x1,5`` for ``M10 × 1.5``."""
    return re.sub(r"\s+", "", text).lower().replace("×", "x").replace(",", ".")


@dataclass(frozen=True, kw_only=True, slots=True)
class Series:
    """Several values on one line (a firing order): ``1 4 3 2``, ``1-4-3-2``, ``33,3; 66,7``.

    ``like`` is what an error shows where the field has neither example nor default;
    ``run_on`` lets one run of two to nine digits be an entry each: ``1432``.
    """

    of: Number | Measure
    fewest: int
    most: int
    like: str = "1 2 3"
    run_on: bool = False

    name = "list"

    def wanted(self, chosen: str | None = None) -> str:
        return self.of.wanted(chosen)

    def read(self, text: str, like: Like, chosen: str | None = None) -> Any:
        parts = [text] if self._is_one(text) else split_line(text)
        if self.run_on and len(parts) == 1 and re.fullmatch("[0-9]{2,9}", parts[0]):
            parts = list(parts[0])
        if len(parts) > self.most:  # before any is read: a pasted line may hold thousands
            raise _Wrong(self._wrong_count(len(parts)))
        if isinstance(self.of, Measure):
            chosen = _unit_of_all(parts) or chosen
        values = []
        for part in parts:
            shown = len(parts) > 1 and len(part) <= _SHORT  # one entry alone is seen, and a long one hides the sentence
            try:
                values.append(self.of.read(part, like, chosen))
            except _OutOfRange as wrong:
                each = f"must each be {wrong.between}"
                raise _Wrong(f"must each be {wrong.between}, not {part}" if shown else each) from None
            except _Wrong:
                row = f"must be numbers in a row, like {like()}"
                raise _Wrong(f"must be numbers in a row, like {like()}, not {part}" if shown else row) from None
        if len(values) < self.fewest:
            raise _Wrong(self._wrong_count(len(values)))
        return tuple(values)

    def _is_one(self, text: str) -> bool:
        """Tell whether a line is one number with a decimal comma, ± and all, where whole ones are not asked for."""
        whole = isinstance(self.of, Number) and self.of.whole
        return not whole and re.fullmatch(r"\s*[+−-]?\d+,\d+\D*(\d+(,\d+)?\D*)?", text) is not None and _is_number(text)

    def _wrong_count(self, given: int) -> str:
        count = f"{self.fewest} to {self.most}" if self.fewest != self.most else str(self.most)
        return f"must have {count} entries, not {given}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Groups:
    """Whole numbers in groups on one line (cylinders under each head): ``1 2 / 3 4``."""

    of: Number
    most: int

    name = "groups"

    def wanted(self, chosen: str | None = None) -> str:
        return ""

    def read(self, text: str, like: Like, chosen: str | None = None) -> tuple[tuple[int, ...], ...]:
        lines = [line for line in re.split(r"[/|;\n]", text) if line.strip()]
        groups = [split_line(line) for line in lines] if len(lines) <= self.most else []
        if sum(map(len, groups)) > self.most:  # before any is read, as in a series
            groups = []
        try:
            values = tuple(tuple(self.of.read(part, like) for part in group) for group in groups)
        except _Wrong:
            values = ()
        if not values:
            raise _Wrong(f"must be whole numbers in groups parted by a stroke, like {like()}")
        return values


@dataclass(frozen=True, kw_only=True, slots=True)
class Date:
    """A day of the calendar: ``2026-11-25``, ``25.11.2026``, ``25 Nov 2026``.

    Points part day, month and year in that order. Where strokes or dashes leave open
    which number is the month (``4/5/2026``), both readings are told and none is taken.
    """

    low: date
    high: date
    why: str

    name = "date"

    @property
    def limits(self) -> tuple[str, str]:
        return self.low.isoformat(), self.high.isoformat()

    def wanted(self, chosen: str | None = None) -> str:
        return ", like 2026-11-25"

    def read(self, text: str, like: Like, chosen: str | None = None) -> date:
        meant = days_meant(text)
        if meant is None:
            raise _Wrong(f"must be a date with its whole year, like {like()}")
        if not meant:
            raise _Wrong(f"must be a day that the calendar has, like {like()}")
        if len(meant) > 1:
            one, other = (f"{day.day} {day:%B}" for day in meant)
            raise _Wrong(
                f"must say which number is the month: {text.strip()} can be {one} or {other}. "
                f"Type {meant[0]} or {meant[1]}"
            )
        if not self.low <= meant[0] <= self.high:
            raise _OutOfRange(self.limits)
        return meant[0]


_MONTHS = tuple(date(2000, month, 1).strftime("%B").lower() for month in range(1, 13))
_WEEKDAYS = tuple(date(2024, 1, day).strftime("%a").lower() for day in range(1, 8))
_WEEKDAY = re.compile(rf"({'|'.join(_WEEKDAYS)})[a-z]{{0,6}}[\s,.]+(?=\d)", re.ASCII)
_YEAR_FIRST = re.compile(r"(\d{4})([-./])(\d{1,2})\2(\d{1,2})", re.ASCII)
_YEAR_LAST = re.compile(r"(\d{1,2})\s?([-./])\s?(\d{1,2})\s?\2\s?(\d{4})", re.ASCII)
_DAY_AND_NAME = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[\s.-]*([a-z]{3,9})[\s.,-]*(\d{4})", re.ASCII)
_NAME_AND_DAY = re.compile(r"([a-z]{3,9})\.?\s*(\d{1,2})(?:st|nd|rd|th)?[\s,]+(\d{4})", re.ASCII)


def days_meant(text: str) -> list[date] | None:
    """Return the days that a text can mean: two where day and month could each be the other; None for no date.

    Examples
    --------
    >>> [str(day) for day in days_meant("25 Nov 2026")], [str(day) for day in days_meant("4/5/2026")]
    (['2026-11-25'], ['2026-05-04', '2026-04-05'])
    >>> days_meant("31.6.2026"), days_meant("25.11.26")
    ([], None)
    """
    text = text.strip().lower()
    if len(text) > LONGEST:
        return None
    if weekday := _WEEKDAY.match(text):
        days = days_meant(text[weekday.end() :])
        return days and [day for day in days if day.weekday() == _WEEKDAYS.index(weekday[1])]
    if found := _YEAR_FIRST.fullmatch(text):
        numbers = [(int(found[1]), int(found[3]), int(found[4]))]
    elif found := _YEAR_LAST.fullmatch(text):
        year, first, second = int(found[4]), int(found[1]), int(found[3])
        numbers = [(year, second, first)] + ([] if found[2] == "." else [(year, first, second)])
    else:
        found = _DAY_AND_NAME.fullmatch(text)
        day, name = (found[1], found[2]) if found else ("", "")
        if not found and (found := _NAME_AND_DAY.fullmatch(text)):
            name, day = found[1], found[2]
        named = [number for number, month in enumerate(_MONTHS, 1) if name and month.startswith(name)]
        if not found or not named:
            return None
        numbers = [(int(found[3]), named[0], int(day))]
    return [day for parts in dict.fromkeys(numbers) if (day := _day(*parts))]


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


Kind = Measure | Number | Choice | Series | Groups | Date


def split_line(text: str) -> list[str]:
    """Split a line of values; commas part them only where nothing else does, and a dash before a number may be a minus.

    Examples
    --------
    >>> split_line("1-4-3-2"), split_line("33,3; 66,7"), split_line("50, 75, 100"), split_line("1,4,3,2")
    (['1', '4', '3', '2'], ['33,3', '66,7'], ['50', '75', '100'], ['1', '4', '3', '2'])
    >>> split_line("1 - 4"), split_line("0.4 -0.1")
    (['1', '4'], ['0.4', '-0.1'])
    """
    for parter in _PARTERS:
        parts = [part.strip() for part in re.split(parter, text.strip())]
        if len(parts) > 1:
            return [part for part in parts if part]
    return parts if parts[0] else []


_PARTERS = (
    r"[;\n]",
    r",\s+",
    r"(?<=\d)(?:\s+[-–]\s+|[-–]\s*)(?=\d)",
    r"(?<![±\s])(?<!\+/-)\s++(?=[-–−+]?[\d.,])",
    r",",
)


def _unit_of_all(parts: list[str]) -> str | None:
    """Return the unit typed once at the end of a line, which is meant for every entry: ``2 3 4 thou``."""
    try:
        units = [read_number(part).unit for part in parts]
    except (NotANumber, UnknownUnit):
        return None
    return units[-1].symbol if units and units[-1] and not any(units[:-1]) else None


_RANGE = re.compile(r"\s*[\d.,]+[^\d.,±+/–−-]*(?:[-–−…]|\.\.+|\bto)\s*[\d.,]+[^\d±]*")


def _number(kind: Measure | Number, text: str, like: Like) -> Typed:
    if kind.plus_minus:
        text = text.lstrip().removeprefix("±").removeprefix("+/-").removeprefix("+-")
    try:
        return read_number(text)
    except (NotANumber, UnknownUnit) as wrong:
        if len(text) <= LONGEST and _RANGE.fullmatch(text):
            raise _Wrong("must be one figure, not a range") from None
        if isinstance(wrong, UnknownUnit):
            raise _Wrong(kind.wrong_unit) from None
        raise _Wrong(f"must be a number, like {like()}") from None


def _without_to_one(text: str) -> str:
    """Return what stands before ``: 1`` or ``to 1``, else the text as it is."""
    before = text.rstrip().removesuffix("1").rstrip()
    for mark in (":", "∶", "to"):
        if before.endswith(mark) and text.rstrip().endswith("1"):
            return before.removesuffix(mark)
    return text


def _with_unit(number: float, symbol: str) -> str:
    return f"{plain(number)}{'' if symbol in '°%' else ' '}{symbol}"


def _three_figures(number: float, rounded: Callable[[float], int]) -> float:
    """Return a number with three significant figures, rounded by ``math.ceil``, ``math.floor`` or ``round``."""
    if number == 0:
        return number
    step = 10.0 ** (math.floor(math.log10(abs(number))) - 2)
    count = number / step
    return step * (round(count) if math.isclose(count, round(count), rel_tol=1e-9) else rounded(count))


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Field:
    """One thing asked for.

    Parameters
    ----------
    key, label : str
        ``bore``, ``Bore``.
    kind : Measure, Number, Choice, Series, Groups or Date
    help : str
        One line under the label.
    card : str, optional
        Path of the fact on the engine card that fills the field.
    default : str, optional
        What fills it where the card is silent, as typed.
    example : str, optional
        What the worked example on the page reads; a reading has no default.
    optional : bool
        An empty field is None instead of an error.
    reading : str, optional
        The name under which the job keeps what is typed here. Fields of one name, in any
        calculator, share it; in a table each row has its own: ``chamber.2``.
    instrument : str, optional
        The kind of instrument that reads it (``INSTRUMENTS``): the job names the one on the bench.
    """

    key: str
    label: str
    kind: Kind
    help: str = ""
    card: str | None = None
    default: str | None = None
    example: str | None = None
    optional: bool = False
    reading: str | None = None
    instrument: str | None = None

    def __post_init__(self) -> None:
        if self.instrument and self.instrument not in INSTRUMENTS:
            raise ValueError(f"{self.key}: no kind of instrument is called {self.instrument}")

    @property
    def entry(self) -> Measure | Number | Choice | Date:
        """What the field asks for, or what each entry of its list is."""
        return self.kind.of if isinstance(self.kind, Series | Groups) else self.kind

    @property
    def measure(self) -> Measure | None:
        return self.entry if isinstance(self.entry, Measure) else None

    @property
    def own_unit(self) -> str | None:
        return self.measure.own if self.measure else None

    @property
    def signed(self) -> bool:
        """True where a minus or a dash can occur, so that a phone must offer one."""
        return isinstance(self.kind, Date) or (isinstance(self.kind, Measure) and self.kind.low < 0)

    def like(self, chosen: str | None = None) -> str:
        """Return a value to show in an error: the field's own example, in the unit chosen and bare of it."""
        text = self.example or self.default
        if isinstance(self.kind, Series):
            return text or self.kind.like
        if isinstance(self.kind, Groups | Choice):
            return text or "1 2 / 3 4"
        if isinstance(self.kind, Date):
            return text or "2026-11-25"
        if not text:
            return self.measure.likely(chosen or self.measure.own) if self.measure else self.kind.limits[0]
        text = split_line(text)[0]
        typed = read_number(text)
        if self.measure and chosen and typed.number:
            written_in = typed.unit.symbol if typed.unit else self.measure.own
            if written_in != chosen:
                return plain(_three_figures(magnitude_in(quantity(typed.number, written_in), chosen), round))
        return text.split()[0] if typed.number else "0 or 0.5"

    def prefilled(self, card: Card | None, example: bool = False) -> str | None:
        """Return the text a fresh form shows: from the card, else the default, else (asked for) the example."""
        from_card = card.text(self.card) if card and self.card else None
        return from_card or self.default or (self.example if example else None)


@dataclass(frozen=True, kw_only=True, slots=True)
class Section:
    """Fields that belong together; ``folded`` ones are for the few who need them."""

    title: str
    fields: tuple[Field, ...]
    help: str = ""
    folded: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Rows:
    """A table to type into: one row of the same fields for each thing.

    Parameters
    ----------
    each : str
        ``"Cylinder {}"``.
    count : str, optional
        Key of the number field that says how many rows there are; without
        it the reader adds rows, up to ``most``.
    """

    key: str
    title: str
    fields: tuple[Field, ...]
    each: str
    most: int
    count: str | None = None
    help: str = ""
    folded: bool = False


@dataclass(frozen=True)
class Form:
    """A calculator's questions, in the order they are asked."""

    sections: tuple[Section | Rows, ...]

    def __post_init__(self) -> None:
        keys = [field.key for field in self.fields]
        twice = {key for key in keys if keys.count(key) > 1}
        if twice or any(not re.fullmatch(r"[a-z][a-z0-9_]*", key) for key in keys):
            raise ValueError(f"field keys must be unique plain words: {sorted(twice) or keys}")

    @cached_property
    def fields(self) -> tuple[Field, ...]:
        return tuple(field for section in self.sections for field in section.fields)

    @cached_property
    def _found(self) -> dict[str, tuple[Section | Rows, Field]]:
        return {field.key: (section, field) for section in self.sections for field in section.fields}

    @cached_property
    def rows(self) -> tuple[Rows, ...]:
        return tuple(section for section in self.sections if isinstance(section, Rows))

    def prefilled(
        self, card: Card | None, presets: Mapping[str, str] | None = None, example: bool = False
    ) -> dict[str, str]:
        """Return what a fresh form shows, key by key; a row's cells as ``key.1``, ``key.2``.

        Parameters
        ----------
        card : Card, optional
        presets : mapping, optional
            Texts that win over card, default and example, an empty one too; a list for a
            row field. One for a field that the form lacks is kept, so that reading it
            names the mistake.
        example : bool
            Fill readings with the worked example's.
        """
        presets = presets or {}
        texts: dict[str, str] = {}
        for section in self.sections:
            for field in section.fields:
                text = presets[field.key] if field.key in presets else field.prefilled(card, example)
                if text is None:
                    continue
                if isinstance(section, Rows) and text.strip():
                    texts |= {
                        f"{field.key}.{row}": cell for row, cell in enumerate(_cells(field, text, section.most), 1)
                    }
                else:
                    texts[field.key] = text
        return texts | {key: text for key, text in presets.items() if key not in self._found}

    def row_count(self, rows: Rows, typed: Mapping[str, str]) -> int:
        """Return how many rows the form should show for what is typed.

        A counted table follows its number (and keeps what it had while that number
        cannot be read); a free one shows one empty row more than are filled.
        """
        cells = _typed_cells(typed)
        filled = max(
            (row for field in rows.fields for row, text in cells.get(field.key, {}).items() if text.strip()), default=0
        )
        if rows.count is None:
            return min(filled + 1, rows.most)
        _, counter = self._found[rows.count]
        try:
            number: Any = counter.kind.read(typed.get(rows.count, ""), counter.like)
            return min(int(number), rows.most)
        except _Wrong:
            return min(max(filled, 1), rows.most)

    def read(self, typed: Mapping[str, str], card: Card | None = None) -> SimpleNamespace:
        """Turn typed text into values.

        Parameters
        ----------
        typed : mapping of str to str
            By field key; a unit chosen beside a field as ``key.unit``; a row's cells
            as ``key.1``, ``key.2`` … or all in one list. A key that is absent takes
            its default; one that is there but empty is an error.
        card : Card, optional

        Returns
        -------
        SimpleNamespace
            One attribute a field: Quantity, int, float, str, tuple, or None for an
            optional field left empty. Row fields are tuples, one entry a row. And ``card``.

        Raises
        ------
        InputErrors
            Every wrong field at once.
        """
        values: dict[str, Any] = {}
        errors: list[FieldError] = [
            FieldError(key, f"There is no field {key}; this calculator has {', '.join(f.key for f in self.fields)}")
            for key in typed
            if not self._asks(key)
        ]
        cells = _typed_cells(typed)
        for section in self.sections:
            if isinstance(section, Rows):
                self._read_rows(section, typed, cells, card, values, errors)
                continue
            for field in section.fields:
                text = typed.get(field.key)
                if text is None:
                    text = field.prefilled(card)
                values[field.key] = _read(field, text, typed, field.key, field.label, errors)
        if errors:
            raise InputErrors(*errors)
        return SimpleNamespace(**values, card=card)

    def _asks(self, key: str) -> bool:
        """Return whether ``key`` is a field's, the unit beside it, or a cell of its column."""
        name, dot, part = key.partition(".")
        if name not in self._found:
            return False
        section, field = self._found[name]
        if not dot:
            return True
        if part == "unit":
            return field.measure is not None
        return isinstance(section, Rows) and bool(_ROW.fullmatch(part)) and int(part) <= section.most

    def _read_rows(
        self,
        rows: Rows,
        typed: Mapping[str, str],
        one_by_one: Mapping[str, dict[int, str]],
        card: Card | None,
        values: dict[str, Any],
        errors: list[FieldError],
    ) -> None:
        columns: dict[str, dict[int, str]] = {}
        for field in rows.fields:
            listed = typed.get(field.key)
            cells = one_by_one.get(field.key, {})
            if listed is None and not cells:
                listed = field.prefilled(card) or ""
            if listed is not None:
                cells = dict(enumerate(_cells(field, listed, rows.most), 1))
            columns[field.key] = cells
        if rows.count:
            wanted = values.get(rows.count)
            if wanted is None:
                values |= {field.key: () for field in rows.fields}
                return
            numbers = list(range(1, wanted + 1))
            for field in rows.fields:
                if typed.get(field.key) is not None and len(columns[field.key]) > wanted:
                    given = len(columns[field.key])
                    errors.append(FieldError(field.key, f"{field.label} must have {wanted} entries, not {given}"))
        else:
            numbers = sorted({row for cells in columns.values() for row, text in cells.items() if text.strip()})
            if numbers and numbers[-1] > rows.most:
                longest = max(rows.fields, key=lambda field: max(columns[field.key], default=0))
                given = max(columns[longest.key])
                errors.append(
                    FieldError(longest.key, f"{longest.label} must have at most {rows.most} entries, not {given}")
                )
                numbers = [number for number in numbers if number <= rows.most]
        for field in rows.fields:
            cell = _cell(field)
            values[field.key] = tuple(
                _read(
                    cell,
                    columns[field.key].get(number),
                    typed,
                    f"{field.key}.{number}",
                    f"{field.label} of {rows.each.format(number).lower()}",
                    errors,
                )
                for number in numbers
            )

    def described(self, card: Card | None = None) -> list[dict[str, Any]]:
        """Return every field as plain data, for ``describe --json`` and for the contributor."""
        return list(self._described(card))

    def _described(self, card: Card | None) -> Iterator[dict[str, Any]]:
        for section in self.sections:
            for field in section.fields:
                of = field.entry
                yield {
                    "key": field.key,
                    "label": field.label,
                    "kind": field.kind.name,
                    "units": [unit.symbol for unit in of.units] if isinstance(of, Measure) else [],
                    "limits": None
                    if isinstance(of, Choice)
                    else {"low": of.limits[0], "high": of.limits[1], "why": of.why},
                    "options": dict(of.options) if isinstance(of, Choice) else None,
                    "default": field.prefilled(card),
                    "example": field.example,
                    "required": not field.optional,
                    "each": section.each.replace(" {}", "").lower() if isinstance(section, Rows) else None,
                    "help": field.help,
                }


_ROW = re.compile("[1-9][0-9]{0,2}")
KEPT = 2048
"""So many texts that were read are remembered: between two keys, all but one stay as they were."""


def _cells(field: Field, text: str, most: int) -> list[str]:
    """Split a list typed for a column; an empty place between two semicolons is an empty cell.

    A unit typed once, behind the last cell, is put behind each, unless there are more
    cells than rows and the list is refused anyhow.
    """
    if not text.strip():
        return []
    if isinstance(field.kind, Series):  # each cell is a line itself: 49.5 49.6; 48.1 48.2
        return [cell.strip() for cell in text.split(";")]
    cells = [cell.strip() for cell in text.split(";")] if ";" in text else split_line(text)
    shared = _unit_of_all([cell for cell in cells if cell]) if field.measure and len(cells) <= most else None
    if shared is None:
        return cells
    return [f"{cell} {shared}" if cell and not read_number(cell).unit else cell for cell in cells]


@lru_cache(maxsize=KEPT)
def _cell(field: Field) -> Field:
    """Return a column's field as one cell of it, so that an error shows one cell's line and not the whole column."""
    if not isinstance(field.kind, Series):
        return field
    like = _cells(field, field.example or field.default or field.kind.like, 1)[0]
    return replace(field, example=None, default=None, kind=replace(field.kind, like=like))


def _typed_cells(typed: Mapping[str, str]) -> dict[str, dict[int, str]]:
    """Return the cells that are typed one by one, by their field's key and row number."""
    cells: dict[str, dict[int, str]] = {}
    for key, text in typed.items():
        name, row = _cell_of(key)
        if row:
            cells.setdefault(name, {})[row] = text
    return cells


@lru_cache(maxsize=KEPT)
def _cell_of(key: str) -> tuple[str, int]:
    """Return the field and the row that a key is the cell of; row 0 where it is none."""
    name, dot, row = key.partition(".")
    return name, int(row) if dot and _ROW.fullmatch(row) else 0


def _read(
    field: Field,
    text: str | None,
    typed: Mapping[str, str],
    key: str,
    label: str,
    errors: list[FieldError],
) -> Any:
    empty = text is None or not text.strip()
    if empty and field.optional:
        return None
    try:
        chosen = _chosen_unit(field, typed)
        if text is not None and not empty:
            return _value(field, text, chosen, key, label)
        noun = label if label[:2].isupper() else label[0].lower() + label[1:]
        errors.append(FieldError(key, f"Enter the {noun}{field.kind.wanted(chosen)}"))
        return None
    except _Wrong as wrong:
        errors.append(FieldError(key, f"{label} {wrong}"))
        return None


@lru_cache(maxsize=KEPT)
def _value(field: Field, text: str, chosen: str | None, key: str, label: str) -> Any:
    """Return what a text says: the value of one control, whose ± is no other control's."""
    return named(field.kind.read(text, lambda: field.like(chosen), chosen), label)


def _chosen_unit(field: Field, typed: Mapping[str, str]) -> str | None:
    """Return the symbol of the unit chosen beside a field, however it is spelled; None where there is none."""
    text = typed.get(f"{field.key}.unit", "").strip()
    if not text or not field.measure:
        return None
    chosen = spelled(text)
    if chosen is None or chosen.kind != unit(field.measure.own).kind:
        raise _Wrong(field.measure.wrong_unit)
    return chosen.symbol
