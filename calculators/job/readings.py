"""What the job's paths mean: what each reading is called, its unit and its order, from the entries of the questions."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from calculators.bench.entries import Entry, Table
from calculators.bench.instrument_kinds import INSTRUMENTS, PREFIX
from calculators.bench.kinds import Choice, Kind
from calculators.bench.question import Question, entries_and_columns, questions, room_title
from calculators.job.former import FORMER

_SHARED = re.compile(r"(?P<name>[a-z][a-z0-9_]*)(?:\.(?P<row>\d+))?")
_OF_QUESTION = re.compile(r"(?P<question>[a-z_]+\.[a-z0-9_]+)\.(?P<name>[a-z][a-z0-9_]*)(?:\.(?P<row>\d+))?")
_OF_FORMER = re.compile(r"\S* (?P<former>[a-z0-9-]+?)(?:-\d+)? (?P<name>[a-z][a-z0-9_]*)(?:\.(?P<row>\d+))?")


@dataclass(frozen=True, kw_only=True, slots=True)
class Named:
    """What a path is called.

    Parameters
    ----------
    group : str
        The room in which it is asked for first, or the calculator that once asked for it.
    column : str
        ``Chamber volume``.
    each, row : str
        In a table what the rows are, ``cylinder``, and which one it is.
    kind : Measure, Number, Choice, Series, Groups or Date, optional
    unit : str, optional
        The one that a number is taken in where none was typed.
    """

    group: str
    column: str
    each: str = ""
    row: str = ""
    kind: Kind | None = None
    unit: str | None = None

    @property
    def label(self) -> str:
        """``Chamber volume of cylinder 2``."""
        return f"{self.column} of {self.each} {self.row}" if self.row else self.column


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
    when : str
        ISO 8601, UTC.
    group : str
        As ``Named`` has it.
    who, instrument : str
    """

    path: str
    label: str
    text: str
    when: str
    group: str
    who: str
    instrument: str


_Asked = tuple[type[Question], Entry[Any], Table[Any] | None]


@cache
def _shared() -> Mapping[str, _Asked]:
    """Return for each shared name the question that asks for it first, its entry, and the table it stands in if any."""
    found: dict[str, _Asked] = {}
    for asked in questions().values():
        for entry, table in entries_and_columns(asked):
            if entry.facts.shared_as:
                found.setdefault(entry.facts.shared_as, (asked, entry, table))
    return found


def asked_at(path: str) -> tuple[_Asked, str] | None:
    """Return what is asked for under a path, and the row; the first row of a table may be an entry by itself."""
    if path in _shared():
        return _shared()[path], ""
    if (match := _SHARED.fullmatch(path)) and match["name"] in _shared():
        return _shared()[match["name"]], match["row"] or ""
    if (match := _OF_QUESTION.fullmatch(path)) and (asked := questions().get(match["question"])):
        for entry, table in entries_and_columns(asked):
            if entry.key == match["name"]:
                return (asked, entry, table), match["row"] or ""
    return None


def asked_for(path: str) -> Entry[Any] | None:
    """Return the entry that a path is asked for by, one row of a table too; None where no question asks for it.

    Examples
    --------
    >>> asked_for("chamber.2").label, asked_for("bore.2"), asked_for("chamber.0"), asked_for("horoscope")
    ('Chamber volume', None, None, None)
    """
    if not (found := asked_at(path)):
        return None
    (_, entry, table), row = found
    if table is None:
        return None if row else entry
    return entry if row and 1 <= int(row) <= table.most else None


def named(path: str) -> Named:
    """Return what a path is called; one that nobody asks for is called by itself.

    Examples
    --------
    >>> named("chamber.2").label, named("bore").unit, named("no_such_reading").label
    ('Chamber volume of cylinder 2', 'mm', 'no_such_reading')
    >>> former = named("build/x/ torque-stages-2 extension")
    >>> former.group, former.label, former.unit
    ('Torque stages', 'Extension length', 'mm')
    """
    if path.startswith(PREFIX) and (kind := path.removeprefix(PREFIX)) in INSTRUMENTS:
        return Named(group="Instruments on the bench", column=INSTRUMENTS[kind])
    if found := asked_at(path):
        (asked, entry, table), row = found
        each = table.each.replace("{}", "").strip().lower() if table else ""
        group = room_title(asked.name.partition(".")[0])
        row = row if table else ""
        return Named(group=group, column=entry.label, each=each, row=row, kind=entry.kind, unit=entry.own_unit)
    if (match := _OF_FORMER.fullmatch(path)) and (former := FORMER.get(match["former"])):
        column, asked_as = _in_room(former.room, match["name"])
        own = former.units.get(match["name"])
        return Named(group=former.title, column=column, each="row", row=match["row"] or "", kind=asked_as, unit=own)
    return Named(group="Other", column=path)


def _in_room(room: str, key: str) -> tuple[str, Kind | None]:
    """Return what a room's questions call an entry of this key, and its kind; else its key in words."""
    for asked in questions().values():
        for entry, _ in entries_and_columns(asked) if asked.name.startswith(f"{room}.") else ():
            if entry.key == key:
                return entry.label, entry.kind
    return key.replace("_", " ").capitalize(), None


def is_result(reading: Mapping[str, Any]) -> bool:
    """Tell whether a calculator of a former edition worked a reading out: today's is worked out when it is asked for.

    Examples
    --------
    >>> is_result({"text": "49.5 cm³", "from": "chamber-volume"}), is_result({"text": "49.5"})
    (True, False)
    """
    return "from" in reading


def as_read(readings: Mapping[str, Mapping[str, Any]]) -> Iterator[Read]:
    """Yield what a person typed, by group and label, units put to the numbers; what is empty is left out."""
    found = []
    for path, reading in readings.items():
        if not reading["text"].strip() or is_result(reading):
            continue
        called = named(path)
        found.append(
            Read(
                path,
                called.label,
                _with_unit(reading, called),
                reading["when"],
                called.group,
                reading.get("who", ""),
                reading.get("instrument", ""),
            )
        )
    yield from sorted(found, key=lambda read: (read.group, _natural(read.path)))


def lacks_unit(text: str, unit: str | None) -> bool:
    """Return whether a text is a number of a kind that has a unit, and names none itself.

    Examples
    --------
    >>> lacks_unit("80.02", "mm"), lacks_unit("3 ½", "mm"), lacks_unit("3.15 in", "mm"), lacks_unit("80", None)
    (True, True, False, False)
    """
    names_one = any(letter.isalpha() or letter in "°%\"″′'" for letter in text)
    return bool(unit and text.strip()) and not names_one


def _with_unit(reading: Mapping[str, Any], called: Named) -> str:
    text = str(reading["text"]).strip()
    if isinstance(called.kind, Choice):
        return called.kind.options.get(text, text)
    unit = reading.get("unit") or called.unit
    if not unit or not lacks_unit(text, called.unit):
        return text
    return f"{text}{'' if unit in ('°', '%') else ' '}{unit}"


def _natural(path: str) -> tuple[Any, ...]:
    return tuple(int(part) if part.isdigit() else part for part in re.split(r"(\d+)", path))
