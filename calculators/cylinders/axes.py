"""The axes that pressures and leakage are drawn on, cylinder by cylinder."""

from __future__ import annotations

import math

from calculators.bench import Drawing
from calculators.bench.units import figures

LEFT, RIGHT = 40.0, 332.0


def scale_to(most: float) -> tuple[float, float]:
    """Return the step of an axis in round numbers, at most six of them, and where it ends."""
    step = next((step for step in (0.1, 0.2, 0.5, 1, 2, 5, 10, 20) if most <= 6 * step), 50)
    return step, step * math.ceil(most / step - 1e-9)


def axes(
    drawing: Drawing, span: tuple[float, float], scale: tuple[float, float], unit: str, numbers: list[int]
) -> None:
    """Draw both axes: upwards in a unit, to the right the cylinders."""
    (top, foot), (step, high) = span, scale
    drawing.line(LEFT, top - 6, LEFT, foot)
    drawing.line(LEFT, foot, RIGHT, foot)
    for mark in range(round(high / step) + 1):
        y = foot - (foot - top) * mark * step / high
        drawing.line(LEFT - 5, y, LEFT, y)
        drawing.text(LEFT - 8, y, figures(mark * step, 0 if step >= 1 else 1), anchor="end")
    pitch = (RIGHT - LEFT) / len(numbers)
    for place, number in enumerate(numbers):
        drawing.text(LEFT + (place + 0.5) * pitch, foot + 13, str(number), "number")
    drawing.text(LEFT - 8, foot + 29, unit, anchor="end")
    drawing.text((LEFT + RIGHT) / 2, foot + 29, "cylinder")
