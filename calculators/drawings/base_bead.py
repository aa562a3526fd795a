"""Sealer on the case: a thin bead round the mouth and the stud holes, clear of the oil way."""

from __future__ import annotations

from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import arc, blob, box, disc
from calculators.drawings.kit.plate import FACE_ON, Plate


def draw(engine: Engine) -> Plate:
    bank = engine.banks[-1]
    plate = Plate(
        "A thin bead that closes on itself",
        f"The case's face for cylinder {bank[0]}, up at the top, pulley end to the left: the mouth, four studs, "
        "and an oil way beside it. A thin bead runs round the mouth and round each stud, closes on itself, and "
        "leaves the oil way free. Below, the joint cut, inside to the left: right, a thin film, none of it inside; "
        "wrong, a thick bead, squeezed into the engine, where a lump breaks off.",
        484,
        FACE_ON,
    )
    x, y = 160.0, 150.0
    plate.draw(box(x - 116, y - 116, 232, 232, 10), name="case")
    plate.draw(disc(x, y, 76), name="mouth")
    studs = [(x + 92 * a, y + 92 * b) for a in (-1, 1) for b in (-1, 1)]
    plate.draw(arc(x, y, 86, 0, 359.9), "held-open", name="bead")
    for place in studs:
        plate.draw(disc(*place, 16), "held", name="bead")
        plate.draw(disc(*place, 8), name="stud")
        plate.draw(disc(*place, 4), "fine")
    plate.draw(disc(x, y + 102, 7), name="oil way")
    plate.words(x, y, f"cylinder {bank[0]}")
    plate.up(34, 306)
    plate.tag(272, 300, "oil way", [(x + 2, y + 103)], "oil way", ("case",))
    for left, good in ((4.0, True), (170.0, False)):
        plate.words(left, 344, "inside", "start")
        plate.words(left + 146, 344, "outside", "end")
        _joint(plate, left, 362, good)
    plate.right(14, 466, "thin film")
    plate.wrong(180, 466, "too thick")
    return plate


def _joint(plate: Plate, x: float, y: float, good: bool) -> None:
    """Draw case, sealer and barrel cut: the inside of the engine to the left."""
    thick = 3.0 if good else 12.0
    plate.draw(box(x + 56, y + 44, 90, 36), "outline", "aluminium", "case")
    plate.draw(box(x + 56, y + 10 - thick, 90, 34), "outline", "iron", "barrel")
    plate.draw(box(x + 57, y + 44 - thick, 88, thick), "held-solid", name="sealer")
    if not good:
        squeezed = blob((x + 58, y + 30), (x + 42, y + 30), (x + 32, y + 44), (x + 40, y + 56), (x + 54, y + 50))
        plate.draw(squeezed, "held-solid", name="sealer")
        plate.draw(disc(x + 26, y + 72, 7, 6), "held-solid", name="sealer")
        plate.arrow((x + 14, y + 54), (x + 14, y + 78), head=8)
