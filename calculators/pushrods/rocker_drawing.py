"""A rocker at half lift before and after, seen along its shaft."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures

_SHAFT, _ARM = 120.0, 60.0
_PLACES = {
    "pushrod": "Adjuster at the pushrod end.",
    "valve": "Adjuster at the valve end.",
    "pivot": "Adjuster: a nut on the pivot.",
}


@dataclass(frozen=True, slots=True)
class Rocker:
    """Place of the adjuster, rocker ratio, degrees off square before and after, and the reach in mm."""

    place: str
    ratio: float
    leans: tuple[float, float]
    reach: float


def rocker_drawing(rocker: Rocker) -> Figure:
    """Draw it twice, pushrod below, valve above, the head's face to the left."""
    drawing = Drawing(340, 246)
    for row, lean in enumerate(rocker.leans):
        _panel(drawing, 170 * row, rocker, lean, rocker.reach if row else 0.0)
    words = (
        f"Rocker at half lift, off square {figures(rocker.leans[0], 1)}° before, {figures(rocker.leans[1], 1)}° after. "
        f"{_PLACES[rocker.place]}"
    )
    return Figure(
        key="rocker",
        title="The rocker at half lift, head to the left, valve above and pushrod below; the lean is drawn three times "
        "as large",
        svg=drawing.svg(words),
    )


def _panel(drawing: Drawing, left: float, rocker: Rocker, lean: float, reach: float) -> None:
    shown = math.radians(max(-28.0, min(28.0, 3 * lean)))
    leans = 0.0 if rocker.place == "pushrod" else shown
    x, screw = left + 108, max(-14.0, min(30.0, 12 * reach)) if rocker.place == "pushrod" else 0.0
    low = (x - _ARM * math.sin(leans), _SHAFT + _ARM * math.cos(leans))
    long = min(_ARM * rocker.ratio, 72)
    high = (x + long * math.sin(leans), _SHAFT - long * math.cos(leans))
    drawing.line(x, _SHAFT + 78, x, _SHAFT - 96, "route")
    drawing.text(left + 8, 14, ("before", "after")[left > 0], "number", "start")
    drawing.line(left + 4, low[1], low[0] - 22 - screw, low[1], "arrow")
    drawing.rectangle(left + 20, high[1] - 5, max(high[0] - 14 - left - 20, 8), 10, "stud")
    for (end_x, end_y), reaches, name in ((low, screw, "pushrod"), (high, 0.0, "valve")):
        drawing.line(end_x - 14 - reaches, end_y, end_x, end_y, "edge")
        drawing.circle(end_x - 16 - reaches, end_y, 6, "spacer" if rocker.place == name else "part")
    drawing.path([low, (x, _SHAFT), high], "contact")
    if screw:
        drawing.line(x, _SHAFT, low[0] - 16 - screw, low[1], "route")
    drawing.circle(x, _SHAFT, 9, "spacer" if rocker.place == "pivot" else "part")
    drawing.text(x + 14, _SHAFT, f"{figures(lean, 1)}°", "number", "start")
    drawing.text(left + 8, high[1] - 16, "valve", "words", "start")
    drawing.text(left + 8, low[1] + 18, "pushrod", "words", "start")
    if left == 0:
        drawing.line(170, 30, 170, 220, "thin")
