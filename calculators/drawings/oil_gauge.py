"""The gauge in place of the pressure switch, and the rocker that gets its oil last."""

from __future__ import annotations

from calculators.drawings.kit.path import around, box, curve, disc, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "Gauge for switch, oil to the furthest rocker",
        "The engine from above, pulley end below. The pressure switch is out of its hole in the case; a gauge on "
        "a hose is screwed in there, led clear of belt and pulley. Plugs are out. Oil goes from the pump through "
        "the case to every rocker; the rocker farthest from the pump gets it last, and is looked at.",
        392,
        "from above, pulley end below",
    )
    plate.draw(box(120, 60, 84, 246, 4), name="case")
    for left in (40.0, 204.0):
        for y in (78.0, 190.0):
            plate.draw(box(left, y, 80, 92), name="barrel")
            for number in range(1, 9):
                at = left + number * 9
                plate.draw(line((at, y), (at, y + 92)), "hatch")
    for left in (4.0, 284.0):
        plate.draw(box(left, 66, 36, 228, 4), name="head")
    for x in (22.0, 302.0):
        for y in (98.0, 150.0, 210.0, 262.0):
            plate.draw(rounded([(x - 8, y - 14), (x + 8, y - 14), (x + 8, y + 14), (x - 8, y + 14)], 5), name="rocker")
    plate.draw(box(152, 306, 20, 12), name="pulley")
    plate.draw(rounded([(104, 318), (220, 318), (220, 334), (104, 334)], 3), name="pulley")
    plate.draw(disc(140, 288, 11), name="pump")
    plate.arrow((162, 286), (162, 92), look="held-open")
    plate.arrow((154, 88), (48, 88), (26, 88), look="held-open")
    plate.draw(disc(186, 240, 7), name="switch hole")
    plate.draw(curve((186, 240), (236, 326), (250, 352)), "held-open", name="hose")
    plate.draw(disc(272, 356, 32), "held", name="gauge")
    ticks = line(around(272, 356, 22, -120), around(272, 356, 27, -120))
    for angle in range(-90, 121, 30):
        ticks += line(around(272, 356, 22, angle), around(272, 356, 27, angle))
    plate.draw(ticks, "fine")
    plate.draw(line((272, 356), around(272, 356, 19, 40)), "held-open")
    plate.tag(58, 36, "furthest", [(22, 92)], "rocker", ("head",))
    plate.tag(64, 366, "pump", [(140, 288)], "pump", ("case", "pulley"))
    return plate
