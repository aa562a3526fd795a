"""What a calculator asks for: fields declared once, read from text, with the errors a reader sees."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any, Protocol

from calculators._errors import FieldError, InputErrors
from calculators._units import (
    NotANumber,
    Typed,
    Unit,
    UnknownUnit,
    magnitude_in,
    measured,
    plain,
    quantity,
    read_number,
    spelled,
    unit,
    units_of,
)


class Card(Protocol):
    """What a form needs of an engine card: a fact as text, or None."""

    def text(self, path: str) -> str | None: ...


class _Wrong(Exception):
    """A message about one value, without its label."""


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
    offered : tuple of str
        Units to choose from; all of the kind when empty.
    exact : bool
        A figure to work to, not a reading: a ± behind it is refused.
    """

    own: str
    low: float
    high: float
    why: str
    offered: tuple[str, ...] = ()
    exact: bool = False

    name = "quantity"

    @property
    def units(self) -> tuple[Unit, ...]:
        return tuple(map(unit, self.offered)) or units_of(unit(self.own).kind)

    @property
    def limits(self) -> tuple[str, str]:
        gap = "" if self.own in "°%" else " "
        return f"{plain(self.low)}{gap}{self.own}", f"{plain(self.high)}{gap}{self.own}"

    @property
    def wanted(self) -> str:
        return f", in {unit(self.own).words}"

    def read(self, text: str, like: str, chosen: str | None = None) -> Any:
        """Return a Quantity in the unit typed, else the one chosen beside the field, else the field's own."""
        typed = _number(text, like, self.wrong_unit)
        found = typed.unit or unit(chosen or self.own)
        if found not in self.units and found.kind != unit(self.own).kind:
            raise _Wrong(self.wrong_unit)
        value = quantity(typed.number, found.symbol)
        slack = 1e-9 * max(abs(self.low), abs(self.high))
        if not self.low - slack <= magnitude_in(value, self.own) <= self.high + slack:
            raise _Wrong("must be between {} and {}".format(*self.limits))
        if typed.plus_minus is None:
            return value
        if self.exact:
            raise _Wrong(f"must be one figure without a ±, like {like}")
        return measured(value, quantity(typed.plus_minus, found.symbol))

    @property
    def wrong_unit(self) -> str:
        names = [unit.symbol for unit in self.units[:3]]
        return f"must use a unit of {unit(self.own).kind}, like {' or '.join(names[:2])}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Number:
    """A bare number; a whole one unless ``whole`` is false."""

    low: float
    high: float
    why: str
    whole: bool = True

    name = "number"

    @property
    def limits(self) -> tuple[str, str]:
        return plain(self.low), plain(self.high)

    @property
    def wanted(self) -> str:
        return ""

    def read(self, text: str, like: str, chosen: str | None = None) -> Any:
        typed = _number(text, like, "must be a number without a unit")
        if typed.unit:
            raise _Wrong("must be a number without a unit")
        if typed.plus_minus is not None:
            raise _Wrong(f"must be one figure without a ±, like {like}")
        if self.whole and typed.number != int(typed.number):
            raise _Wrong(f"must be a whole number, like {like}")
        if not self.low <= typed.number <= self.high:
            raise _Wrong("must be between {} and {}".format(*self.limits))
        return int(typed.number) if self.whole else typed.number


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """One of a few named options: value → what the reader sees."""

    options: Mapping[str, str]

    name = "choice"
    wanted = ""

    def read(self, text: str, like: str, chosen: str | None = None) -> str:
        folded = text.strip().lower()
        for value, seen in self.options.items():
            if folded in (value.lower(), seen.lower()):
                return value
        raise _Wrong(f"must be one of: {', '.join(self.options)}")


