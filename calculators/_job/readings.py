"""What the job's paths mean: label, unit and order of each reading, from the entries of questions and calculators."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from calculators._catalogue import Calculator, catalogue
from calculators._form import Field, Rows
from calculators._instruments import INSTRUMENTS, PREFIX
from calculators._kinds import Choice
from calculators._units import NotANumber, UnknownUnit, measured, printed, quantity, read_number, uncertainty_in
from calculators.bench.entries import Table
from calculators.bench.question import Question, entries_and_columns, questions, room_title

_SHARED = re.compile(r"(?P<name>[a-z][a-z0-9_]*)(?:\.(?P<row>\d+))?(?P<unit>\.unit)?")
_OWN = re.compile(
    r"(?P<page>\S*) (?P<calculator>[a-z0-9-]+?)(?:-\d+)? (?P<name>[a-z][a-z0-9_]*)(?:\.(?P<row>\d+))?(?P<unit>\.unit)?"
)


_OF_QUESTION = re.compile(
    r"(?P<question>[a-z_]+\.[a-z0-9_]+)\.(?P<name>[a-z][a-z0-9_]*)(?:\.(?P<row>\d+))?(?P<unit>\.unit)?"
)


@dataclass(frozen=True, slots=True)
class Read:
    """One reading as a person reads it.

    Parameters
    ----------
    path : str
        Its name in the job.
    label : str
        ``Chamber volume of cylinder 2``.
    text : str
        As typed, with the unit that stood beside it.
    shown : str
        The same; of what a calculator worked out, the figures that count, with the ± that the answer had.
    when : str
        ISO 8601, UTC.
    group : str
        The title of the calculator that worked it out, else of the first that asks for it.
    from_calculator : str
        The title of the calculator that worked it out; empty where it was typed.
    who, instrument : str
    """

    path: str
    label: str
    text: str
    shown: str
    when: str
    group: str
    from_calculator: str
    who: str
    instrument: str


_Asked = tuple[str, Rows | Table[Any] | None, Field]
"""Who asks, the table that it stands in if any, and the field."""


@cache
def _shared() -> dict[str, _Asked]:
    """Return for each shared reading the calculator or the question that asks for it first, and its field."""
    found: dict[str, _Asked] = {}
    for calculator in catalogue().values():
        for section in calculator.form.sections:
            for field in section.fields:
                if field.reading:
                    found.setdefault(
                        field.reading, (calculator.title, section if isinstance(section, Rows) else None, field)
                    )
    for asked in questions().values():
        for entry, table in entries_and_columns(asked):
            if entry.facts.shared_as:
                found.setdefault(entry.facts.shared_as, (_room_of(asked), table, entry.field))
    return found


def _room_of(asked: type[Question]) -> str:
    return room_title(asked.name.partition(".")[0])


def _of_question(name: str, key: str) -> _Asked | None:
    asked = questions().get(name)
    for entry, table in entries_and_columns(asked) if asked else ():
        if entry.key == key and asked:
            return _room_of(asked), table, entry.field
    return None


def _own(calculator: str, key: str) -> _Asked | None:
    found = catalogue().get(calculator)
    for section in found.form.sections if found else ():
        for field in section.fields:
            if field.key == key:
                return found.title, section if isinstance(section, Rows) else None, field  # type: ignore[union-attr]
    return None


def asked_by(path: str) -> tuple[str, str, Field | None]:
    """Return who asks for a path, what it is called, and the field; a path that nobody asks for is called by itself.

    Examples
    --------
    >>> asked_by("bore")[1], asked_by("no_such_reading")[:2]
    ('Bore', ('Other', 'no_such_reading'))
    """
    if (kind := path.removeprefix(PREFIX)) in INSTRUMENTS and kind != path:
        return "Instruments on the bench", INSTRUMENTS[kind], None
    match, known = _known(path)
    if not match or not known:
        return "Other", path, None
    title, rows, field = known
    if match["row"] and rows:
        each = rows.each.replace("{}", match["row"])
        return title, f"{field.label} of {each[0].lower()}{each[1:]}", field
    return title, field.label, field


def in_a_row(path: str) -> tuple[str, str, str] | None:
    """Return of a reading in a table what it is called, what the rows are, and which row; of another, nothing.

    Examples
    --------
    >>> in_a_row("chamber.2"), in_a_row("bore")
    (('Chamber volume', 'cylinder', '2'), None)
    """
    match, known = _known(path)
    if not match or not known or not match["row"] or not known[1]:
        return None
    return known[2].label, known[1].each.replace("{}", "").strip().lower(), match["row"]


def _known(path: str) -> tuple[re.Match[str] | None, _Asked | None]:
    match = _SHARED.fullmatch(path)
    known = _shared().get(match["name"]) if match else None
    if not known and (match := _OF_QUESTION.fullmatch(path)):
        known = _of_question(match["question"], match["name"])
    if not known:
        match = _OWN.fullmatch(path)
        known = _own(match["calculator"], match["name"]) if match else None
    return match, known


def found_at(path: str) -> Iterator[tuple[str, str, int]]:
    """Yield each calculator that a row's reading belongs to, with the reading's name and the row.

    Examples
    --------
    >>> list(found_at("build/x/ chamber-volume-2 fill.3")), list(found_at("bore"))
    ([('chamber-volume', 'fill', 3)], [])
    >>> list(found_at("end_gap.2"))
    [('fits-and-wear', 'end_gap', 2)]
    """
    if (match := _SHARED.fullmatch(path)) and match["row"]:
        for calculator in catalogue().values():
            if any(field.reading == match["name"] for rows in calculator.form.rows for field in rows.fields):
                yield calculator.name, match["name"], int(match["row"])
    elif (match := _OWN.fullmatch(path)) and match["row"]:
        yield match["calculator"], match["name"], int(match["row"])


def as_read(readings: Mapping[str, Mapping[str, Any]]) -> Iterator[Read]:
    """Yield a job's readings by group and label, units put to their numbers, empty ones left out."""
    found = []
    for path, reading in readings.items():
        if not reading["text"].strip():
            continue
        group, label, field = asked_by(path)
        source = reading.get("from", "")
        worked_out = worked_out_by(source)
        if worked_out:
            group = worked_out.title
        if not field or worked_out:
            label = str(reading.get("label", label))
        text = _with_unit(reading, field)
        found.append(
            Read(
                path,
                label,
                text,
                as_answered(text) if worked_out else text,
                reading["when"],
                group,
                worked_out.title if worked_out else source,
                reading.get("who", ""),
                reading.get("instrument", ""),
            )
        )
    yield from sorted(found, key=lambda read: (read.group, _natural(read.path)))


