"""Who stands where at the first start."""

from __future__ import annotations

from calculators.drawings.kit.path import box, closed, curve, disc, hatched, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "Who stands where at the first start",
        "A vehicle from above, chocked at all wheels, its exhaust led through the wall by a hose. The first "
        "person sits at key and gauge. The second stands clear and walks to and fro along the sides, no further "
        "than the vehicle is long. An extinguisher stands in reach. The ground in front and the ground behind, up "
        "to the wall, are hatched: nobody.",
        430,
        "from above",
    )
    x, top, low = 138.0, 112.0, 330.0
    for zone, words in (((58.0, 26.0, 160.0, 80.0), "front"), ((58.0, low + 6, 160.0, 68.0), "rear")):
        ground = box(*zone)
        plate.draw(hatched(ground, 14), "hatch")
        plate.draw(ground, "fine")
        middle = zone[1] + zone[3] / 2
        plate.draw(box(80, middle - 24, 90, 48), "blank", name="ground")
        plate.words(124, middle - 11, words)
        plate.wrong(90, middle + 11, "nobody")
    plate.draw(rounded([(x - 62, top), (x + 62, top), (x + 62, low), (x - 62, low)], [34, 34, 16, 16]), name="vehicle")
    plate.draw(
        rounded([(x - 48, top + 26), (x + 48, top + 26), (x + 44, top + 50), (x - 44, top + 50)], 8), name="window"
    )
    for side in (-1, 1):
        for y in (top + 46, low - 56):
            wheel = box(x + (62 if side > 0 else -74), y, 12, 40, 3)
            plate.draw(wheel, name="wheel")
            cx = x + 68 * side
            plate.draw(
                closed((cx - 6, y - 12), (cx + 6, y - 12), (cx + 6, y - 2), (cx - 6, y - 2)), "solid", name="chock"
            )
            plate.draw(
                closed((cx - 6, y + 42), (cx + 6, y + 42), (cx + 6, y + 52), (cx - 6, y + 52)), "solid", name="chock"
            )
    plate.draw(
        rounded([(x - 44, low - 76), (x + 44, low - 76), (x + 44, low - 12), (x - 44, low - 12)], 6), name="engine"
    )
    plate.words(x, low - 44, "engine")
    _person(plate, x - 24, top + 88, "1")
    _person(plate, 274, 226, "2")
    plate.draw(box(0, 404, 320, 16), "outline", "iron", "wall")
    plate.draw(curve((x + 44, low), (x + 48, 360), (x + 68, 386), (x + 68, 428)), "held-open", name="hose")
    plate.arrow((274, 200), (274, 142), look="held-open")
    plate.arrow((274, 252), (274, 298), look="held-open")
    plate.draw(rounded([(268, 318), (284, 318), (284, 360), (268, 360)], 5), "held", name="extinguisher")
    plate.draw(line((276, 318), (276, 310), (290, 307)), "held-open")
    plate.words(268, 122, "both sides")
    plate.words(320, 382, "extinguisher", "end")
    plate.words(x + 8, top + 88, "key", "start")
    return plate


def _person(plate: Plate, x: float, y: float, number: str) -> None:
    """Draw somebody from above: shoulders and head."""
    plate.draw(
        rounded([(x - 26, y - 11), (x + 26, y - 11), (x + 26, y + 11), (x - 26, y + 11)], 11), "held", name="person"
    )
    plate.draw(disc(x, y, 12), "held", name="person")
    plate.words(x, y, number)