@dataclass(frozen=True, kw_only=True, slots=True)
class Series:
    """Several values on one line (a firing order): ``1 4 3 2``, ``1-4-3-2``, ``33,3; 66,7``.

    ``like`` is what an error shows where the field has neither example nor default.
    """

    of: Number | Measure
    fewest: int
    most: int
    like: str = "1 2 3"

    name = "list"

    @property
    def wanted(self) -> str:
        return self.of.wanted

    def read(self, text: str, like: str, chosen: str | None = None) -> Any:
        parts = split_line(text)
        if isinstance(self.of, Measure):
            chosen = _unit_of_all(parts) or chosen
        try:
            values = tuple(self.of.read(part, like, chosen) for part in parts)
        except _Wrong as wrong:
            if str(wrong).startswith("must be between"):
                raise _Wrong(f"{str(wrong).replace('must', 'must each')}") from None
            raise _Wrong(f"must be numbers in a row, like {like}") from None
        if not self.fewest <= len(values) <= self.most:
            count = f"{self.fewest} to {self.most}" if self.fewest != self.most else str(self.most)
            raise _Wrong(f"must have {count} entries, not {len(values)}")
        return values


@dataclass(frozen=True, kw_only=True, slots=True)
class Groups:
    """Whole numbers in groups on one line (cylinders under each head): ``1 2 / 3 4``."""

    of: Number
    most: int

    name = "groups"
    wanted = ""

    def read(self, text: str, like: str, chosen: str | None = None) -> tuple[tuple[int, ...], ...]:
        groups = [group for group in re.split(r"[/|;\n]", text) if group.strip()]
        try:
            values = tuple(tuple(self.of.read(part, like) for part in split_line(group)) for group in groups)
        except _Wrong:
            values = ()
        if not values or sum(map(len, values)) > self.most:
            raise _Wrong(f"must be whole numbers in groups parted by a stroke, like {like}")
        return values


Kind = Measure | Number | Choice | Series | Groups


def split_line(text: str) -> list[str]:
    """Split a line of values; commas part them only where nothing else does.

    Examples
    --------
    >>> split_line("1-4-3-2"), split_line("33,3; 66,7"), split_line("50, 75, 100"), split_line("1,4,3,2")
    (['1', '4', '3', '2'], ['33,3', '66,7'], ['50', '75', '100'], ['1', '4', '3', '2'])
    """
    for parter in (r"[;\n]", r",\s+", r"(?<=\d)\s*[-–]\s*(?=\d)", r"(?<!±)(?<!\+/-)\s+(?=[\d.,])", r","):
        parts = [part.strip() for part in re.split(parter, text.strip())]
        if len(parts) > 1:
            return [part for part in parts if part]
    return parts if parts[0] else []


def _unit_of_all(parts: list[str]) -> str | None:
    """Return the unit typed once at the end of a line, which is meant for every entry: ``2 3 4 thou``."""
    try:
        units = [read_number(part).unit for part in parts]
    except (NotANumber, UnknownUnit):
        return None
    return units[-1].symbol if units and units[-1] and not any(units[:-1]) else None


def _number(text: str, like: str, wrong_unit: str) -> Typed:
    try:
        return read_number(text)
    except UnknownUnit:
        raise _Wrong(wrong_unit) from None
    except NotANumber:
        raise _Wrong(f"must be a number, like {like}") from None


@dataclass(frozen=True, kw_only=True, slots=True)
class Field:
    """One thing asked for.

    Parameters
    ----------
    key, label : str
        ``bore``, ``Bore``.
    kind : Measure, Number, Choice, Series or Groups
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
    """

    key: str
    label: str
    kind: Kind
    help: str = ""
    card: str | None = None
    default: str | None = None
    example: str | None = None
    optional: bool = False

    @property
    def own_unit(self) -> str | None:
        of = self.kind.of if isinstance(self.kind, Series) else self.kind
        return of.own if isinstance(of, Measure) else None

    @property
    def signed(self) -> bool:
        """True where a minus can occur, so that a phone must offer one."""
        return isinstance(self.kind, Measure) and self.kind.low < 0

    @property
    def like(self) -> str:
        """A value to show in an error: the field's own example, bare of its unit."""
        text = self.example or self.default
        if isinstance(self.kind, Series):
            return text or self.kind.like
        if isinstance(self.kind, Groups | Choice):
            return text or "1 2 / 3 4"
        if text:
            text = split_line(text)[0].split()[0]
            return text if text != "0" else "0 or 0.5"
        return self.kind.limits[0]

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


