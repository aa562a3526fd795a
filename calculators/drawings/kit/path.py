"""Lines and outlines: made, moved, turned, scaled, and asked what lies inside."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

type Point = tuple[float, float]

_ROUND = 4 / 3 * math.tan(math.pi / 8)
"""How far the handles of a quarter circle reach, in radii."""


class Path:
    """Strokes of a pen: M to a place, L straight, C in a curve with two handles, Z back to where the pen was put.

    No dataclass, like all of the kit: making one wants modules that the browser's memory is without.
    """

    __slots__ = ("steps",)

    def __init__(self, steps: tuple[tuple[str, tuple[Point, ...]], ...]) -> None:
        self.steps = steps

    def __add__(self, other: Path) -> Path:
        return Path(self.steps + other.steps)

    def changed(self, change: Callable[[Point], Point]) -> Path:
        return Path(tuple((pen, tuple(map(change, points))) for pen, points in self.steps))

    def moved(self, x: float, y: float) -> Path:
        return self.changed(lambda point: (point[0] + x, point[1] + y))

    def scaled(self, by: float, across: float | None = None) -> Path:
        return self.changed(lambda point: (point[0] * by, point[1] * (by if across is None else across)))

    def turned(self, degrees: float, x: float = 0, y: float = 0) -> Path:
        """Turn about (x, y), clockwise as seen on the page."""
        sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
        return self.changed(
            lambda p: (x + (p[0] - x) * cosine - (p[1] - y) * sine, y + (p[0] - x) * sine + (p[1] - y) * cosine)
        )

    def lines(self) -> list[list[Point]]:
        """Return each stroke as straight pieces; a closed one ends where it began."""
        strokes: list[list[Point]] = []
        for pen, points in self.steps:
            if pen == "M":
                strokes.append([points[0]])
            elif pen == "L":
                strokes[-1].append(points[0])
            elif pen == "C":
                strokes[-1].extend(_bend(strokes[-1][-1], *points))
            else:
                strokes[-1].append(strokes[-1][0])
        return strokes

    def holds(self, point: Point) -> bool:
        """Tell whether a point lies inside; what two strokes enclose together is a hole."""
        x, y = point
        inside = False
        for stroke in self.lines():
            for (x1, y1), (x2, y2) in zip(stroke, [*stroke[1:], stroke[0]], strict=True):
                if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
                    inside = not inside
        return inside

    def text(self) -> str:
        """Return the path as SVG writes it."""
        return "".join(pen + " ".join(f"{_at(x)} {_at(y)}" for x, y in points) for pen, points in self.steps)


def _at(number: float) -> str:
    return f"{round(number, 1):g}"


def _bend(a: Point, b: Point, c: Point, d: Point) -> list[Point]:
    pieces = 8
    return [
        (
            (1 - t) ** 3 * a[0] + 3 * (1 - t) ** 2 * t * b[0] + 3 * (1 - t) * t * t * c[0] + t**3 * d[0],
            (1 - t) ** 3 * a[1] + 3 * (1 - t) ** 2 * t * b[1] + 3 * (1 - t) * t * t * c[1] + t**3 * d[1],
        )
        for t in (step / pieces for step in range(1, pieces + 1))
    ]


def line(*points: Point) -> Path:
    return Path((("M", (points[0],)), *(("L", (point,)) for point in points[1:])))


def closed(*points: Point) -> Path:
    return Path((*line(*points).steps, ("Z", ())))


def box(x: float, y: float, width: float, height: float, round_: float = 0) -> Path:
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return rounded(corners, round_) if round_ else closed(*corners)


def rounded(points: Sequence[Point], radius: float | Sequence[float]) -> Path:
    """Return a closed outline, its corners rounded each by the radius or by its own."""
    radii = [radius] * len(points) if isinstance(radius, int | float) else list(radius)
    steps: list[tuple[str, tuple[Point, ...]]] = []
    for index, corner in enumerate(points):
        before, after = points[index - 1], points[(index + 1) % len(points)]
        into, out = _towards(corner, before, radii[index]), _towards(corner, after, radii[index])
        steps.append(("L" if steps else "M", (into,)))
        if radii[index]:
            steps.append(("C", (_between(into, corner, 0.56), _between(out, corner, 0.56), out)))
    return Path((*steps, ("Z", ())))


def _towards(corner: Point, other: Point, radius: float) -> Point:
    length = math.dist(corner, other) or 1
    return _between(corner, other, min(radius / length, 0.5))


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def disc(x: float, y: float, radius: float, high: float | None = None) -> Path:
    """Return a circle, or an ellipse that is so high from its middle."""
    tall = radius if high is None else high
    a, b = radius * _ROUND, tall * _ROUND
    return Path(
        (
            ("M", ((x + radius, y),)),
            ("C", ((x + radius, y + b), (x + a, y + tall), (x, y + tall))),
            ("C", ((x - a, y + tall), (x - radius, y + b), (x - radius, y))),
            ("C", ((x - radius, y - b), (x - a, y - tall), (x, y - tall))),
            ("C", ((x + a, y - tall), (x + radius, y - b), (x + radius, y))),
            ("Z", ()),
        )
    )


def around(x: float, y: float, radius: float, angle: float) -> Point:
    """Return the point at ``angle`` degrees from the top, clockwise, on a circle."""
    return x + radius * math.sin(math.radians(angle)), y - radius * math.cos(math.radians(angle))


def arc(x: float, y: float, radius: float, start: float, turn: float) -> Path:
    """Return part of a circle: ``start`` and ``turn`` in degrees, from the top, clockwise."""
    pieces = max(1, math.ceil(abs(turn) / 90))
    step = turn / pieces
    reach = radius * 4 / 3 * math.tan(math.radians(step) / 4)
    steps: list[tuple[str, tuple[Point, ...]]] = [("M", (around(x, y, radius, start),))]
    for piece in range(pieces):
        a, b = start + piece * step, start + (piece + 1) * step
        (x1, y1), (x2, y2) = around(x, y, radius, a), around(x, y, radius, b)
        (ax, ay), (bx, by) = around(0, 0, reach, a + 90), around(0, 0, reach, b + 90)
        steps.append(("C", ((x1 + ax, y1 + ay), (x2 - bx, y2 - by), (x2, y2))))
    return Path(tuple(steps))


def sector(x: float, y: float, inner: float, outer: float, start: float, turn: float) -> Path:
    """Return a piece of a ring, closed."""
    out, back = arc(x, y, outer, start, turn), arc(x, y, inner, start + turn, -turn)
    return Path((*out.steps, ("L", back.steps[0][1]), *back.steps[1:], ("Z", ())))


def curve(*points: Point) -> Path:
    """Return a smooth line through the points."""
    return _smooth([points[0], *points, points[-1]])


def blob(*points: Point) -> Path:
    """Return a smooth closed outline through the points."""
    return Path((*_smooth([points[-1], *points, points[0], points[1]]).steps, ("Z", ())))


def _smooth(points: Sequence[Point]) -> Path:
    steps: list[tuple[str, tuple[Point, ...]]] = [("M", (points[1],))]
    for before, a, b, after in zip(points, points[1:], points[2:], points[3:], strict=False):
        handle = (a[0] + (b[0] - before[0]) / 6, a[1] + (b[1] - before[1]) / 6)
        other = (b[0] - (after[0] - a[0]) / 6, b[1] - (after[1] - a[1]) / 6)
        steps.append(("C", (handle, other, b)))
    return Path(tuple(steps))


def bar(a: Point, b: Point, width: float, round_: bool = False) -> Path:
    """Return a straight bar of a width from one point to another."""
    length = math.dist(a, b) or 1
    x, y = (b[1] - a[1]) / length * width / 2, -(b[0] - a[0]) / length * width / 2
    corners = ((a[0] + x, a[1] + y), (b[0] + x, b[1] + y), (b[0] - x, b[1] - y), (a[0] - x, a[1] - y))
    return rounded(corners, width / 2) if round_ else closed(*corners)


def hatched(path: Path, spacing: float) -> Path:
    """Return the hatch of a cut face: lines at 45°, so far apart, clipped to the outline."""
    strokes = path.turned(45).lines()
    heights = [y for stroke in strokes for _, y in stroke]
    steps: list[tuple[str, tuple[Point, ...]]] = []
    row = math.ceil(min(heights) / spacing) * spacing
    while row < max(heights):
        hits = sorted(_crossings(strokes, row + 0.013))
        for left, right in zip(hits[::2], hits[1::2], strict=False):
            if right - left > 1.5:
                steps += [("M", ((left, row),)), ("L", ((right, row),))]
        row += spacing
    return Path(tuple(steps)).turned(-45)


def _crossings(strokes: Iterable[Sequence[Point]], y: float) -> Iterable[float]:
    for stroke in strokes:
        for (x1, y1), (x2, y2) in pairwise(stroke):
            if (y1 > y) != (y2 > y):
                yield x1 + (y - y1) / (y2 - y1) * (x2 - x1)


def outline(*stations: Point | tuple[Point, Point, Point]) -> Path:
    """Return a closed outline from station to station: straight to a place, or bent to it by its two handles."""
    steps: list[tuple[str, tuple[Point, ...]]] = []
    for station in stations:
        if len(station) == 3:
            steps.append(("C", station))
        else:
            steps.append(("L" if steps else "M", (station,)))
    return Path((*steps, ("Z", ())))


def symmetric(x: float, *stations: Point | tuple[Point, Point, Point]) -> Path:
    """Return a closed outline that is alike on both sides of an upright line at ``x``; the right side is given."""
    way = outline(*stations).steps[:-1]
    places = [points[-1] for _, points in way]
    back: list[Point | tuple[Point, Point, Point]] = [_other_side(x, places[-1])]
    for (pen, points), before in zip(way[:0:-1], places[-2::-1], strict=True):
        there = _other_side(x, before)
        back.append((_other_side(x, points[1]), _other_side(x, points[0]), there) if pen == "C" else there)
    return outline(*stations, *back)


def _other_side(x: float, point: Point) -> Point:
    return 2 * x - point[0], point[1]
