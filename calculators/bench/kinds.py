"""What a field can ask for: a measure, a number, a choice, a list, a day; each reads its text or says what is wrong."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from calculators.bench.dates import days_meant
from calculators.bench.units import (
    LONGEST,
    NotANumber,
    Typed,
    Unit,
    UnknownUnit,
    magnitude_in,
    measured,
    plain,
    quantity,
    read_number,
    unit,
    units_of,
)
from calculators.bench.words import word


class Wrong(ValueError):
    """A message about one value, without its label."""


class OutOfRange(Wrong):
    """The value is not between its limits, which are as they would be printed."""

    def __init__(self, limits: tuple[str, str]) -> None:
        self.between = f"between {limits[0]} and {limits[1]}"
        super().__init__(f"must be {self.between}")


class TwoReadings(Wrong):
    """The comma of a number can part thousands, or be the decimal mark."""

    def __init__(self, text: str, typed: Typed) -> None:
        large, small = plain(typed.grouped or 0.0), plain(typed.number)
        super().__init__(f"must make its comma clear: {text.strip()} can be {large} or {small}. Type one of them")


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
            low, high = three_figures(low, math.ceil), three_figures(high, math.floor)
        return _with_unit(low, symbol), _with_unit(high, symbol)

    def likely(self, symbol: str) -> str:
        """Return a value to show in an error: the least allowed or, where that is below nought, a fifth of the most."""
        if self.low >= 0:
            return self.limits_in(symbol)[0]
        return _with_unit(three_figures(magnitude_in(quantity(self.high / 5, self.own), symbol), round), symbol)

    def wanted(self, chosen: str | None = None) -> str:
        return f", in {unit(chosen or self.own).words}"

    def read(self, text: str, like: Like, chosen: str | None = None) -> Any:
        """Return a Quantity in the unit typed, else the one chosen beside the field, else the field's own."""
        typed = _number(self, text, like)
        found = typed.unit or unit(chosen or self.own)
        if found.kind != unit(self.own).kind:
            raise Wrong(self.wrong_unit)
        value = quantity(typed.number, found.symbol)
        if typed.grouped is not None and (
            found.symbol == "ft" or self._within(quantity(typed.grouped, found.symbol))  # nobody reads feet to 0.001
        ):
            raise TwoReadings(text, typed)
        if not self._within(value):
            raise OutOfRange(self.limits_in(chosen or self.own))
        if typed.plus_minus is None:
            return value
        if self.exact:
            raise Wrong(f"must be a single figure without a ±, like {like()}")
        return measured(value, quantity(typed.plus_minus, found.symbol))

    def _within(self, value: Any) -> bool:
        slack = 1e-9 * max(abs(self.low), abs(self.high))
        return bool(self.low - slack <= magnitude_in(value, self.own) <= self.high + slack)

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
            raise Wrong(self.wrong_unit)
        if typed.plus_minus is not None:
            raise Wrong(f"must be a single figure without a ±, like {like()}")
        two_whole = typed.number == int(typed.number) or not self.whole
        if typed.grouped is not None and two_whole and self.low <= typed.grouped <= self.high:
            raise TwoReadings(text, typed)
        if self.whole and typed.number != int(typed.number):
            raise Wrong(f"must be a whole number, like {like()}")
        if not self.low <= typed.number <= self.high:
            raise OutOfRange(self.limits)
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
        raise Wrong(self.one_of)

    @property
    def one_of(self) -> str:
        """What is wrong with a text that is none of them."""
        if len(self.options) > _FEW:
            return f"must be one of the {len(self.options)} listed, like {next(iter(self.options))}"
        return f"must be one of: {', '.join(self.options)}"


