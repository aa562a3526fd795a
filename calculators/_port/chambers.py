"""The chambers as found, and what evens them within their walls."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._port.openings import number_of
from calculators._report import GEOMETRY, Column, Row, Source, Table, Value
from calculators._units import bare, magnitude_in, number_in, quantity
from calculators._verdict import instrument
from calculators._words import word
from calculators.formulas.cylinder_volume import bore_area, clearance_volume, compression_ratio, swept_volume
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.even_volumes import Evened, even_volumes, room_to_wall

DECISION = Source("ISO 14253-1, decision rules for conformity with specifications", "memory")
LEAST_OUT = 0.05
"""Less than this many cm³ is not worth a burr."""


@dataclass(frozen=True, slots=True)
class Chamber:
    """One chamber, in cm³: as found, what its wall lets go (None: not measured), and what it gets."""

    number: int
    volume: Any
    room: float | None
    evened: Evened
    clearance: Any
    """Deck clearance, mm, or None."""
    crown: Any


def read_chambers(inputs: SimpleNamespace) -> tuple[Chamber, ...]:
    """Return the chambers that were measured, with the plan for them.

    Raises
    ------
    InputErrors
        The least wall or the area to grind is missing.
    """
    rows = [row for row, volume in enumerate(inputs.chamber) if volume is not None]
    if not rows:
        return ()
    errors = []
    area = inputs.grind_area
    least = None if inputs.least_wall is None else magnitude_in(inputs.least_wall, "mm")
    if least is None:
        errors.append(FieldError("least_wall", "Enter the least wall, in millimetres"))
    if area is None:
        errors.append(FieldError("grind_area", "Enter the area to grind in cm²"))
    if errors or least is None:
        raise InputErrors(*errors)
    off = magnitude_in(inputs.wall_error, "mm")
    burette = instrument("Error limit of the burette", inputs.volume_error, "cm³", inputs.volume_scatter)
    rooms = [
        None if inputs.wall[row] is None else room_to_wall(area, magnitude_in(inputs.wall[row], "mm") - off, least)
        for row in rows
    ]
    evened = even_volumes([magnitude_in(inputs.chamber[row], "cm³") for row in rows], rooms)
    return tuple(
        Chamber(
            number=row + 1,
            volume=burette.read(inputs.chamber[row], f"Chamber volume of cylinder {row + 1}"),
            room=room,
            evened=share,
            clearance=number_of(inputs.clearance[row]),
            crown=0.0 if inputs.crown[row] is None else number_in(inputs.crown[row], "cm³"),
        )
        for row, room, share in zip(rows, rooms, evened, strict=True)
    )


def _spread(inputs: SimpleNamespace, chambers: Sequence[Chamber]) -> tuple[Any, Verdict | None]:
    ordered = sorted(chambers, key=lambda chamber: float(bare(chamber.volume)[0]))
    spread = ordered[-1].volume - ordered[0].volume
    if inputs.may_differ is None:
        return spread, None
    best, expanded = bare(spread)
    return spread, judged(best, expanded or 0.0, high=magnitude_in(inputs.may_differ, "cm³"), grain=1e-9)


def chamber_values(inputs: SimpleNamespace, chambers: Sequence[Chamber]) -> Iterator[Value]:
    """Yield how far the chambers differ, and how far they then will."""
    if not chambers:
        return
    spread, verdict = _spread(inputs, chambers)
    yield Value(
        key="spread",
        label="Chambers differ by" + (f" ({word(verdict)})" if verdict else ""),
        quantity=quantity(spread, "cm³"),
        units=("cm³",),
        formula="largest chamber less smallest",
        source=DECISION,
        lead=True,
        given=() if inputs.may_differ is None else (("may differ by", inputs.may_differ),),
    )
    yield Value(
        key="spread_then",
        label="Chambers then differ by",
        quantity=quantity(max(chamber.evened.short for chamber in chambers), "cm³"),
        units=("cm³",),
        formula="what the walls keep the smallest short of the largest; measure again, this is a plan",
        source=GEOMETRY,
    )


def _ratio(inputs: SimpleNamespace, chamber: Chamber, more: float) -> Any:
    if inputs.bore is None or inputs.stroke is None or chamber.clearance is None:
        return None
    bore, stroke = (number_in(typed, "cm") for typed in (inputs.bore, inputs.stroke))
    room = clearance_volume(chamber.volume + more, bore_area(bore), chamber.clearance / 10, chamber.crown, 0.0)
    if bare(room)[0] <= 0:
        key = f"clearance.{chamber.number}"
        message = f"Deck clearance of cylinder {chamber.number} must leave room above the piston"
        raise InputErrors(FieldError(key, message))
    return compression_ratio(swept_volume(bore, stroke), room)


def chamber_table(inputs: SimpleNamespace, chambers: Sequence[Chamber]) -> Table:
    """Return what to take from each chamber, and the ratio before and after."""
    rows = []
    for chamber in chambers:
        out = chamber.evened.out
        stopped = chamber.evened.short >= LEAST_OUT
        why = "wall not measured" if chamber.room is None else "stopped by the wall"
        rows.append(
            Row(
                cells=(
                    chamber.number,
                    quantity(chamber.volume, "cm³"),
                    quantity(out, "cm³"),
                    quantity(out / inputs.grind_area * 10, "mm"),
                    quantity(bare(chamber.volume)[0] + out, "cm³"),
                    _ratio(inputs, chamber, 0.0),
                    _ratio(inputs, chamber, out),
                    why if stopped else "even with the largest",
                ),
                chosen=out >= LEAST_OUT,
            )
        )
    return Table(
        key="chambers",
        title="What evens the chambers",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="found", label="Found", unit="cm³"),
            Column(key="out", label="Take out", unit="cm³", strong=True),
            Column(key="depth", label="That is deep", unit="mm"),
            Column(key="then", label="Then", unit="cm³"),
            Column(key="ratio", label="Ratio now", places=2),
            Column(key="ratio_then", label="Ratio then", places=2),
            Column(key="why", label="How far", wide=True),
        ),
        rows=tuple(rows),
        formula="largest chamber less this one, but no more than area to grind · (wall − its error limit − least wall)"
        "; ratio = (swept volume + room above the piston) ÷ room above the piston",
        source=GEOMETRY,
        given=(("least wall", inputs.least_wall), ("area to grind", f"{inputs.grind_area:g} cm²")),
    )
