"""Where heads crack, each with its verdict."""

from __future__ import annotations

from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import Point, around, disc, line, rounded
from calculators.drawings.kit.plate import Plate


def draw(engine: Engine) -> Plate:
    plate = Plate(
        "Where a head cracks, and what each crack means",
        "A chamber seen from the barrel's side: two seats, the larger for the inlet, the plug hole between them "
        "and the rim, stud holes outside. Four cracks in blue. 1, a hair between the seats that reaches neither: "
        "watch it. 2, from a seat to the plug's thread: stop. 3, into a seat: stop. 4, into a stud hole: stop.",
        430,
        "face on, chamber towards you",
    )
    x, y, radius = 160.0, 166.0, 112.0
    plate.draw(
        rounded([(x - 140, y - 134), (x + 140, y - 134), (x + 140, y + 134), (x - 140, y + 134)], 14), name="head"
    )
    plate.draw(disc(x, y, radius), name="barrel seat")
    plate.draw(disc(x, y, radius - 12), name="chamber")
    ratio = engine.exhaust / engine.inlet
    big, small = 40.0, max(30.0, min(40 * ratio, 40.0))
    one, two = (x - 50, y + 16), (x + 48, y + 16)
    for (cx, cy), size in ((one, big), (two, small)):
        plate.draw(disc(cx, cy, size), name="seat")
        plate.draw(disc(cx, cy, size - 8), name="seat")
        plate.draw(disc(cx, cy, 7), name="guide")
    plug = (x, y - 58)
    plate.draw(disc(*plug, 16), name="plug hole")
    plate.draw(disc(*plug, 12), "fine")
    for dx in (-1, 1):
        for dy in (-1, 1):
            plate.draw(disc(x + 118 * dx, y + 114 * dy, 9), name="stud hole")
    _crack(plate, (x + 3, y + 2), (x + 1, y + 34), 1)
    _crack(plate, (plug[0] + 13, plug[1] + 10), around(*two, small, 330), 2)
    _crack(plate, around(*one, big - 8, 200), around(*one, big + 10, 212), 3)
    _crack(plate, around(x, y, radius - 12, 128), (x + 112, y + 107), 4)
    for number, place in enumerate(((x + 1, y + 50), (x + 36, y - 38), (x - 42, y + 70), (x + 76, y + 98)), 1):
        plate.words(*place, str(number))
    plate.right(14, 330, "1  between the seats: watch")
    plate.wrong(14, 356, "2  seat to plug: stop")
    plate.wrong(14, 382, "3  into a seat: stop")
    plate.wrong(14, 408, "4  into a stud hole: stop")
    return plate


def _crack(plate: Plate, start: Point, end: Point, number: int) -> None:
    """Draw a crooked line from place to place."""
    (x1, y1), (x2, y2) = start, end
    across = ((y2 - y1) * 0.09, -(x2 - x1) * 0.09)
    points = [start]
    for step, side in ((0.25, 1), (0.45, -1), (0.7, 1)):
        points.append((x1 + (x2 - x1) * step + across[0] * side, y1 + (y2 - y1) * step + across[1] * side))
    plate.draw(line(*points, end), "held-open", name=f"crack {number}")