@dataclass(frozen=True, slots=True)
class Form:
    """A calculator's questions, in the order they are asked."""

    sections: tuple[Section | Rows, ...]

    def __post_init__(self) -> None:
        keys = [field.key for field in self.fields]
        twice = {key for key in keys if keys.count(key) > 1}
        if twice or any(not re.fullmatch(r"[a-z][a-z0-9_]*", key) for key in keys):
            raise ValueError(f"field keys must be unique plain words: {sorted(twice) or keys}")

    @property
    def fields(self) -> tuple[Field, ...]:
        return tuple(field for section in self.sections for field in section.fields)

    @property
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
            Texts that win over card, default and example; a list for a row field. One
            for a field that the form lacks is kept, so that reading it names the mistake.
        example : bool
            Fill readings with the worked example's.
        """
        presets = presets or {}
        texts: dict[str, str] = {}
        for section in self.sections:
            for field in section.fields:
                text = presets.get(field.key) or field.prefilled(card, example)
                if text is None:
                    continue
                if isinstance(section, Rows):
                    texts |= {f"{field.key}.{row}": cell for row, cell in enumerate(_cells(text), 1)}
                else:
                    texts[field.key] = text
        known = {field.key for field in self.fields}
        return texts | {key: text for key, text in presets.items() if key not in known}

    def row_count(self, rows: Rows, typed: Mapping[str, str]) -> int:
        """Return how many rows the form should show for what is typed.

        A counted table follows its number (and keeps what it had while that number
        cannot be read); a free one shows one empty row more than are filled.
        """
        filled = max((row for field in rows.fields for row in _filled(field, typed)), default=0)
        if rows.count is None:
            return min(filled + 1, rows.most)
        counter = next(field for field in self.fields if field.key == rows.count)
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
        for section in self.sections:
            if isinstance(section, Rows):
                self._read_rows(section, typed, card, values, errors)
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
        for section in self.sections:
            for field in section.fields:
                if field.key == name:
                    cell = isinstance(section, Rows) and _ROW.fullmatch(part) and int(part) <= section.most
                    return not dot or bool(cell) or (part == "unit" and field.own_unit is not None)
        return False

    def _read_rows(
        self,
        rows: Rows,
        typed: Mapping[str, str],
        card: Card | None,
        values: dict[str, Any],
        errors: list[FieldError],
    ) -> None:
        columns: dict[str, dict[int, str]] = {}
        for field in rows.fields:
            listed = typed.get(field.key)
            cells = _filled(field, typed, blanks=True)
            if listed is None and not cells:
                listed = field.prefilled(card) or ""
            columns[field.key] = dict(enumerate(_cells(listed), 1)) if listed is not None else cells
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
            values[field.key] = tuple(
                _read(
                    field,
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
                of = field.kind.of if isinstance(field.kind, Series | Groups) else field.kind
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


def _cells(text: str) -> list[str]:
    """Split a list typed for a column; an empty place between two semicolons is an empty cell."""
    if not text.strip():
        return []
    return [cell.strip() for cell in text.split(";")] if ";" in text else split_line(text)


def _filled(field: Field, typed: Mapping[str, str], blanks: bool = False) -> dict[int, str]:
    """Return the cells of a row field that are typed one by one, by row number."""
    cells = {}
    for key, text in typed.items():
        name, _, row = key.partition(".")
        if name == field.key and _ROW.fullmatch(row) and (blanks or text.strip()):
            cells[int(row)] = text
    return cells


def _read(
    field: Field,
    text: str | None,
    typed: Mapping[str, str],
    key: str,
    label: str,
    errors: list[FieldError],
) -> Any:
    if text is None or not text.strip():
        if not field.optional:
            noun = label if label[:2].isupper() else label[0].lower() + label[1:]
            errors.append(FieldError(key, f"Enter the {noun}{field.kind.wanted}"))
        return None
    try:
        return field.kind.read(text, field.like, _chosen_unit(field, typed))
    except _Wrong as wrong:
        errors.append(FieldError(key, f"{label} {wrong}"))
        return None


def _chosen_unit(field: Field, typed: Mapping[str, str]) -> str | None:
    """Return the symbol of the unit chosen beside a field, however it is spelled; None where there is none."""
    of = field.kind.of if isinstance(field.kind, Series) else field.kind
    text = typed.get(f"{field.key}.unit", "").strip()
    if not text or not isinstance(of, Measure):
        return None
    chosen = spelled(text)
    if chosen is None or chosen.kind != unit(of.own).kind:
        raise _Wrong(of.wrong_unit)
    return chosen.symbol
