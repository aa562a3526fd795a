"""What a job knows of each cylinder: its readings, each with the question that asks for it, and its tagged parts."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calculators.bench.card import EngineCard
from calculators.bench.engine_map import engine_map
from calculators.job.measuring_sheet import cylinder_count
from calculators.job.readings import Read, as_read, asked_at

_FIRST_NUMBER = re.compile(r"(?:cylinder\s+)?(\d{1,2})\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Cylinder:
    """One cylinder: each reading with the address of its question, and its tags."""

    number: int
    readings: tuple[tuple[Read, str], ...]
    tags: tuple[Mapping[str, Any], ...]


def cylinders(job: Mapping[str, Any], card: EngineCard | None) -> tuple[Cylinder, ...]:
    """Return every cylinder of the engine, in order; one that only a reading or a tag names comes behind.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    card : EngineCard, optional
    """
    readings: dict[int, list[tuple[Read, str]]] = {}
    for number, read, address in _read_by_cylinder(job):
        readings.setdefault(number, []).append((read, address))
    tags: dict[int, list[Mapping[str, Any]]] = {}
    for tag in job.get("tags", ()):
        if number := cylinder_of(tag):
            tags.setdefault(number, []).append(tag)
    known = {*range(1, cylinder_count(job, card) + 1), *readings, *tags}
    return tuple(
        Cylinder(number, tuple(readings.get(number, ())), tuple(tags.get(number, ()))) for number in sorted(known)
    )


def cylinder_of(tag: Mapping[str, Any]) -> int:
    """Return the cylinder that a tagged part is from; one that was written by hand may begin with it. 0 for none.

    Examples
    --------
    >>> cylinder_of({"cylinder": 3}), cylinder_of({"from": "2 inlet"}), cylinder_of({"from": "oil cooler"})
    (3, 2, 0)
    """
    written = _FIRST_NUMBER.match(str(tag.get("from", "")).strip())
    return int(tag.get("cylinder") or (written[1] if written else 0))


def _read_by_cylinder(job: Mapping[str, Any]) -> Iterator[tuple[int, Read, str]]:
    for read in as_read(job.get("readings", {})):
        found = asked_at(read.path)
        if not found:
            continue
        (asked, _, table), row = found
        if table and row and "cylinders" in (table.count, f"{table.each.partition(' ')[0].lower()}s"):
            room = asked.name.partition(".")[0].replace("_", "-")
            yield int(row), read, f"../work-it-out/{room}/#q-{asked.name.replace('.', '-')}"


def from_above(
    job: Mapping[str, Any], card: EngineCard | None, leads: Mapping[str, tuple[str, str]], title: str
) -> str:
    """Return the engine from above, as ``engine_map`` draws it; where its banks are not known, in one."""
    banks = card.fact("layout.banks") if card else None
    return engine_map(banks or (tuple(range(1, cylinder_count(job, card) + 1)),), leads, title)
