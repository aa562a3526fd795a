"""What the job's paths mean: label, unit and order of each reading, from the calculators' own forms."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from calculators._catalogue import catalogue
from calculators._form import Choice, Field, Rows

_SHARED = re.compile(r"(?P<name>[a-z][a-z0-9_]*)(?:\.(?P<row>\d+))?(?P<unit>\.unit)?")
_OWN = re.compile(
    r"(?P<page>\S*) (?P<calculator>[a-z0-9-]+?)(?:-\d+)? (?P<name>[a-z][a-z0-9_]*)(?:\.(?P<row>\d+))?(?P<unit>\.unit)?"
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
        As typed, with the unit that was chosen beside it.
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
    when: str
    group: str
    from_calculator: str
    who: str
    instrument: str


@cache
def _shared() -> dict[str, tuple[str, Rows | None, Field]]:
    """Return for each shared reading the calculator that asks for it first, and its field."""
    found: dict[str, tuple[str, Rows | None, Field]] = {}
    for calculator in catalogue().values():
        for section in calculator.form.sections:
            for field in section.fields:
                if field.reading:
                    found.setdefault(
                        field.reading, (calculator.title, section if isinstance(section, Rows) else None, field)
                    )
    return found


def _own(calculator: str, key: str) -> tuple[str, Rows | None, Field] | None:
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
    match = _SHARED.fullmatch(path)
    known = _shared().get(match["name"]) if match else None
    if not known:
        match = _OWN.fullmatch(path)
        known = _own(match["calculator"], match["name"]) if match else None
    if not match or not known:
        return "Other", path, None
    title, rows, field = known
    if match["row"] and rows:
        each = rows.each.replace("{}", match["row"])
        return title, f"{field.label} of {each[0].lower()}{each[1:]}", field
    return title, field.label, field


def as_read(readings: Mapping[str, Mapping[str, Any]]) -> Iterator[Read]:
    """Yield a job's readings by group and label, units put to their numbers, empty ones left out."""
    found = []
    for path, reading in readings.items():
        if path.endswith(".unit") or not reading["text"].strip():
            continue
        group, label, field = asked_by(path)
        source = reading.get("from", "")
        worked_out = catalogue().get(source)
        if worked_out:
            group = worked_out.title
        if not field:
            label = reading.get("label", label)
        found.append(
            Read(
                path,
                label,
                _with_unit(path, reading["text"].strip(), field, readings),
                reading["when"],
                group,
                worked_out.title if worked_out else source,
                reading.get("who", ""),
                reading.get("instrument", ""),
            )
        )
    yield from sorted(found, key=lambda read: (read.group, _natural(read.path)))


def _with_unit(path: str, text: str, field: Field | None, readings: Mapping[str, Mapping[str, Any]]) -> str:
    if not field:
        return text
    if isinstance(field.kind, Choice):
        return field.kind.options.get(text, text)
    if not field.own_unit or re.search(r"[^\W\d_]|[°%\"″′']", text):
        return text
    chosen = readings.get(re.sub(r"\.\d+$", "", path) + ".unit", {}).get("text") or field.own_unit
    return f"{text}{'' if chosen in ('°', '%') else ' '}{chosen}"


def _natural(path: str) -> tuple[Any, ...]:
    return tuple(int(part) if part.isdigit() else part for part in re.split(r"(\d+)", path))
