"""The speed ceilings by distance: as a table, as road speeds in each gear, and as a stair."""

from __future__ import annotations

import math
from collections.abc import Sequence

from calculators.bench import (
    COMMON_PRACTICE,
    Column,
    Drawing,
    Figure,
    Quantity,
    ResultTable,
    Source,
    TableRow,
    magnitude_in,
    quantity,
)
from calculators.bench.words import word
from calculators.formulas.port_flow import piston_speed
from calculators.formulas.running_in import Ceiling


def _until(one: Ceiling, odometer: int, last: str) -> int | str:
    return last if one.until is None else odometer + one.until


def ceiling_table(
    found: Sequence[Ceiling], odometer: int, unit: str, highest: Quantity, stroke: Quantity | None
) -> ResultTable:
    """Return each ceiling with its share of the highest speed and, where the stroke is known, the piston's speed."""
    per_speed = None if stroke is None else piston_speed(magnitude_in(stroke, "mm"), 1.0)
    return ResultTable(
        key="ceilings",
        title="Engine and piston speed by distance",
        columns=(
            Column(key="until", label=f"Until, {word(unit)}", strong=True),
            Column(key="share", label="Share", unit="%", places=0),
            Column(key="speed", label="r/min", unit="r/min", places=0, strong=True),
            *((Column(key="piston", label="Piston, mean", unit="m/s"),) if per_speed else ()),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    _until(one, odometer, "from there on"),
                    quantity(100 * one.share, "%"),
                    quantity(one.speed, "r/min"),
                    *((quantity(per_speed * one.speed, "m/s"),) if per_speed else ()),
                )
            )
            for one in found
        ),
        formula="ceiling = share · highest speed, down to the next mark; mean piston speed = 2 · stroke · speed",
        source=COMMON_PRACTICE,
        given=(("highest speed", highest), ("odometer", odometer)),
    )


def gear_table(found: Sequence[Ceiling], odometer: int, unit: str, gears: Sequence[Quantity]) -> ResultTable:
    """Return the road speed of each ceiling in each gear, down to the next whole one."""
    shown = "km/h" if unit == "km" else "mph"
    each = [magnitude_in(gear, shown) / 1000 for gear in gears]
    return ResultTable(
        key="gears",
        title=f"For the dash without a revolution counter: highest {shown} in each gear",
        columns=(
            Column(key="until", label=f"Until, {word(unit)}", strong=True),
            *(Column(key=f"gear_{number}", label=f"Gear {number}", places=0) for number in range(1, len(each) + 1)),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    _until(one, odometer, "run in"),
                    *(math.floor(one.speed * gear + 1e-9) for gear in each),
                )
            )
            for one in found
        ),
        formula="road speed = ceiling ÷ 1000 · road speed at 1000 r/min, down to the next whole one",
        source=Source("proportion: the gearing does not slip", "identity"),
        given=tuple((f"gear {number}", gear) for number, gear in enumerate(gears, 1)),
        on_paper=True,
    )


def stair(found: Sequence[Ceiling], unit: str) -> Figure:
    """Draw the ceilings as a stair, each tread as wide as the next whatever its distance."""
    left, right, foot, tallest = 12.0, 328.0, 150.0, 108.0
    drawing = Drawing(340, 198)
    width, highest = (right - left) / len(found), found[-1].speed
    for place, one in enumerate(found):
        x, high = left + place * width, tallest * one.speed / highest
        drawing.rectangle(x, foot - high, width, high, "part" if place else "spacer")
        drawing.text(x + width / 2, foot - high - 11, f"{one.speed:.0f}", "number")
        drawing.text(x if place else x + 4, foot + 14, f"{one.begin}")
    drawing.text(right, foot + 14, "on", anchor="end")
    drawing.text(170, foot + 36, f"r/min by {unit} since the first start")
    told = "; ".join(f"from {one.begin} {unit} {one.speed:.0f} r/min" for one in found)
    return Figure(
        key="stair",
        title="Highest engine speed by distance (treads not to scale)",
        svg=drawing.svg(f"Highest engine speed by distance, a stair: {told}."),
    )
