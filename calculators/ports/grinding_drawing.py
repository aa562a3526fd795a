"""What each chamber gets, as bars."""

from __future__ import annotations

from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain


@lru_cache(maxsize=16)
def chambers_figure(chambers: tuple[tuple[int, float, float, float | None], ...]) -> Figure:
    """Draw what each chamber gets as a bar, with a mark where its wall is down to the least.

    Parameters
    ----------
    chambers : tuple of (int, float, float, float or None)
        Cylinder, cm³ to take out, cm³ short of the largest after it, and cm³ that the wall lets go.
    """
    most = max((out + short for _, out, short, _ in chambers), default=0.0)
    scale = 130 / max(most, 0.1)
    drawing = Drawing(340, 30 + 28 * len(chambers))
    drawing.text(108, 10, "cm³ to take out", "words", anchor="start")
    for row, (number, out, short, room) in enumerate(chambers):
        y = 36 + 28 * row
        drawing.text(4, y, f"Cylinder {number}", "number", anchor="start")
        drawing.line(108, y - 11, 108, y + 11, "edge")
        drawing.rectangle(108, y - 8, scale * out, 16, "part")
        if short > 1e-9:
            drawing.rectangle(108 + scale * out, y - 8, scale * short, 16, "route")
        if room is not None and room * scale <= 150:
            drawing.line(108 + scale * room, y - 12, 108 + scale * room, y + 12, "arrow")
        words = figures(out, 1) if short < 0.05 else f"{figures(out, 1)}, {figures(short, 1)} short"
        drawing.text(336, y, words, "words", anchor="end")
    said = "; ".join(
        f"cylinder {number}: {figures(out, 1)} cm³"
        + (f", {figures(short, 1)} short" if short >= 0.05 else "")
        + (f", wall allows {plain(round(room, 1))}" if room is not None else ", wall not measured")
        for number, out, short, room in chambers
    )
    return Figure(
        key="grinding",
        title="What to take out of each chamber; heavy line: wall down to its least; dashes: still short",
        svg=drawing.svg(f"Metal to take out of each chamber. {said[0].upper()}{said[1:]}."),
    )
