"""A spring whose coils swing, and how often in one turn of the camshaft."""

from __future__ import annotations

import math

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures

_LEFT, _RIGHT, _COILS = 24.0, 316.0, 26
_MOST = 20.0


def surging(swings: float, limit: float) -> Figure:
    """Draw a lying spring with its coils crowded and spread, and its swings against the limit."""
    drawing = Drawing(340, 190)
    points: list[tuple[float, float]] = []
    for half in range(2 * _COILS + 1):
        part = half / (2 * _COILS)
        crowded = part + 0.045 * math.sin(2 * math.pi * part * 2)
        points.append((_LEFT + crowded * (_RIGHT - _LEFT), 52 + (24 if half % 2 else -24)))
    drawing.path(points, "edge")
    for x in (_LEFT - 4, _RIGHT + 4):
        drawing.line(x, 22, x, 82, "arrow")
    drawing.text(28, 98, "head", anchor="middle")
    drawing.text(318, 98, "retainer", anchor="end")
    drawing.text(170, 98, "crowded and spread", anchor="middle")
    most = max(_MOST, swings)

    def across(number: float) -> float:
        return _LEFT + number / most * (_RIGHT - _LEFT)

    y = 142.0
    drawing.line(_LEFT, y, _RIGHT, y, "edge")
    for tick in range(0, math.floor(most) + 1, max(1, math.ceil(most / 40))):
        drawing.line(across(tick), y - 4, across(tick), y + 4, "thin")
    drawing.line(across(limit), y - 14, across(limit), y + 14, "route")
    drawing.text(max(across(limit), 52), y + 26, f"{limit:.0f} wanted")
    drawing.circle(across(swings), y, 6, "pointer" if swings >= limit else "halt")
    drawing.text(min(max(across(swings), 60), 280), y - 20, f"{figures(swings, 1)} swings", "number")
    if across(limit) - _LEFT > 64:
        drawing.text(_LEFT, y + 26, "0")
    drawing.text(_RIGHT, y + 26, f"{most:.0f}")
    return Figure(
        key="surge",
        title="A surging spring, lying down; below, its swings in one turn of the camshaft",
        svg=drawing.svg(
            f"The spring swings {figures(swings, 1)} times in a turn of the camshaft; at least {limit:.0f} are wanted."
        ),
    )