def is_one_number(of: Kind, text: str) -> bool:
    """Tell whether a line is one number with a decimal comma, ± and all, where whole ones are not asked for."""
    whole = not isinstance(of, Measure) and not (isinstance(of, Number) and not of.whole)
    return not whole and re.fullmatch(r"\s*[+−-]?\d+,\d+\D*(\d+(,\d+)?\D*)?", text) is not None and _is_number(text)


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
        parts = self.parts(text)
        if self.run_on and len(parts) == 1 and re.fullmatch("[0-9]{2,9}", parts[0]):
            parts = list(parts[0])
        if len(parts) > self.most:  # before any is read: a pasted line may hold thousands
            raise Wrong(self._wrong_count(len(parts)))
        if isinstance(self.of, Measure):
            chosen = unit_of_list(parts) or chosen
        values = []
        for part in parts:
            shown = len(parts) > 1 and len(part) <= _SHORT  # one entry alone is seen, and a long one hides the sentence
            try:
                values.append(self.of.read(part, like, chosen))
            except OutOfRange as wrong:
                each = f"must each be {wrong.between}"
                raise Wrong(f"must each be {wrong.between}, not {part}" if shown else each) from None
            except TwoReadings:
                raise
            except Wrong:
                row = f"must be numbers in a row, like {like()}"
                raise Wrong(f"must be numbers in a row, like {like()}, not {part}" if shown else row) from None
        if len(values) < self.fewest:
            raise Wrong(self._wrong_count(len(values)))
        return tuple(values)

    def parts(self, text: str) -> list[str]:
        """Return the text of each entry."""
        return [text] if is_one_number(self.of, text) else split_line(text)

    def _wrong_count(self, given: int) -> str:
        count = f"{self.fewest} to {self.most}" if self.fewest != self.most else str(self.most)
        return f"must have {count} {'entry' if count == '1' else 'entries'}, not {given}"


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
        except Wrong:
            values = ()
        if not values:
            raise Wrong(f"must be whole numbers in groups with a slash between, like {like()}")
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
            raise Wrong(f"must be a date with a four-figure year, like {like()}")
        if not meant:
            raise Wrong(f"must be a real date, like {like()}")
        if len(meant) > 1:
            one, other = (f"{day.day} {day:%B}" for day in meant)
            raise Wrong(
                f"must make the month clear: {text.strip()} can be {one} or {other}. Type {meant[0]} or {meant[1]}"
            )
        if not self.low <= meant[0] <= self.high:
            raise OutOfRange(self.limits)
        return meant[0]


@dataclass(frozen=True, kw_only=True, slots=True)
class Text:
    """Words on one line, of so many letters."""

    fewest: int = 1
    most: int | None = None

    name = "text"

    def wanted(self, chosen: str | None = None) -> str:
        return ""

    def read(self, text: str, like: Like, chosen: str | None = None) -> str:
        if len(text) < self.fewest:
            raise Wrong(f"must have at least {self.fewest} character")
        if self.most is not None and len(text) > self.most:
            raise Wrong(f"must have at most {self.most} characters")
        return text


@dataclass(frozen=True, kw_only=True, slots=True)
class Names:
    """Names in a row: ``A B C D``, or ``long one; long two``."""

    name = "names"

    def wanted(self, chosen: str | None = None) -> str:
        return ""

    def read(self, text: str, like: Like, chosen: str | None = None) -> tuple[str, ...]:
        parter = r"\s*[;,]\s*" if re.search("[;,]", text) else r"\s+"
        return tuple(part for part in re.split(parter, text) if part)


Kind = Measure | Number | Choice | Series | Groups | Date | Text | Names


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


def unit_of_list(parts: list[str]) -> str | None:
    """Return the unit of the entries that have none: the first one's, or one typed once at the end.

    Examples
    --------
    >>> unit_of_list(["0.016 in", "0.015", "0.4 mm"]), unit_of_list(["2", "3", "4 thou"])
    ('in', 'thou')
    >>> unit_of_list(["2", "3 mm", "4"]) is None
    True
    """
    first, last = (_unit_of(parts[0]), _unit_of(parts[-1])) if parts else (None, None)
    if first:
        return first.symbol
    return last.symbol if last and not any(map(_unit_of, parts[:-1])) else None


def _unit_of(part: str) -> Unit | None:
    try:
        return read_number(part).unit
    except (NotANumber, UnknownUnit):
        return None


_RANGE = re.compile(r"\s*[\d.,]+[^\d.,±+/–−-]*(?:[-–−…]|\.\.+|\bto)\s*[\d.,]+[^\d±]*")


def _number(kind: Measure | Number, text: str, like: Like) -> Typed:
    if kind.plus_minus:
        text = text.lstrip().removeprefix("±").removeprefix("+/-").removeprefix("+-")
    try:
        return read_number(text)
    except (NotANumber, UnknownUnit) as wrong:
        if len(text) <= LONGEST and _RANGE.fullmatch(text):
            raise Wrong("must be a single figure, not a range") from None
        if isinstance(wrong, UnknownUnit):
            raise Wrong(kind.wrong_unit) from None
        raise Wrong(f"must be a number, like {like()}") from None


def _without_to_one(text: str) -> str:
    """Return what stands before ``: 1`` or ``to 1``, else the text as it is."""
    before = text.rstrip().removesuffix("1").rstrip()
    for mark in (":", "∶", "to"):
        if before.endswith(mark) and text.rstrip().endswith("1"):
            return before.removesuffix(mark)
    return text


def _with_unit(number: float, symbol: str) -> str:
    return f"{plain(number)}{'' if symbol in '°%' else ' '}{symbol}"


def three_figures(number: float, rounded: Callable[[float], int]) -> float:
    """Return a number with three significant figures, rounded by ``math.ceil``, ``math.floor`` or ``round``."""
    if number == 0:
        return number
    step = 10.0 ** (math.floor(math.log10(abs(number))) - 2)
    count = number / step
    return step * (round(count) if math.isclose(count, round(count), rel_tol=1e-9) else rounded(count))
