"""When each valve is open, over two turns."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.drawing import width_about
from calculators.bench.units import figures
from calculators.bench.words import word


@lru_cache(maxsize=32)
def cam_figure(wanted: tuple[tuple[float, float], ...], read: tuple[tuple[float, float] | None, ...]) -> Figure:
    """Draw when each valve is open, over two turns about overlap top dead centre.

    Parameters
    ----------
    wanted, read : tuple of (float, float), [°]
        Opens and shuts, after overlap top dead centre, the exhaust first; None where it was not measured.
    """
    ends = [angle for pair in (*wanted, *read) if pair for angle in pair]
    reach = max(270.0, max(map(abs, ends)) + 8)
    scale = 164 / reach
    rows = (("Exhaust", 0, 52.0), ("Inlet", 1, 92.0))
    drawing = Drawing(340, 146)
    for angle, words in ((-180, "bottom"), (0, "top, overlap"), (180, "bottom")):
        x = 170 + angle * scale
        drawing.line(x, 24, x, 126, "route")
        drawing.text(x, 12, word(words))
    for name, which, y in rows:
        start, end = (170 + angle * scale for angle in wanted[which])
        drawing.rectangle(start, y - 14, end - start, 18, "part")
        drawing.line((start + end) / 2, y - 14, (start + end) / 2, y + 4, "arrow")
        beside = _beside(start, end, [170 + angle * scale for angle in (-180, 0, 180)], width_about(name))
        if beside is not None:
            drawing.text(beside, y - 5, name, "number", anchor="start")
        pair = read[which]
        if pair:
            start, end = (170 + angle * scale for angle in pair)
            drawing.rectangle(start, y + 4, end - start, 8, "spacer")
            drawing.line((start + end) / 2, y + 1, (start + end) / 2, y + 15, "arrow")
    drawing.text(170, 138, "crank's degrees; lower bars: as measured" if any(read) else "degrees of the crank")
    said = "; ".join(
        f"{name.lower()} from {figures(pair[0], 1)}° to {figures(pair[1], 1)}°{words}"
        for pairs, words in ((wanted, ""), (read, " as measured"))
        for (name, _, _), pair in zip(rows, pairs, strict=True)
        if pair
    )
    return Figure(
        key="cam",
        title="When the valves are open; the line across each bar is its lobe centre",
        svg=drawing.svg(f"Valve openings after overlap top dead centre: {said}."),
    )


def _beside(start: float, end: float, lines: Sequence[float], width: float) -> float | None:
    """Return where a valve's name begins: in its bar before the lobe centre, or where neither bar nor line is."""
    if (end - start) / 2 >= width + 5:
        return start + 5
    free = (start - width - 5, end + 5, *(line + 5 for line in lines), *(line - width - 5 for line in lines))
    for left in free:
        right = left + width
        if left < 0 or right > 340 or (left < end and right > start) or any(left < line < right for line in lines):
            continue
        return left
    return None
