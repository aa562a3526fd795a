"""How the engine is run in, for its owner: the speeds by distance, where the job has them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench.desk import Desk
from calculators.bench.report import Column, Table
from calculators.bench.words import word
from calculators.job.decisions import Decided
from calculators.job.readings import as_read

SPEED_LIMIT = "running_in.speed_limit"
RECHECKS = "running_in.rechecks"
OWN = ("run_in_", "road_speeds", "revolution_counter_mark")
"""How the names of readings begin that nobody types who does not want the engine run in."""
ROAD_SPEED = {"km": "km/h", "miles": "mph"}
"""By what the odometer counts."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RunIn:
    """The limit in a sentence, and by distance.

    Parameters
    ----------
    says : str
    columns : tuple of str
    rows : tuple of tuple of str
        Empty where what the answer rests on has changed since it was put on the sheet.
    is_doubted : bool
    """

    says: str
    columns: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    is_doubted: bool = False


def run_in(job: Mapping[str, Any], answers: Sequence[Decided], desk: Desk) -> RunIn | None:
    """Return how the engine is run in; None where nobody asked it on this job.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    answers : sequence of Decided
    desk : Desk
        On which the job's readings lie.
    """
    settled = [one for one in answers if one.entry["calculator"] == SPEED_LIMIT]
    if settled and settled[-1].is_doubted:
        return RunIn(says=settled[-1].entry["lead"], is_doubted=True)
    typed = any(one.path.startswith(OWN) for one in as_read(job.get("readings", {})))
    asked = desk.ask(SPEED_LIMIT) if settled or typed else None
    if asked is None or asked.answer is None:
        return None
    tables = {table.key: table for table in asked.answer.tables}
    columns, rows = _by_distance(tables["ceilings"], tables.get("gears"), asked.known["odometer_unit"].value)
    return RunIn(says=asked.answer.says, columns=columns, rows=rows)


def _by_distance(speeds: Table, gears: Table | None, unit: str) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Return the engine's speeds and, where the gears are known, the road speeds, one row a distance."""
    labels = {"until": f"Until the odometer shows, {word(unit)}", "speed": "Engine at most, r/min"}
    shown: list[tuple[Table, Column, str]] = [
        (speeds, column, labels[column.key]) for column in speeds.columns if column.key in labels
    ]
    if gears:
        shown += [(gears, column, f"{column.label} at most, {ROAD_SPEED[unit]}") for column in gears.columns[1:]]
    rows = (
        tuple(column.text(table.rows[place].cells[table.columns.index(column)]) for table, column, _ in shown)
        for place in range(len(speeds.rows))
    )
    return tuple(label for _, _, label in shown), tuple(rows)
