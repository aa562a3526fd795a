"""What the drawings of this room have in common: a dimension, and each kind's worst part on the band it is allowed."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures
from calculators.bench.words import word
from calculators.fits.fit import SHORT_WORDS, Fit, worst_of_each

WIDTH = 340.0
_LEFT, _RIGHT = 70.0, 210.0
_ENDS = (30.0, 250.0)
_PITCH = 46.0
Sketch = Callable[[Drawing, str], None]
"""Draws the part 340 wide, and writes a number at the dimension that was measured."""


def dimension(drawing: Drawing, start: tuple[float, float], end: tuple[float, float], reach: float = 16) -> None:
    """Draw two arrows that point at each other from outside: the gap between them is what was measured."""
    (x1, y1), (x2, y2) = start, end
    length = math.hypot(x2 - x1, y2 - y1) or 1.0
    along = (x2 - x1) / length * reach, (y2 - y1) / length * reach
    drawing.arrow(x1 - along[0], y1 - along[1], x1, y1, head=7)
    drawing.arrow(x2 + along[0], y2 + along[1], x2, y2, head=7)


def shown(title: str, fits: Sequence[Fit], sketch: Sketch, height: float) -> Figure:
    """Draw the thing with its worst number, and under it where the worst of each kind lies in what is allowed.

    Parameters
    ----------
    title : str
        What is drawn, and from where it is seen.
    fits : sequence of Fit
    sketch : callable
    height : float
        Of the sketch.
    """
    worst = worst_of_each(fits)
    drawing = Drawing(WIDTH, height + _PITCH * len(worst))
    sketch(drawing, f"{figures(worst[0].best, 3)} mm")
    for row, fit in enumerate(worst):
        _strip(drawing, height + _PITCH * row, fit)
    return Figure(
        key="worst",
        title=f"{title}; below, the worst against what is allowed: dot in, cross out, ring too close to call",
        svg=drawing.svg(f"{title}. {'. '.join(map(_said, worst))}."),
    )


def strips(fits: Sequence[Fit]) -> Figure:
    """Draw the worst of each kind against what is allowed, by itself."""
    worst = worst_of_each(fits)
    drawing = Drawing(WIDTH, _PITCH * len(worst) + 4)
    for row, fit in enumerate(worst):
        _strip(drawing, _PITCH * row, fit)
    return Figure(
        key="limits",
        title="The worst of each against what is allowed: dot in, cross out, ring too close to call",
        svg=drawing.svg(f"The worst of each against what is allowed. {'. '.join(map(_said, worst))}."),
    )


def _said(fit: Fit) -> str:
    verdict = f", {word(fit.verdict)}" if fit.verdict else ""
    return f"{fit.kind.label}, {fit.part.name}: {figures(fit.best, 3)} mm, {fit.kind.bounds}{verdict}"


def _strip(drawing: Drawing, top: float, fit: Fit) -> None:
    drawing.text(4, top + 10, f"{fit.kind.label}, {fit.part.short}", anchor="start")
    drawing.text(336, top + 10, f"{figures(fit.best, 3)} mm", "number", anchor="end")
    y, kind = top + 31, fit.kind
    if fit.verdict is None:
        drawing.text(4, y, "no limit given", anchor="start")
        return
    low, high = kind.low, kind.high
    start, end = (low or 0.0), (high if high is not None else 2 * (low or 0.0))
    width = max(end - start, 1e-3)

    def across(size: float) -> float:
        return min(_ENDS[1], max(_ENDS[0], _LEFT + (_RIGHT - _LEFT) * (size - start) / width))

    left = _LEFT if low is not None else _ENDS[0]
    right = _RIGHT if high is not None else _ENDS[1]
    drawing.rectangle(left, y - 8, right - left, 16, "band")
    for bound, x in ((low, _LEFT), (high, _RIGHT)):
        if bound is not None:
            drawing.line(x, y - 10, x, y + 10, "edge")
    middle = across(fit.best)
    drawing.line(across(fit.best - fit.expanded), y, across(fit.best + fit.expanded), y, "arrow")
    if fit.verdict == "out":
        drawing.path([(middle - 5, y - 5), (middle + 5, y + 5)], "arrow")
        drawing.path([(middle - 5, y + 5), (middle + 5, y - 5)], "arrow")
    else:
        drawing.circle(middle, y, 5, "chosen" if fit.verdict == "in" else "stud")
    drawing.text(336, y, SHORT_WORDS[fit.verdict], "number", anchor="end")
