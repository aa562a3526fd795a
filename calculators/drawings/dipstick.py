"""The oil level between the marks."""

from __future__ import annotations

from calculators.drawings.kit.path import box, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "The oil stands between the marks",
        "Three dipsticks side by side, oil in blue from the end up. Right: the oil ends between the lower and "
        "the upper mark. Wrong: it ends below the lower mark. Wrong: it stands over the upper mark.",
        306,
        "level ground, engine stopped",
    )
    for x, level, good in ((52.0, 178.0, True), (160.0, 238.0, False), (268.0, 118.0, False)):
        plate.draw(
            rounded(
                [
                    (x - 12, 34),
                    (x + 12, 34),
                    (x + 12, 54),
                    (x + 6, 54),
                    (x + 6, 60),
                    (x - 6, 60),
                    (x - 6, 54),
                    (x - 12, 54),
                ],
                4,
            ),
            name="handle",
        )
        plate.draw(box(x - 9, 60, 18, 200, 3), name="dipstick")
        plate.draw(box(x - 7.5, level, 15, 258.5 - level), "held-solid", name="oil")
        for mark in (146.0, 212.0):
            plate.draw(line((x - 20, mark), (x + 20, mark)), "open")
        (plate.right if good else plate.wrong)(x, 284)
    plate.words(106, 146, "max")
    plate.words(106, 212, "min")
    plate.words(214, 146, "max")
    plate.words(214, 212, "min")
    return plate
