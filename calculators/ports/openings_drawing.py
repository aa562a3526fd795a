"""The openings over one another, to scale."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures
from calculators.formulas.opening_shape import Opening

_WIDE, _HIGH = 300.0, 220.0
_LOOKS = ("edge", "route", "thin")
_SCALES = (1, 2, 5, 10, 20, 50, 100)


@lru_cache(maxsize=16)
def openings_figure(
    openings: tuple[tuple[str, Opening], ...],
    depths: tuple[tuple[float, ...], ...],
    worst: tuple[str, float, tuple[float, float]] | None,
) -> Figure:
    """Draw the openings over one another as seen along the flow.

    Parameters
    ----------
    openings : tuple of (str, RoundedRectangle or Traced)
        In the order of the flow.
    depths : tuple of tuple of float
        For each opening but the first: how far each point of its outline stands proud, mm.
    worst : (str, float, (float, float)), optional
        The opening that stands proud most, how far, and where.
    """
    extents = [shape.extent for _, shape in openings]
    left, bottom = min(extent[0] for extent in extents), min(extent[1] for extent in extents)
    right, top = max(extent[2] for extent in extents), max(extent[3] for extent in extents)
    scale = min(_WIDE / (right - left), _HIGH / (top - bottom))
    shift = 20 + (_WIDE - scale * (right - left)) / 2
    foot = 14 + scale * (top - bottom)

    def at(point: tuple[float, float]) -> tuple[float, float]:
        return shift + scale * (point[0] - left), foot - scale * (point[1] - bottom)

    drawing = Drawing(340, foot + 42 + 22 * (len(openings) + bool(worst)))
    for (_, shape), look in zip(openings, _LOOKS, strict=False):
        drawing.path([at(point) for point in shape.outline], look, closed=True)
    for (_, shape), each in zip(openings[1:], depths, strict=True):
        for run in _proud_runs(each):
            edge = [at(shape.outline[place % len(each)]) for place in run]
            behind = [at(_behind(shape.outline, place % len(each), each[place % len(each)])) for place in run]
            drawing.cut([*edge, *reversed(behind)], "iron", "spacer")
    if worst:
        drawing.circle(*at(worst[2]), 5, "chosen")
    _scale_bar(drawing, scale, foot + 22)
    y = foot + 48
    for (name, _), look in zip(openings, _LOOKS, strict=False):
        drawing.line(20, y, 64, y, look)
        drawing.text(72, y, name.capitalize(), "words", anchor="start")
        y += 22
    if worst:
        drawing.cut_box(20, y - 6, 44, 12, "iron", "spacer")
        drawing.text(72, y, f"Take off; dot: {figures(worst[1], 2)} mm", anchor="start")
    order = " to ".join(name for name, _ in openings)
    said = (
        f"The {worst[0]} stands {figures(worst[1], 2)} mm into the flow at most, where the dot is."
        if worst
        else "No edge stands into the flow."
    )
    return Figure(
        key="openings",
        title=f"Openings to scale, seen along the flow from {order}" if len(openings) > 1 else "The opening, to scale",
        svg=drawing.svg(f"Edges of {order} over one another, to scale. {said}"),
    )


def _proud_runs(depths: Sequence[float]) -> list[list[int]]:
    """Return the stretches of an edge that stand proud, as places along it; the last may run over its end."""
    count = len(depths)
    proud = [depth > 1e-6 for depth in depths]
    if all(proud):
        return [list(range(count + 1))]
    first = proud.index(False)
    runs: list[list[int]] = [[]]
    for place in range(first, first + count):
        if proud[place % count]:
            runs[-1].append(place)
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if len(run) > 1]


def _behind(outline: Sequence[tuple[float, float]], place: int, depth: float) -> tuple[float, float]:
    """Return the point that lies so deep behind an edge, square to it and away from the flow."""
    (x1, y1), (x2, y2) = outline[place - 1], outline[(place + 1) % len(outline)]
    along = math.hypot(x2 - x1, y2 - y1) or 1.0
    x, y = outline[place]
    turn = sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise((*outline, outline[0])))
    out = math.copysign(depth / along, turn)
    return x + (y2 - y1) * out, y - (x2 - x1) * out


def _scale_bar(drawing: Drawing, scale: float, y: float) -> None:
    length = max((step for step in _SCALES if step * scale <= 120), default=1)
    drawing.line(20, y, 20 + length * scale, y, "edge")
    for x in (20, 20 + length * scale):
        drawing.line(x, y - 5, x, y + 5, "edge")
    drawing.text(28 + length * scale, y, f"{length} mm", "words", anchor="start")
