"""The map of a stud pattern, to scale, numbered in the order of tightening."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from functools import lru_cache

from calculators.bench.drawing import LETTERS, Drawing, around
from calculators.bench.report import Figure
from calculators.formulas.tightening_order import Point, centroid

_WIDTH, _MARGIN, _TALLEST = 340.0, 48.0, 300.0
_SCREW = 10.0
_FACES = (
    "Up is at the top. The pulley end is to the left on the right head and to the right on the left head, "
    "right and left as seen from the pulley."
)
_REACH = 40.0
"""Half of what a finger may touch for one nut: 48 pixels on a phone, also where a neighbour takes half a side."""


@lru_cache(maxsize=16)
def stud_map(
    names: tuple[str, ...],
    positions: tuple[Point, ...],
    order: tuple[int, ...],
    rows: tuple[int, ...] = (),
    screws: tuple[tuple[str, Point], ...] = (),
) -> Figure:
    """Draw the studs.

    Parameters
    ----------
    names : tuple of str
    positions : tuple of (x, y), [mm]
        Seen from outside the part, y upwards.
    order : tuple of int
        Indices into ``positions``, first to last.
    rows : tuple of int, optional
        Where the studs can be moved: the row of the table that each stands in.
    screws : tuple of (str, (x, y)), [mm], optional
        Screws besides the studs, by name.
    """
    places = (*positions, *(place for _, place in screws))
    xs, ys = [x for x, _ in places], [y for _, y in places]
    span_x, span_y = max(xs) - min(xs), max(ys) - min(ys)
    scale = min((_WIDTH - 2 * _MARGIN) / max(span_x, 1.0), _TALLEST / max(span_y, 1.0))
    left, height = (_WIDTH - span_x * scale) / 2, span_y * scale + 2 * _MARGIN + 62

    def on_paper(point: Point) -> Point:
        return left + (point[0] - min(xs)) * scale, _MARGIN + (max(ys) - point[1]) * scale

    at = [on_paper(position) for position in positions]
    touched = _reaches([on_paper(place) for place in places])
    nearest = min(math.dist(one, other) for one, other in itertools.combinations(at, 2))
    radius = min(15.0, max(10.0, 0.48 * nearest))
    middle_x, middle_y = on_paper(centroid(positions))
    drawing = Drawing(_WIDTH, height)
    drawing.rectangle(left - 40, _MARGIN - 40, span_x * scale + 80, span_y * scale + 80, "part", round=16)
    drawing.path([at[index] for index in order], "route")
    drawing.line(middle_x - 6, middle_y, middle_x + 6, middle_y, "thin")
    drawing.line(middle_x, middle_y - 6, middle_x, middle_y + 6, "thin")
    for number, index in enumerate(order, 1):
        x, y = at[index]
        facts = dict(zip(("x", "y"), positions[index], strict=True))
        known = {"row": rows[index], **facts, "scale": f"{scale:.5g}"} if rows else _nut("Nut", names[index])
        with drawing.mark(**known):
            if rows:
                drawing.circle(x, y, min(24.0, max(radius, nearest / 2)), "reach")
            else:
                drawing.path(touched[index], "reach", closed=True)
            drawing.circle(x, y, radius, "stud first" if number == 1 else "stud")
            drawing.text(x, y, str(number), "number", size=16 if radius > 12 else LETTERS)
            drawing.text(x, y + (radius + 11) * (1 if y > middle_y else -1), names[index])
    for (name, place), reach in zip(screws, touched[len(positions) :], strict=True):
        x, y = on_paper(place)
        with drawing.mark(**_nut("Screw", name)):
            drawing.path(reach, "reach", closed=True)
            drawing.circle(x, y, _SCREW, "stud")
            drawing.path([around(x, y, 0.6 * _SCREW, 60.0 * corner) for corner in range(6)], "edge", closed=True)
            drawing.text(x, y + (_SCREW + 11) * (1 if y > middle_y else -1), name)
    _scale_bar(drawing, scale, height - 46)
    _facing(drawing, height - 26)
    said = ", ".join(f"{number} is {names[index]}" for number, index in enumerate(order, 1))
    label = f"Stud pattern seen from outside, with the tightening order: {said}. {_FACES}"
    if screws:
        label = f"{label} Screws besides the studs: {', '.join(name for name, _ in screws)}."
    return Figure(
        key="stud_map",
        title="Studs to scale, numbered in the order of tightening; right and left as seen from the pulley"
        + ("; a hexagon is a screw" if screws else ""),
        svg=drawing.svg(label),
    )


def _scale_bar(drawing: Drawing, scale: float, y: float) -> None:
    long = next((size for size in (50, 20, 10) if size * scale <= 80), 5)
    end = 12 + long * scale
    drawing.path([(12, y - 6), (12, y), (end, y), (end, y - 6)], "thin")
    drawing.text(end + 6, y - 1, f"{long} mm", anchor="start")


def _facing(drawing: Drawing, y: float) -> None:
    """Say which way is up, and where the pulley end lies of either head, each seen from its own outside."""
    drawing.arrow(170, y, 170, y - 28)
    drawing.text(178, y - 20, "up", anchor="start")
    for side, anchor, head in ((-1, "end", "right head"), (1, "start", "left head")):
        drawing.arrow(170, y, 170 + side * 44, y)
        drawing.text(170 + side * 50, y, head, anchor=anchor)
        drawing.text(170 + side * 8, y + 16, "pulley end", anchor=anchor)


def _nut(what: str, name: str) -> dict[str, str]:
    return {"nut": name, "called": f"{what} {name}"}


def _reaches(centres: Sequence[Point]) -> list[list[Point]]:
    """Return for each centre the outline of what is nearer to it than to any other, as far as a finger goes."""
    return [_reach(centre, [other for other in centres if other != centre]) for centre in centres]


def _reach(centre: Point, others: Sequence[Point]) -> list[Point]:
    x, y = centre
    outline = [(x + _REACH * right, y + _REACH * down) for right, down in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    for other in others:
        outline = _nearer(outline, centre, other)
    return outline


def _nearer(outline: Sequence[Point], centre: Point, other: Point) -> list[Point]:
    """Return the part of a convex outline that is nearer to ``centre`` than to ``other``."""

    def behind(point: Point) -> float:
        return math.dist(point, other) ** 2 - math.dist(point, centre) ** 2  # linear: less than 0 beyond the middle

    kept: list[Point] = []
    for here, there in itertools.pairwise((*outline, outline[0])):
        inside, next_inside = behind(here), behind(there)
        if inside >= 0:
            kept.append(here)
        if inside * next_inside < 0:
            share = inside / (inside - next_inside)
            kept.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
    return kept
