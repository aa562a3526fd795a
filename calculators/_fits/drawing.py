"""Drawings of fits and wear: the worst of each kind between its limits, and the worn bores."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from calculators._drawing import Drawing
from calculators._report import Figure
from calculators._units import figures

_VERDICT_WORDS = {"in": "in", "out": "out", "too close to call": "close", "": ""}
_LEFT, _RIGHT = 166.0, 250.0
_ENDS = (150.0, 270.0)
_PITCH = 24.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One kind's worst part: where it lies between its limits, 0 the least and 1 the greatest allowed."""

    name: str
    part: str
    place: float
    reach: float
    least: bool
    most: bool
    verdict: str
    said: str


@lru_cache(maxsize=32)
def limits_figure(bars: tuple[Bar, ...]) -> Figure:
    """Draw for each kind what is allowed as a band, and the worst part with its uncertainty on it."""
    drawing = Drawing(340, 34 + _PITCH * len(bars))
    drawing.text((_LEFT + _RIGHT) / 2, 11, "allowed", "words")
    for row, bar in enumerate(bars):
        y = 34 + _PITCH * row
        drawing.text(4, y, bar.name, "words", anchor="start")
        start = _LEFT if bar.least else _ENDS[0]
        end = _RIGHT if bar.most else _ENDS[1]
        drawing.rectangle(start, y - 8, end - start, 16, "band")
        for there, x in ((bar.least, _LEFT), (bar.most, _RIGHT)):
            if there:
                drawing.line(x, y - 10, x, y + 10, "edge")
        middle = _across(bar.place)
        drawing.line(_across(bar.place - bar.reach), y, _across(bar.place + bar.reach), y, "arrow")
        if bar.verdict == "out":
            drawing.path([(middle - 5, y - 5), (middle + 5, y + 5)], "arrow")
            drawing.path([(middle - 5, y + 5), (middle + 5, y - 5)], "arrow")
        else:
            drawing.circle(middle, y, 5, "chosen" if bar.verdict == "in" else "stud")
        drawing.text(336, y, _VERDICT_WORDS[bar.verdict], "number", anchor="end")
    said = "; ".join(bar.said for bar in bars)
    return Figure(
        key="worst",
        title="The worst part of each kind: dot in, cross out, ring too close to call; the stroke is its uncertainty",
        svg=drawing.svg(f"The worst part of each kind against its limits. {said}."),
    )


def _across(place: float) -> float:
    return min(_ENDS[1], max(_ENDS[0], _LEFT + (_RIGHT - _LEFT) * place))


@lru_cache(maxsize=32)
def bores_figure(
    bores: tuple[tuple[int, tuple[float, ...], tuple[float, ...]], ...], base: float, from_new: bool
) -> Figure:
    """Draw each bore cut open, its wear far too large, across the thrust on the left and along the pin on the right.

    Parameters
    ----------
    bores : tuple of (int, tuple of float, tuple of float)
        Cylinder, and its readings on the two axes, the top first.
    base : float
        Diameter that the dashed walls stand for.
    from_new : bool
        Whether that is the bore when new, or else the least reading of all.
    """
    most = max(reading - base for _, across, along in bores for reading in across + along)
    scale = 34 / max(most, 0.01)
    rows = (len(bores) + 1) // 2
    drawing = Drawing(340, rows * 138 + 4)
    for place, (number, across, along) in enumerate(bores):
        x, y = 84 + 170 * (place % 2), 138 * (place // 2)
        drawing.text(x, y + 12, f"Cylinder {number}", "number")
        depth = 74 / max(len(across) - 1, 1)
        walls = []
        for side, readings in ((-1, across), (1, along)):
            points = [
                (x + side * (22 + max(-20.0, scale * (reading - base))), y + 44 + depth * step)
                for step, reading in enumerate(readings)
            ]
            if len(points) == 1:
                points.append((points[0][0], y + 118))
            walls.append(points)
            drawing.text(x + side * 40, y + 30, figures(readings[0] - base, 2), "words")
            drawing.text(x + side * 40, y + 131, figures(readings[-1] - base, 2), "words")
        drawing.path([*walls[0], *reversed(walls[1])], "part", closed=True)
        for side in (-1, 1):
            drawing.line(x + side * 22, y + 40, x + side * 22, y + 122, "route")
        for points in walls:
            for point in points:
                drawing.circle(*point, 3, "chosen")
    against = "the bore when new" if from_new else "the least reading"
    said = "; ".join(
        f"cylinder {number}: across the thrust {', '.join(figures(one - base, 2) for one in across)}, "
        f"along the pin {', '.join(figures(one - base, 2) for one in along)}"
        for number, across, along in bores
    )
    return Figure(
        key="bores",
        title=f"Bores cut open, top upwards, thrust left, pin right; mm over {against} (dashes), not to scale",
        svg=drawing.svg(f"Bores, in mm over {against}, from top to bottom. {said[0].upper()}{said[1:]}."),
    )
