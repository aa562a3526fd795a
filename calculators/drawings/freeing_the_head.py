"""Where a head may be tapped, and where never a lever goes."""

from __future__ import annotations

from calculators.drawings.kit import parts, tools
from calculators.drawings.kit.path import box, line
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw() -> Plate:
    plate = Plate(
        "Tap on a boss, never lever in the joint",
        "Head on its barrel in the engine. Right: a mallet strikes a block of wood that lies against a thick "
        "boss of the head, outwards, away from the case. Wrong: a screwdriver driven into the joint between head "
        "and barrel, and another between the fins.",
        510,
        IN_THE_ENGINE,
    )
    _joint(plate, 92)
    plate.draw(box(148, 162, 22, 34), "held", name="block")
    plate.draw(line((154, 162), (152, 196)) + line((162, 162), (164, 196)), "fine")
    plate.put(tools.mallet().mirrored().scaled(0.8).in_hand(), 146, 180)
    plate.arrow((48, 180), (84, 180), look="held-open")
    plate.tag(264, 198, "boss", [(186, 184)], "head")
    plate.right(12, 216, "on the boss")
    plate.draw(line((0, 262), (320, 262)), "fine")
    _joint(plate, 382)
    plate.put(tools.screwdriver(40).scaled(0.9).turned(-84), 159, 344)
    plate.put(tools.screwdriver(40).scaled(0.9).turned(-100), 75, 348)
    plate.wrong(196, 298)
    plate.wrong(94, 292)
    plate.wrong(12, 496, "never in joint or fins")
    return plate


def _joint(plate: Plate, y: float) -> None:
    plate.draw(box(0, y - 66, 22, 112), "outline", "aluminium", "case")
    plate.put(parts.barrel_outside(74, 132, fins=9, spigot=2, fin=12), 28, y)
    plate.put(parts.head_outside(74).scaled(1.0), 160, y)
