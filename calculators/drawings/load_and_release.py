"""Load and release: half throttle up, closed down, ten times."""

from __future__ import annotations

from calculators.drawings.kit.path import line
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "Load and release, ten times",
        "Speed over time. The line climbs with half throttle until the speed has grown by a third, then falls with "
        "the throttle shut, and begins again: three pulls, an easy kilometre, three pulls, an easy kilometre, three "
        "pulls, an easy kilometre, one pull; ten in all. The ceiling, a line above, is not reached.",
        314,
    )
    plate.arrow((20, 236), (20, 36))
    plate.arrow((20, 236), (316, 236))
    plate.words(0, 20, "speed", "start")
    plate.words(316, 252, "time", "end")
    plate.draw(line((24, 56), (312, 56)), "fine")
    plate.words(168, 44, "ceiling")
    points, x = [(28.0, 186.0)], 28.0
    for number in range(1, 11):
        points += [(x + 11, 106.0), (x + 18, 186.0)]
        if number in {1, 3, 6, 9, 10}:
            plate.words(x + 11, 90, str(number))
        x += 18
        if number in {3, 6, 9}:
            plate.words(x + 17, 206, "easy")
            x += 34
            points.append((x, 186.0))
    plate.draw(line(*points), "held-open")
    plate.words(0, 278, "half throttle up, shut down: 10 in all,", "start")
    plate.words(0, 300, "an easy kilometre after every 3", "start")
    return plate