def worked_out_by(source: str) -> Calculator | None:
    """Return the calculator that a reading is from; of a task of its own it is told with its page before it.

    Examples
    --------
    >>> worked_out_by("shop/trial/ chamber-volume").title, worked_out_by("a friend")
    ('Chamber volume', None)
    """
    return catalogue().get(source.rpartition(" ")[2])


def lacks_unit(text: str, field: Field | None) -> bool:
    """Return whether a text is a number of a kind that has a unit, and names none itself.

    Examples
    --------
    >>> bore = asked_by("bore")[2]
    >>> lacks_unit("80.02", bore), lacks_unit("3 ½", bore), lacks_unit("3.15 in", bore), lacks_unit("80", None)
    (True, True, False, False)
    """
    names_one = any(letter.isalpha() or letter in "°%\"″′'" for letter in text)
    return bool(field and field.own_unit and text.strip()) and not names_one


def _with_unit(reading: Mapping[str, Any], field: Field | None) -> str:
    text = str(reading["text"]).strip()
    if field and isinstance(field.kind, Choice):
        return field.kind.options.get(text, text)
    if not field or not lacks_unit(text, field):
        return text
    unit = reading.get("unit") or field.own_unit
    return f"{text}{'' if unit in ('°', '%') else ' '}{unit}"


def as_answered(text: str) -> str:
    """Print what a calculator kept for others as its answer printed it.

    Examples
    --------
    >>> as_answered("49.533 ± 0.1595 cm³"), as_answered("80.04208 ± 0.001021 mm"), as_answered("nowhere")
    ('49.53 ± 0.18 cm³', '80.0421 ± 0.0012 mm', 'nowhere')
    """
    try:
        typed = read_number(text)
    except (NotANumber, UnknownUnit):
        return text
    if not typed.unit:
        return text
    symbol, places = typed.unit.symbol, typed.unit.places
    value = quantity(typed.number, symbol)
    if typed.plus_minus:
        value = measured(value, quantity(typed.plus_minus, symbol))
        places = max(places, 1 + math.ceil(-math.log10(uncertainty_in(value, symbol) or 1)))  # two figures of the ±
    return printed(value, symbol, places)


def _natural(path: str) -> tuple[Any, ...]:
    return tuple(int(part) if part.isdigit() else part for part in re.split(r"(\d+)", path))
