"""Where a lock bears: a segment in the ring gear for the pulley, a bar across two clutch holes for the flywheel."""

from __future__ import annotations

import math

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import Point, around, bar, closed, disc, rounded
from calculators.drawings.kit.plate import Plate

_TEETH = 56
_ROUND = ((0.0, 0), (0.22, 8), (0.5, 8), (0.72, 0))
"""Over one tooth: how far along, how far out."""


def draw() -> Plate:
    plate = Plate(
        "The lock: a segment for the pulley, a bar for the flywheel",
        "The flywheel face on, from the gearbox's side, up at the top. For the pulley's nut: a toothed segment, "
        "bolted to a hole of the case, stands with three teeth or more in the ring gear. For the flywheel's own "
        "nut no segment: a long bar is bolted across two clutch holes, the breaker bar on the nut lies a hand's "
        "breadth from it, and a pull draws the two together.",
        474,
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
    x, y = 104.0, 354.0
    plate.draw(closed(*_profile(x, y, 84, 0, _TEETH)), name="ring gear")
    plate.draw(disc(x, y, 72), name="flywheel")
    for angle in range(0, 360, 60):
        plate.draw(disc(*around(x, y, 54, angle), 5), name="hole")
    low, high = around(x, y, 54, 60), around(x, y, 54, 300)
    plate.draw(bar((high[0] - 16, high[1]), (316, low[1]), 15), "held", name="bar")
    for place in (low, high):
        plate.put(parts.nut_end_on(14, 6), *place)
    plate.draw(bar((x, y), (300, y + 42), 11), "held", name="breaker bar")
    plate.draw(disc(x, y, 15), "held", name="breaker bar")
    plate.arrow((286, y + 30), (286, low[1] + 12), look="held-open")
    plate.tag(250, 294, "bar", [(232, low[1])], "bar")
    plate.tag(226, 424, "breaker bar", [(212, y + 24)], "breaker bar")
    plate.words(0, 462, "for the flywheel's own nut", "start")
    return plate


def _profile(x: float, y: float, radius: float, first: int, count: int) -> list[Point]:
    """Return the outline of some teeth of the ring gear, from the top clockwise."""
    points: list[Point] = []
    for tooth in range(first, first + count):
        for along, out in _ROUND:
            angle = math.radians((tooth + along) * 360 / _TEETH)
            points.append((x + (radius + out) * math.sin(angle), y - (radius + out) * math.cos(angle)))
    return points
