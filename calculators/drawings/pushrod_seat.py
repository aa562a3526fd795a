"""A pushrod in its cup, and one on the rim."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import box, closed, disc, line, outline, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "Pushrod in its cup, and on the rim",
        "Tappet and pushrod, cut, much enlarged. Right: the ball end lies at the bottom of the tappet's cup. "
        "Wrong: the ball stands on the rim of the cup. Below, from above, the head with the two pushrods of one "
        "cylinder, both its tappets on the base circle: one ends at the line, the one on its rim stands further out.",
        366,
        "cut, much enlarged",
    )
    _cup(plate, 4, 84, True)
    _cup(plate, 168, 84, False)
    plate.right(12, 154, "in the cup")
    plate.wrong(178, 154, "on the rim")
    plate.words(0, 196, "from above: one cylinder, its tappets", "start")
    plate.words(0, 216, "both on the base circle", "start")
    plate.draw(box(0, 240, 90, 112), "outline", "aluminium", "head")
    for y, wrong in ((272.0, False), (320.0, True)):
        plate.draw(box(0, y - 11, 90, 22), "blank")
        plate.draw(line((0, y - 11), (90, y - 11)) + line((0, y + 11), (90, y + 11)), "open")
        rod = parts.pushrod(276 if wrong else 250, 11)
        plate.put(rod.in_hand() if wrong else rod, -24, y)
    plate.right(292, 272)
    plate.wrong(292, 320)
    plate.draw(line((231, 236), (231, 358)), "fine")
    return plate


def _cup(plate: Plate, x: float, y: float, good: bool) -> None:
    cup = outline(
(x, y - 44),
(x + 78, y - 44),
(x + 78, y - 26),
(x + 66, y - 22),
((x + 38, y - 20), (x + 38, y + 20), (x + 66, y + 22)),
(x + 78, y + 26),
(x + 78, y + 44),
(x, y + 44),
)  # fmt: skip
    plate.draw(cup, "outline", "iron", "tappet")
    bx, by = (x + 64, y) if good else (x + 96, y - 21)
    look = "outline" if good else "held"
    plate.draw(disc(bx, by, 18), look, name="pushrod")
    plate.draw(
        closed((bx + 14, by - 12), (x + 146, by - 12), (x + 146, by + 12), (bx + 14, by + 12)), look, name="pushrod"
    )
    plate.draw(rounded([(bx + 4, by - 11), (bx + 20, by - 11), (bx + 20, by + 11), (bx + 4, by + 11)], 2), "blank")
