"""One spring, free, fitted, fully open and coil-bound, side by side and to one scale."""

from __future__ import annotations

from functools import lru_cache

from calculators._drawing import Drawing
from calculators._report import Figure
from calculators._units import figures

_FOOT, _TALLEST, _HALF = 206.0, 150.0, 24.0
_PLACES = (50.0, 130.0, 210.0, 290.0)
_MOST_COILS = 14


@lru_cache(maxsize=32)
def spring_figure(
    number: int, heights: tuple[float, float, float, float], loads: tuple[float | None, ...], coils: float
) -> Figure:
    """Draw a spring at its four heights.

    Parameters
    ----------
    number : int
    heights : tuple of float, [mm]
        Free, fitted, at full lift, coil-bound.
    loads : tuple of float or None, [N]
        At each of them; None is not written.
    coils : float
        All of them, the dead ones too.
    """
    drawing = Drawing(340, 282)
    scale = _TALLEST / max(heights)
    words = ("free", "fitted", "full lift", "bound")
    drawing.line(8, _FOOT, 332, _FOOT, "edge")
    bound = _FOOT - heights[3] * scale
    drawing.line(8, bound, 332, bound, "route")
    for x, name, height, load in zip(_PLACES, words, heights, loads, strict=True):
        top = _FOOT - height * scale
        half_turns = max(2, min(round(2 * coils), 2 * _MOST_COILS))
        points = [
            (x + (_HALF if step % 2 else -_HALF), _FOOT - (_FOOT - top) * step / half_turns)
            for step in range(half_turns + 1)
        ]
        drawing.path(points, "edge")
        drawing.line(x - _HALF - 4, top, x + _HALF + 4, top, "arrow")
        drawing.text(x, top - 12, f"{figures(height, 1)}", "number")
        drawing.text(x, _FOOT + 18, name)
        if load is not None:
            drawing.text(x, _FOOT + 38, f"{figures(load, 0)} N", "number")
    drawing.text(170, 266, "heights in mm; broken line: coils touch")
    said = "; ".join(
        f"{name} {figures(height, 1)} mm" + (f" with {figures(load, 0)} N" if load is not None else "")
        for name, height, load in zip(words, heights, loads, strict=True)
    )
    return Figure(key=f"spring_{number}", title=f"Spring {number}", svg=drawing.svg(f"Spring {number}: {said}."))
