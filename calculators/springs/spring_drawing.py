"""The springs of one valve at several heights, side by side and to one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures

_FOOT, _TALLEST, _HALF = 186.0, 132.0, 24.0
_MOST_COILS = 14


@dataclass(frozen=True, slots=True)
class Height:
    """One state of the springs: what it is called, how long they are in mm, and their load in N."""

    name: str
    height: float
    load: float | None = None


def springs_at(places: Sequence[Height], coils: Sequence[float], margin: str = "") -> Figure:
    """Draw the springs of one valve at each height, an inner one inside the outer.

    Parameters
    ----------
    places : sequence of Height
        The last one coil-bound, where it is called so.
    coils : sequence of float
        All coils of the outer spring and of an inner one, the dead ones too.
    margin : str
        What is left between full lift and bound; nothing is written without it.
    """
    drawing = Drawing(340, 244)
    scale = _TALLEST / max(place.height for place in places)
    drawing.line(8, _FOOT, 332, _FOOT, "edge")
    bound = next((place.height for place in places if place.name == "bound"), None)
    if bound is not None:
        drawing.line(8, _FOOT - bound * scale, 332, _FOOT - bound * scale, "route")
    step = 320 / len(places)
    for number, place in enumerate(places):
        x, top = 10 + step * (number + 0.5), _FOOT - place.height * scale
        for width, look, turns in zip((_HALF, 0.55 * _HALF), ("edge", "thin"), coils, strict=False):
            spiral(drawing, x, top, _FOOT, width, turns, look)
        drawing.line(x - _HALF - 4, top, x + _HALF + 4, top, "arrow")
        drawing.text(x, top - 12, figures(place.height, 1), "number")
        drawing.text(x, _FOOT + 18, place.name)
        if place.load is not None:
            drawing.text(x, _FOOT + 37, f"{figures(place.load, 0)} N", "number")
    words = "; ".join(
        f"{place.name} {figures(place.height, 1)} mm" + (f", {figures(place.load, 0)} N" if place.load else "")
        for place in places
    )
    title = "Heights in mm" + ("; at the broken line the coils touch" if bound is not None else "")
    if margin:
        drawing.text(170, 12, margin, "number")
    told = f"The spring{'s' if len(coils) > 1 else ''} standing: {words}. {margin}".rstrip()
    return Figure(key="springs", title=title, svg=drawing.svg(told))


def spiral(drawing: Drawing, x: float, top: float, foot: float, half: float, coils: float, look: str) -> None:
    """Draw a standing spring as a zigzag of its coils."""
    half_turns = max(2, min(round(2 * coils), 2 * _MOST_COILS))
    drawing.path(
        [
            (x + (half if turn % 2 else -half), foot - (foot - top) * turn / half_turns)
            for turn in range(half_turns + 1)
        ],
        look,
    )
