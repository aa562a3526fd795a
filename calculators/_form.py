"""What a calculator asks for: fields declared once, and every mistake in what was typed named at once."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from types import SimpleNamespace
from typing import Any, Protocol

from calculators._errors import FieldError, InputErrors
from calculators._instruments import INSTRUMENTS
from calculators._kinds import (
    Choice,
    Date,
    Groups,
    Kind,
    Measure,
    Number,
    Series,
    Wrong,
    is_one_number,
    split_line,
    three_figures,
    unit_of_list,
)
from calculators._units import (
    NotANumber,
    UnknownUnit,
    magnitude_in,
    named,
    plain,
    quantity,
    read_number,
    spelled,
    unit,
    without_spread,
)


class Card(Protocol):
    """What a form needs of an engine card: a fact as text, or None; whether it is an example's still."""

    def text(self, path: str) -> str | None: ...

    def inherited(self, path: str) -> bool: ...


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
    behind : str, optional
        Path of what on the card stands behind the default: a choice takes it from there.
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
    behind: str | None = None
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
                return plain(three_figures(magnitude_in(quantity(typed.number, written_in), chosen), round))
        return text.split()[0] if typed.number else "0 or 0.5"

    def prefilled(self, card: Card | None, example: bool = False) -> str | None:
        """Return the text a fresh form shows: from the card, else the default, else (asked for) the example."""
        from_card = card.text(self.card) if card and self.card else None
        if card and self.card and self.optional and card.inherited(self.card):
            from_card = None  # an example's figure is shown, and marked, only where there is no answer without it
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
    """A calculator's questions, in the order they are asked.

    Parameters
    ----------
    sets_aside : tuple of str
        Keys of the fields whose ± changes no answer here: it is taken off, and the reader told so.
    """

    sections: tuple[Section | Rows, ...]
    sets_aside: tuple[str, ...] = ()

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
                        f"{field.key}.{row}": cell for row, cell in enumerate(cells_of(field, text, section.most), 1)
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
        except Wrong:
            return min(max(filled, 1), rows.most)

    def read(self, typed: Mapping[str, str], card: Card | None = None) -> SimpleNamespace:
        """Turn typed text into values.

        Parameters
        ----------
        typed : mapping of str to str
            By field key; a unit chosen beside a field as ``key.unit``; a row's cells
            as ``key.1``, ``key.2`` … or all in one list, the unit of one cell as
            ``key.1.unit``. A key that is absent takes its default; one that is there
            but empty is an error.
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
        return SimpleNamespace(**values | {key: without_spread(values[key]) for key in self.sets_aside}, card=card)

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
        row, _, unit_of_cell = part.partition(".")
        if unit_of_cell and (unit_of_cell != "unit" or not field.measure):
            return False
        return isinstance(section, Rows) and bool(_ROW.fullmatch(row)) and int(row) <= section.most

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
                cells = dict(enumerate(cells_of(field, listed, rows.most), 1))
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
                    entries = "entry" if wanted == 1 else "entries"
                    errors.append(FieldError(field.key, f"{field.label} must have {wanted} {entries}, not {given}"))
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


LONGEST_ENTRY = 2000
"""Characters that a box takes, and the job's schema too: what can be typed can be exported and taken in again."""
_ROW = re.compile("[1-9][0-9]{0,2}")
KEPT = 2048
"""So many texts that were read are remembered: between two keys, all but one stay as they were."""


def cells_of(field: Field, text: str, most: int) -> list[str]:
    """Split a list typed for a column; an empty place between two semicolons is an empty cell.

    The first cell's unit, or one typed once behind the last, is put behind each that has none,
    unless there are more cells than rows and the list is refused anyhow.
    """
    if not text.strip():
        return []
    lines = isinstance(field.kind, Series)  # each cell is a line itself: 49.5 49.6; 48.1 48.2
    if is_one_number(field.kind, text):
        return [text.strip()]
    cells = [cell.strip() for cell in text.split(";")] if lines or ";" in text else split_line(text)
    filled = [cell for cell in cells if cell]
    if not field.measure or not filled or len(cells) > most:
        return cells
    # of lines only the first counts: a unit at the end of the last is that line's own
    shared = _unit_of_line(filled[0]) if lines else unit_of_list(filled)
    if shared is None:
        return cells
    return [f"{cell} {shared}" if _bare(cell) else cell for cell in cells]


_LONG = 500
"""Characters; a cell beyond is a paste gone wrong, and refused elsewhere."""


def _unit_of_line(line: str) -> str | None:
    return unit_of_list(split_line(line)) if len(line) <= _LONG else None


def _bare(cell: str) -> bool:
    """Tell whether a cell has numbers and no unit."""
    try:
        return 0 < len(cell) <= _LONG and not any(read_number(part).unit for part in split_line(cell))
    except (NotANumber, UnknownUnit):
        return False


@lru_cache(maxsize=KEPT)
def _cell(field: Field) -> Field:
    """Return a column's field as one cell of it, so that an error shows one cell's line and not the whole column."""
    if not isinstance(field.kind, Series):
        return field
    like = cells_of(field, field.example or field.default or field.kind.like, 1)[0]
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
        chosen = _chosen_unit(field, typed, key)
        if text is not None and not empty:
            return _value(field, text, chosen, key, label)
        noun = label if label[:2].isupper() else label[0].lower() + label[1:]
        errors.append(FieldError(key, f"Enter the {noun}{field.kind.wanted(chosen)}"))
        return None
    except Wrong as wrong:
        errors.append(FieldError(key, f"{label} {wrong}"))
        return None


@lru_cache(maxsize=KEPT)
def _value(field: Field, text: str, chosen: str | None, key: str, label: str) -> Any:
    """Return what a text says: the value of one control, whose ± is no other control's."""
    return named(field.kind.read(text, lambda: field.like(chosen), chosen), label)


def unit_beside(key: str, typed: Mapping[str, str]) -> str:
    """Return what stands for a unit beside a control: a cell's own, else the one chosen for its column, else nothing.

    Examples
    --------
    >>> typed = {"depth.unit": "thou", "depth.2.unit": "mm"}
    >>> unit_beside("depth.1", typed), unit_beside("depth.2", typed), unit_beside("bore", typed)
    ('thou', 'mm', '')
    """
    return typed.get(f"{key}.unit") or typed.get(f"{key.partition('.')[0]}.unit", "")


def _chosen_unit(field: Field, typed: Mapping[str, str], key: str) -> str | None:
    """Return the symbol of the unit chosen beside a field, however it is spelled; None where there is none."""
    text = unit_beside(key, typed).strip()
    if not text or not field.measure:
        return None
    chosen = spelled(text)
    if chosen is None or chosen.kind != unit(field.measure.own).kind:
        raise Wrong(field.measure.wrong_unit)
    return chosen.symbol
