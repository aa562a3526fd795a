"""Where a lock bears: a segment in the ring gear for the pulley, a bar across two clutch holes for either."""

from __future__ import annotations

import math

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import Point, around, bar, closed, disc, line, rounded
from calculators.drawings.kit.plate import Plate

_TEETH = 56
_ROUND = ((0.0, 0), (0.22, 8), (0.5, 8), (0.72, 0))
"""Over one tooth: how far along, how far out."""


def draw() -> Plate:
    plate = Plate(
        "The lock: a segment for the pulley, a long bar for either",
        "The flywheel face on, from the gearbox's side, up at the top. For the pulley's nut: a toothed segment, "
        "bolted to a hole of the case, stands with three teeth or more in the ring gear. For the flywheel's own nut "
        "no segment: a long bar is bolted across two clutch holes, the breaker bar on the nut lies above it, a hand's "
        "breadth away. The breaker bar is pulled down, the long bar comes up: a pull draws the two together. Last, "
        "the other way for the pulley's nut: the long bar across two clutch holes, its end pressed onto the floor as "
        "the nut is undone.",
        666,
        "face on, up at the top",
    )
    x, y = 116.0, 146.0
    plate.draw(
        rounded(
            [
                (x - 100, y + 66),
                (x - 100, y - 60),
                (x - 50, y - 112),
                (x + 50, y - 112),
                (x + 128, y - 112),
                (x + 128, y + 66),
            ],
            [0, 40, 30, 4, 20, 0],
        ),
        name="case",
    )
    plate.draw(closed(*_profile(x, y, 84, 0, _TEETH)), name="ring gear")
    plate.draw(disc(x, y, 72), name="flywheel")
    plate.put(parts.nut_end_on(24, 11), x, y)
    inner = _profile(x, y, 86, 5, 5)
    last, first = inner[-1], inner[0]
    plate.draw(
        closed(
            *inner, (last[0] + 16, last[1] - 10), (x + 112, y - 92), (x + 88, y - 106), (first[0] + 2, first[1] - 22)
        ),
        "held",
        name="lock",
    )
    plate.put(parts.nut_end_on(17, 8), x + 92, y - 84)
    plate.tag(278, 36, "lock", [(x + 106, y - 90)], "lock", ("case",))
    plate.words(320, 228, "for the pulley's nut", "end")
    x, y = 226.0, 354.0
    plate.draw(disc(x, y, 90), name="ring gear")
    plate.draw(disc(x, y, 84), "fine", name="ring gear")
    plate.draw(disc(x, y, 72), name="flywheel")
    for angle in range(0, 360, 60):
        plate.draw(disc(*around(x, y, 54, angle), 5), name="hole")
    low, high = around(x, y, 54, 120), around(x, y, 54, 240)
    plate.draw(bar((low[0] + 16, low[1]), (6, low[1]), 15), "held", name="long bar")
    for place in (low, high):
        plate.put(parts.nut_end_on(14, 6), *place)
    plate.draw(bar((x, y), (22, y - 22), 11), "held", name="breaker bar")
    plate.draw(disc(x, y, 15), "held", name="breaker bar")
    plate.arrow((40, y - 64), (40, y - 30), look="held-open")
    plate.arrow((40, low[1] + 44), (40, low[1] + 12), look="held-open")
    plate.words(50, y - 52, "pull", "start")
    plate.tag(100, y - 76, "breaker bar", [(112, y - 13)], "breaker bar", ("ring gear",))
    plate.tag(112, y + 72, "long bar", [(112, low[1])], "long bar")
    plate.words(0, 466, "for the flywheel's own nut", "start")
    x, y, floor = 84.0, 552.0, 634.0
    for radius in (56, 46):
        plate.draw(disc(x, y, radius), name="flywheel")
    plate.put(parts.nut_end_on(16, 8), x, y)
    first, last = around(x, y, 36, 330), around(x, y, 36, 90)
    along = (floor - 5 - last[1]) / (last[1] - first[1])
    end = (last[0] + (last[0] - first[0]) * along, floor - 5)
    plate.draw(bar((first[0] - 12, first[1] - 7), end, 10), "held", name="long bar")
    for place in (first, last):
        plate.put(parts.nut_end_on(10, 4), *place)
    plate.draw(line((0, floor), (320, floor)), "open", name="floor")
    plate.turn(x, y, 66, 350, 70, look="open")
    plate.tag(244, 546, "long bar", [(end[0] - 60, end[1] - 35)], "long bar")
    plate.words(318, 620, "floor", "end")
    plate.words(0, 654, "or this, for the pulley's nut", "start")
    return plate


def _profile(x: float, y: float, radius: float, first: int, count: int) -> list[Point]:
    """Return the outline of some teeth of the ring gear, from the top clockwise."""
    points: list[Point] = []
    for tooth in range(first, first + count):
        for along, out in _ROUND:
            angle = math.radians((tooth + along) * 360 / _TEETH)
            points.append((x + (radius + out) * math.sin(angle), y - (radius + out) * math.cos(angle)))
    return points
