"""Load and release: half throttle up, closed down, ten times."""

from __future__ import annotations

from calculators.drawings.kit.path import line
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "Load and release, ten times",
        "Speed over time, drawn as three pulls of ten. The line climbs with half throttle until the speed has "
        "grown by a third, then falls with the throttle shut, and begins again. After every three pulls an easy "
        "stretch. The ceiling, a line above, is not reached.",
        300,
        "speed, over time",
    )
    plate.arrow((20, 236), (20, 36))
    plate.arrow((20, 236), (316, 236))
    plate.draw(line((24, 56), (312, 56)), "fine")
    plate.words(168, 44, "ceiling")
    points = [(30.0, 186.0)]
    for number in range(3):
        points += [(30 + number * 76 + 42, 106.0), (30 + number * 76 + 70, 186.0)]
        plate.words(30 + number * 76 + 42, 90, str(number + 1))
    points.append((314.0, 186.0))
    plate.draw(line(*points), "held-open")
    plate.words(22, 124, "half", "start")
    plate.words(86, 124, "shut", "start")
    plate.words(270, 206, "easy")
    plate.words(20, 262, "half throttle up, shut down", "start")
    plate.words(20, 284, "three pulls, then an easy kilometre", "start")
    return plate
