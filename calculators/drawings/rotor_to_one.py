"""The rotor at number 1's mark, and one tooth out."""

from __future__ import annotations

from calculators.drawings.kit.path import around, bar, disc, line
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "The rotor at number 1, and one tooth out",
        "Two distributors from above, their caps off, number 1 at its firing top in both. Right: the rotor points to "
        "the notch of number 1 on the rim. Wrong: the rotor stands between two notches: its drive is one tooth out.",
        236,
        "from above, cap off",
    )
    for x, angle, good in ((82.0, 0.0, True), (238.0, 30.0, False)):
        y = 116.0
        plate.draw(disc(x, y, 66), name="body")
        plate.draw(disc(x, y, 54), name="plate")
        for notch in range(0, 360, 90):
            plate.draw(line(around(x, y, 58, notch), around(x, y, 66, notch)), "open")
        plate.draw(bar(around(x, y, 18, angle + 180), around(x, y, 48, angle), 18, True), "held", name="rotor")
        plate.draw(disc(x, y, 9), name="shaft")
        plate.words(x, 40, "1")
        (plate.right if good else plate.wrong)(x, 206)
    return plate
