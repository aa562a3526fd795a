"""A pushrod in its cup, and one on the rim."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import box, closed, disc, line, outline, rounded
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw() -> Plate:
    plate = Plate(
        "Pushrod in its cup, and on the rim",
        "Tappet and pushrod, cut, much enlarged. Right: the ball end lies at the bottom of the tappet's cup. "
        "Wrong: the ball stands on the rim of the cup. Below, in the engine, four pushrods stand out of the "
        "head: three end at one line, the one on its rim stands further out.",
        388,
        IN_THE_ENGINE,
    )
    _cup(plate, 4, 84, True)
    _cup(plate, 168, 84, False)
    plate.right(12, 154, "in the cup")
    plate.wrong(178, 154, "on the rim")
    plate.draw(box(0, 188, 90, 176), "outline", "aluminium", "head")
    for number in range(4):
        y = 212 + number * 42.0
        wrong = number == 2
        plate.draw(box(0, y - 11, 90, 22), "blank")
        plate.draw(line((0, y - 11), (90, y - 11)) + line((0, y + 11), (90, y + 11)), "open")
        rod = parts.pushrod(276 if wrong else 250, 11)
        plate.put(rod.in_hand() if wrong else rod, -24, y)
        if wrong:
            plate.wrong(278, y)
        else:
            plate.right(278, y)
    plate.draw(line((231, 184), (231, 372)), "fine")
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
