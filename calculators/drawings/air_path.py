"""Where the cooling air goes, and the gaps by which it escapes."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import Path, box, curve, disc, line, rounded
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw() -> Plate:
    plate = Plate(
        "The way of the air, and every gap",
        "One side of the engine cut, from the pulley end: a fan above the case blows into the shroud; the air "
        "comes down on barrel and head, passes between the fins and leaves below; a deflector lies close round the "
        "lower half of barrel and head and keeps it between the fins. Four rings mark where air escapes: 1 the "
        "plug's lead, 2 the foot of the cooler, 3 the edge of the shroud, 4 the edge of the deflector.",
        430,
        IN_THE_ENGINE,
    )
    plate.draw(box(0, 200, 76, 170), "outline", "aluminium", "case")
    plate.put(parts.barrel_outside(72, 104, 8, 10, 16), 78, 280)
    plate.put(parts.head_outside(72, boss=False), 184, 280)
    shroud = curve((10, 96), (40, 60), (96, 52), (150, 96), (220, 160), (284, 190), (296, 228))
    plate.draw(shroud, "open", name="shroud")
    plate.draw(line((296, 228), (296, 250)), "open")
    plate.draw(line((10, 96), (10, 200)), "open")
    plate.draw(disc(58, 116, 38), name="fan")
    for angle in range(0, 360, 60):
        blade = rounded([(-3, -34), (3, -34), (6, -10), (-2, -10)], 2).turned(angle).moved(58, 116)
        plate.draw(blade, "outline", name="fan")
    plate.draw(disc(58, 116, 9), name="fan")
    for x, top in ((95.5, 150.0), (117.0, 150.0), (138.5, 160.0), (160.0, 176.0), (207.5, 190.0)):
        plate.arrow((x, top), (x, 380), look="held-open")
    plate.draw(box(84, 296, 162, 50, 3), name="deflector")
    plate.draw(line((92, 306), (238, 306)), "fine")
    plate.draw(box(14, 162, 62, 36), name="cooler")
    fins = Path(())
    for number in range(6):
        fins += line((22 + number * 9, 166), (22 + number * 9, 194))
    plate.draw(fins, "fine")
    plate.draw(line((228, 140), (222, 230)), "open", name="lead")
    plate.draw(rounded([(218, 154), (236, 166), (232, 174), (214, 162)], 3), "solid", name="lead seal")
    gaps = ((227, 164, 20, 0), (66, 200, 22, -4), (296, 250, 6, 22), (246, 322, 22, 0))
    for number, (x, y, across, down) in enumerate(gaps, 1):
        plate.draw(disc(x, y, 11), "held-open", name="gap")
        plate.words(x + across, y + down, str(number))
    plate.words(0, 420, "1 lead  2 cooler  3 edge  4 deflector", "start")
    return plate
