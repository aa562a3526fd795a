"""Each chamber cut open, and what is to come out of its roof."""

from __future__ import annotations

import math
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain

_CELL = 112.0


@lru_cache(maxsize=16)
def chambers_figure(chambers: tuple[tuple[int, float, float, float | None], ...]) -> Figure:
    """Draw each chamber with what comes out of it, and the line where its wall is down to the least.

    Parameters
    ----------
    chambers : tuple of (int, float, float, float or None)
        Cylinder, cm³ to take out, cm³ short of the largest after it, and cm³ that the wall lets go.
    """
    most = max((max(out + short, room or 0.0) for _, out, short, room in chambers), default=0.0)
    thick = 17 / max(most, 0.1)
    across = 2 if len(chambers) in (2, 4) else min(len(chambers), 3)
    width, rows = 340 / max(across, 1), math.ceil(len(chambers) / max(across, 1))
    drawing = Drawing(340, 26 + rows * _CELL)
    drawing.text(170, 12, "chambers, roof up; cm³ to take out")
    for place, (number, out, short, room) in enumerate(chambers):
        x, face = width * (place % across + 0.5), 26 + _CELL * (place // across) + 72
        half = min(44.0, width / 2 - 24)
        if out > 1e-9:
            drawing.cut(_dome(x, face, half, out * thick), "iron", "spacer")
        drawing.path(_dome(x, face, half, 0), "part", closed=True)
        if short > 1e-9:
            drawing.path(_dome(x, face, half, (out + short) * thick), "route")
        if room is not None:
            drawing.path(_dome(x, face, half, room * thick), "edge")
        drawing.text(x, face - 16, str(number), "number")
        drawing.text(x, face + 13, figures(out, 1), "number")
        if short >= 0.05:
            drawing.text(x, face + 29, f"{figures(short, 1)} short")
    said = "; ".join(
        f"cylinder {number}: {figures(out, 1)} cm³"
        + (f", {figures(short, 1)} short" if short >= 0.05 else "")
        + (f", wall allows {plain(round(room, 1))}" if room is not None else ", wall not measured")
        for number, out, short, room in chambers
    )
    return Figure(
        key="grinding",
        title="What to take out of each chamber, far too thick; outer line: the wall's least; dashes: short",
        svg=drawing.svg(f"Metal to take out of each chamber. {said[0].upper()}{said[1:]}."),
    )


def _dome(x: float, face: float, half: float, out: float) -> list[tuple[float, float]]:
    angles = [math.pi * step / 24 for step in range(25)]
    return [(x + (half + out) * math.cos(angle), face - (38 + out) * math.sin(angle)) for angle in angles]
