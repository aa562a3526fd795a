"""Six hands. Each is made of fingers with round joints, so that it reads as a hand at the size of a thumbnail."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from calculators.drawings.kit.path import Path, Point, closed, line
from calculators.drawings.kit.plate import Part, Piece

type Joint = tuple[float, float, float]
"""Where a joint is, and its radius."""


def pinch() -> Part:
    """Thumb and first finger meet at the origin from the right; the hand lies to the right of what it holds."""
    return _hand(
        [
            [(66, 4, 21), (92, 10, 22), (132, 16, 19)],
            [(50, -22, 10), (74, -10, 14)],
            [(4, 8, 6.5), (34, 17, 8.5), (66, 14, 13)],
        ],
        [
            [(30, 40, 7.5), (52, 36, 9), (76, 22, 11)],
            [(14, 30, 7), (38, 33, 8.5), (70, 16, 11)],
            [(4, -8, 6.5), (26, -27, 8), (62, -20, 11)],
        ],
    )


def thumb() -> Part:
    """The thumb stretched to the left, its tip at the origin, the fingers folded below it."""
    return _hand(
        [[(72, 30, 24), (96, 30, 24), (134, 32, 20)]],
        [
            [(54, 62, 8), (74, 56, 11)],
            [(46, 49, 9), (70, 44, 12)],
            [(42, 34, 9.5), (68, 30, 12)],
            [(43, 19, 9.5), (68, 18, 12)],
            [(9, 0, 9.5), (34, -3, 9.5), (72, 14, 15)],
        ],
    )


def grip() -> Part:
    """A fist round a handle that lies along y at the origin, the wrist to the right."""
    return _hand(
        [[(30, -10, 22), (34, 12, 22), (66, 4, 22), (104, 6, 19)]],
        [
            [(-8, 30, 8.5), (8, 28, 9.5), (34, 24, 10)],
            [(-10, 13, 9), (8, 11, 9.5), (34, 10, 10)],
            [(-10, -5, 9), (8, -7, 9.5), (34, -6, 10)],
            [(-9, -22, 8.5), (8, -24, 9.5), (34, -20, 10)],
            [(2, -38, 7.5), (22, -36, 9), (44, -20, 12)],
        ],
    )


def hold() -> Part:
    """A hand that takes something from its outside: fingers curl up the page along x = 0, thumb nearest."""
    return _hand(
        [[(38, 12, 23), (52, 36, 23), (66, 74, 19)]],
        [
            [(4, -24, 7), (20, -14, 8.5), (42, 6, 11)],
            [(0, -10, 7), (18, -2, 8.5), (40, 14, 11)],
            [(-2, 5, 7), (16, 12, 8.5), (38, 22, 11)],
            [(2, 20, 6.5), (16, 25, 8), (38, 32, 11)],
            [(30, -40, 7), (44, -22, 9), (52, 0, 12)],
        ],
    )


def _hand(palm: Sequence[Sequence[Joint]], fingers: Sequence[Sequence[Joint]]) -> Part:
    pieces = list(_limbs(palm, ()))
    for finger in fingers:
        pieces += _limbs([finger], palm)
    cuff = palm[0]
    (x1, y1, _), (x2, y2, wide) = cuff[-2], cuff[-1]
    length = math.dist((x1, y1), (x2, y2))
    ax, ay = (x2 - x1) / length, (y2 - y1) / length
    corners = [
        (x2 + ax * s - ay * t, y2 + ay * s + ax * t)
        for s, t in ((0, wide + 4), (0, -wide - 4), (22, -wide - 4), (22, wide + 4))
    ]
    return Part("hand", (*pieces, Piece(closed(*corners))))


def _limbs(limbs: Sequence[Sequence[Joint]], grown_from: Sequence[Sequence[Joint]]) -> list[Piece]:
    """Return the outline of limbs run together, open where they grow from others."""
    hulls = [_hull(a, b) for limb in limbs for a, b in pairwise(limb)]
    joints = [pair for limb in (*limbs, *grown_from) for pair in pairwise(limb)]
    filled, outline = Path(()), Path(())
    own = [pair for limb in limbs for pair in pairwise(limb)]
    for pair, hull in zip(own, hulls, strict=True):
        filled += closed(*hull)
        others = [other for other in joints if other != pair]
        run: list[Point] = []
        for at in [*hull, hull[0]]:
            if any(_within(at, *other) for other in others):
                if len(run) > 1:
                    outline += line(*run)
                run = []
            else:
                run.append(at)
        if len(run) > 1:
            outline += line(*run)
    return [Piece(filled, "blank"), Piece(outline, "open")]


def _hull(a: Joint, b: Joint) -> list[Point]:
    """Return the outline of two round joints with straight sides between them, a point every 9 degrees and 3 units."""
    (x1, y1, r1), (x2, y2, r2) = a, b
    length = math.dist((x1, y1), (x2, y2)) or 1
    heading = math.atan2(y2 - y1, x2 - x1)
    lean = math.acos(max(-1.0, min(1.0, (r1 - r2) / length)))
    points: list[Point] = []
    for x, y, r, start, stop in ((x1, y1, r1, lean, 2 * math.pi - lean), (x2, y2, r2, -lean, lean)):
        steps = max(2, math.ceil(math.degrees(stop - start) / 12))
        for step in range(steps + 1):
            angle = heading + start + (stop - start) * step / steps
            points.append((x + r * math.cos(angle), y + r * math.sin(angle)))
    fine: list[Point] = []
    for one, other in zip(points, [*points[1:], points[0]], strict=True):
        pieces = max(1, math.ceil(math.dist(one, other) / 2.5))
        fine += [
            (one[0] + (other[0] - one[0]) * k / pieces, one[1] + (other[1] - one[1]) * k / pieces)
            for k in range(pieces)
        ]
    return fine


def _within(at: Point, a: Joint, b: Joint) -> bool:
    """Tell whether a point lies inside two round joints run together."""
    (x1, y1, r1), (x2, y2, r2) = a, b
    length = math.dist((x1, y1), (x2, y2)) or 1
    along = ((at[0] - x1) * (x2 - x1) + (at[1] - y1) * (y2 - y1)) / length
    across = abs((at[0] - x1) * (y2 - y1) - (at[1] - y1) * (x2 - x1)) / length
    tilt = (r2 - r1) / length
    share = max(0.0, min(1.0, (along + across * tilt / math.sqrt(max(1e-9, 1 - tilt * tilt))) / length))
    x, y, r = x1 + (x2 - x1) * share, y1 + (y2 - y1) * share, r1 + (r2 - r1) * share
    return math.dist(at, (x, y)) < r - 0.4
