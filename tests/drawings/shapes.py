"""A figure read back from its SVG, and what a reader would stumble over in it."""

from __future__ import annotations

import math
import re
from itertools import combinations, pairwise
from typing import NamedTuple
from xml.etree import ElementTree

from calculators.drawings.kit.letters import width_of

SVG = "{http://www.w3.org/2000/svg}"
HIDES = {"part", "stud", "chosen", "spacer", "pointer", "head", "space", "halt"}
"""The looks that are filled, and so hide what was painted before."""
UNSEEN = {"reach", "hatch"}
"""The looks whose lines are no outline."""


class Shape(NamedTuple):
    """One line or outline as straight pieces, with the names of its look."""

    looks: frozenset[str]
    points: tuple[tuple[float, float], ...]
    closed: bool

    def holds(self, point):
        """Tell whether a point lies inside."""
        inside = False
        for (x1, y1), (x2, y2) in pairwise((*self.points, self.points[0])):
            crosses = (y1 > point[1]) != (y2 > point[1])
            if crosses and point[0] < x1 + (x2 - x1) * (point[1] - y1) / (y2 - y1):
                inside = not inside
        return inside


class Words(NamedTuple):
    """Words and the box they stand in."""

    text: str
    left: float
    top: float
    right: float
    foot: float
    size: float

    @property
    def body(self):
        """Where the letters have their weight, without what hangs below the line."""
        trim = 0.14 * self.size
        return self.left + 1, self.top + trim, self.right - 1, self.foot - trim


def read(svg):
    """Return width and height of a figure, and its shapes and words in the order they are painted."""
    root = ElementTree.fromstring(svg)  # noqa: S314 (our own text)
    *_, width, height = map(float, root.get("viewBox").split())
    painted = [made for made in map(_made, root.iter()) if made]
    return width, height, painted


def _made(element):
    def at(*names):
        return [float(element.get(name, 0)) for name in names]

    looks = frozenset((element.get("class") or "").split())
    match element.tag.removeprefix(SVG):
        case "line":
            x1, y1, x2, y2 = at("x1", "y1", "x2", "y2")
            return Shape(looks, ((x1, y1), (x2, y2)), closed=False)
        case "rect":
            x, y, wide, high = at("x", "y", "width", "height")
            return Shape(looks, ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high)), closed=True)
        case "circle":
            x, y, radius = at("cx", "cy", "r")
            angles = [math.radians(10 * step) for step in range(36)]
            round_ = tuple((x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in angles)
            return Shape(looks, round_, closed=True)
        case "path":
            steps = element.get("d")
            numbers = [float(number) for number in re.findall(r"-?[\d.]+(?:e-?\d+)?", steps)]
            return Shape(looks, tuple(zip(numbers[::2], numbers[1::2], strict=True)), closed=steps.endswith("Z"))
        case "text":
            x, y = at("x", "y")
            (size,) = at("font-size")
            text = "".join(element.itertext())
            wide = width_of(text, size)
            left = x - wide * {"start": 0, "middle": 0.5, "end": 1}[element.get("text-anchor")]
            middle = y - 0.35 * size
            return Words(text, left, middle - size / 2, left + wide, middle + size / 2, size)
    return None


def faults(svg):
    """Return in words what a reader would stumble over, found by the geometry alone."""
    width, height, painted = read(svg)
    found = []
    words = [(index, one) for index, one in enumerate(painted) if isinstance(one, Words)]
    shapes = [(index, one) for index, one in enumerate(painted) if isinstance(one, Shape)]
    for index, one in words:
        if one.left < -1 or one.top < -1 or one.right > width + 1 or one.foot > height + 2:
            found.append(f"{one.text!r} runs out of the frame")
        corners = [((one.left + one.right) / 2, (one.top + one.foot) / 2)]
        found += [
            f"{one.text!r} is painted over"
            for at, shape in shapes
            if at > index and shape.closed and shape.looks & HIDES and any(map(shape.holds, corners))
        ]
    for (_, one), (_, other) in combinations(words, 2):
        a, b = one.body, other.body
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]:
            found.append(f"{one.text!r} lies on {other.text!r}")
    over = [(index, shape, _frame(shape)) for index, shape in shapes if shape.closed and shape.looks & HIDES]
    for index, shape in shapes:
        if shape.looks & UNSEEN:
            continue
        ring = (*shape.points, shape.points[0]) if shape.closed else shape.points
        for piece in pairwise(ring):
            for _, one in words:
                if not enters(piece, one.body):
                    continue
                seen = (part for part in _parts(piece) if enters(part, one.body))
                if any(not _hidden(part, index, over) for part in seen):
                    found.append(f"{one.text!r} lies on a line ({' '.join(sorted(shape.looks))})")
    return sorted(set(found))


def _frame(shape):
    xs, ys = [x for x, _ in shape.points], [y for _, y in shape.points]
    return min(xs), min(ys), max(xs), max(ys)


def _parts(piece):
    a, b = piece
    count = max(1, math.ceil(math.dist(a, b) / 3))
    marks = [(a[0] + (b[0] - a[0]) * k / count, a[1] + (b[1] - a[1]) * k / count) for k in range(count + 1)]
    return list(pairwise(marks))


def _hidden(part, index, over):
    x, y = (part[0][0] + part[1][0]) / 2, (part[0][1] + part[1][1]) / 2
    return any(
        at > index and frame[0] <= x <= frame[2] and frame[1] <= y <= frame[3] and shape.holds((x, y))
        for at, shape, frame in over
    )


def enters(piece, frame):
    """Tell whether a straight piece comes inside a box."""
    (x1, y1), (x2, y2) = piece
    left, top, right, foot = frame
    if (x1 <= left and x2 <= left) or (x1 >= right and x2 >= right):
        return False
    if (y1 <= top and y2 <= top) or (y1 >= foot and y2 >= foot):
        return False
    least, most = 0.0, 1.0
    for start, step, low, high in ((x1, x2 - x1, frame[0], frame[2]), (y1, y2 - y1, frame[1], frame[3])):
        if step == 0:
            if not low < start < high:
                return False
            continue
        into, out = sorted(((low - start) / step, (high - start) / step))
        least, most = max(least, into), min(most, out)
    return least < most
