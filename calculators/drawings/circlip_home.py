"""A circlip home in its groove, and one that is not."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import box, closed, disc, line, rounded
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw() -> Plate:
    plate = Plate(
        "A circlip that is home, and one that is not",
        "The end of the gudgeon pin in the piston, seen end on and in section. Right: the circlip lies in its "
        "groove all round, its opening points up the piston, away from the slot for the pliers; in section it is "
        "sunk in the groove beyond the pin. Wrong: the circlip sits askew, one side out of the groove and in the "
        "way of the pin.",
        308,
        ON_THE_BENCH,
    )
    for x, good in ((76, True), (244, False)):
        _end(plate, x, 92, good)
        _section(plate, x, 216, good)
    plate.turn(76, 104, 20, 30, 130)
    plate.turn(76, 104, 20, 210, 130)
    plate.right(16, 292, "turns, home")
    plate.wrong(186, 292, "one side out")
    return plate


def _end(plate: Plate, x: float, y: float, good: bool) -> None:
    plate.draw(
        rounded([(x - 70, y - 66), (x + 70, y - 66), (x + 70, y + 58), (x - 70, y + 58)], [3, 3, 12, 12]), name="piston"
    )
    for at in (10, 22, 34):
        plate.draw(line((x - 70, y - 66 + at), (x + 70, y - 66 + at)), "fine")
    plate.draw(disc(x, y + 12, 36), name="boss")
    plate.draw(closed((x + 24, y + 40), (x + 32, y + 48), (x + 40, y + 40), (x + 32, y + 32)), "outline", name="slot")
    plate.draw(disc(x, y + 12, 28), name="pin")
    plate.draw(disc(x, y + 12, 12), name="pin")
    clip = parts.circlip(33, 0, 56, 6).in_hand()
    plate.put(clip if good else clip.scaled(0.96, 1.0).turned(38), x if good else x - 5, y + 12 if good else y + 4)


def _section(plate: Plate, x: float, y: float, good: bool) -> None:
    """Draw the boss cut along the pin: the pin to the left, the circlip's groove to the right."""
    for side in (-1, 1):
        outline = [(x - 64, y + 22 * side), (x + 32, y + 22 * side), (x + 32, y + 29 * side), (x + 42, y + 29 * side)]
        outline += [(x + 42, y + 22 * side), (x + 62, y + 22 * side), (x + 62, y + 46 * side), (x - 64, y + 46 * side)]
        plate.draw(closed(*outline), "outline", "aluminium", "boss")
        plate.draw(box(x - 64, y + (8 if side > 0 else -21), 92, 13), "outline", "iron", "pin")
    upper, lower = (disc(x + 37, y - 24, 4.6), disc(x + 37, y + 24, 4.6))
    plate.draw(upper if good else disc(x + 50, y - 15, 4.6), "held-solid", name="circlip")
    plate.draw(lower, "held-solid", name="circlip")
    tilt = line((x + 37, y - 22), (x + 37, y + 22)) if good else line((x + 49, y - 13), (x + 37, y + 22))
    plate.draw(tilt, "held-open", name="circlip")
