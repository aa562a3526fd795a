"""A hollow bolt with its two washers, one on each side of the eye."""

from __future__ import annotations

from calculators.drawings.kit.path import Path, box, closed, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "A hollow bolt, its eye and two washers",
        "A union cut along its bolt: from above bolt, washer, eye of the pipe, washer, case, in whose thread the "
        "bolt stands. Oil comes up the bolt's middle, out of its cross hole, round the eye and into the pipe. "
        "Right: a new washer on each side of the eye. Wrong: one washer is missing.",
        384,
        "cut along the bolt",
    )
    _joint(plate, 78, 190, True)
    _joint(plate, 240, 190, False)
    plate.right(14, 366, "one each side")
    plate.wrong(178, 366, "one missing")
    plate.tag(50, 62, "washer", [(52, 152)], "washer")
    return plate


def _joint(plate: Plate, x: float, y: float, good: bool) -> None:
    for side in (-1, 1):
        plate.draw(
            closed(
                (x + 13 * side, y + 18),
                (x + 64 * side, y + 18),
                (x + 64 * side, y + 144),
                (x + 6 * side, y + 144),
                (x + 6 * side, y + 96),
                (x + 13 * side, y + 96),
            ),
            "outline",
            "aluminium",
            "case",
        )
    foot = y  # of the case stays; without its washer all above it sits lower
    y += 0 if good else 9.5
    plate.draw(closed((x - 40, y - 32), (x - 13, y - 32), (x - 13, y + 8), (x - 40, y + 8)), "outline", "iron", "eye")
    plate.draw(
        closed(
            (x + 13, y - 32), (x + 80, y - 32), (x + 80, y - 24), (x + 30, y - 24), (x + 30, y - 20), (x + 13, y - 20)
        ),
        "outline",
        "iron",
        "eye",
    )
    plate.draw(
        closed((x + 13, y + 8), (x + 80, y + 8), (x + 80, y), (x + 30, y), (x + 30, y - 4), (x + 13, y - 4)),
        "outline",
        "iron",
        "eye",
    )
    for side in (-1, 1):
        shank = [(4, y - 44), (12, y - 44), (12, y - 17), (4, y - 17)]
        plate.draw(closed(*((x + a * side, float(b)) for a, b in shank)), "outline", "iron", "bolt")
        lower = [(4, y - 7), (12, y - 7), (12, y + 80), (4, y + 80)]
        plate.draw(closed(*((x + a * side, float(b)) for a, b in lower)), "outline", "iron", "bolt")
    thread = Path(())
    for side in (-1, 1):
        for number in range(9):
            at = y + 26 + number * 6
            thread += line((x + 8 * side, at), (x + 13 * side, at + 2))
    plate.draw(thread, "fine")
    plate.draw(
        rounded([(x - 24, y - 76), (x + 24, y - 76), (x + 24, y - 43), (x - 24, y - 43)], [5, 5, 1, 1]),
        "outline",
        "iron",
        "bolt",
    )
    for level, there in ((y - 42.5, True), (y + 8.5, good)):
        if there:
            for side in (-1, 1):
                left = x + (14 if side > 0 else -36)
                plate.draw(box(left, level, 22, 9, 1), "held-solid", name="washer")
    plate.arrow((x, foot + 130), (x, y + 20), look="open")
    plate.arrow((x, y - 12), (x + 74, y - 12), look="open")
    if not good:
        plate.wrong(x - 54, foot + 18)
