"""The room between a valve and the piston: clay pressed thin, or a dial on the spring cap."""

from __future__ import annotations

from calculators.drawings.kit import parts, tools
from calculators.drawings.kit.path import box, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "The room between valve and piston",
        "Two ways, each at the overlap, piston near its top, barrel upright. Left: a strip of clay on the crown is "
        "pressed by the valve; where it is thinnest is the room. Right: light springs hold the valves up; a dial "
        "stands on the stem's end, the valve is pressed down by a finger until it meets the piston, and the dial's "
        "travel is the room.",
        330,
        "barrel upright, head on top",
    )
    for x in (80.0, 240.0):
        plate.draw(box(x - 62, 252, 124, 46), cut="aluminium", name="piston")
        valve_at = 226.0
        plate.put(parts.valve(56, 9, 110).turned(-90), x, valve_at)
    plate.draw(
        rounded([(32, 252), (32, 240), (50, 232), (50, 227), (110, 227), (110, 232), (128, 240), (128, 252)], 2),
        "held",
        name="clay",
    )
    plate.put(tools.dial_gauge().scaled(0.8), 240, 114)
    plate.arrow((268, 128), (268, 160), look="held-open")
    plate.words(278, 142, "press", "start")
    plate.tag(60, 316, "clay", [(90, 240)], "clay", ("piston",))
    plate.words(80, 44, "clay: cut", "middle")
    plate.words(80, 62, "and measure", "middle")
    return plate
