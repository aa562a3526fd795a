"""Sealer on the case: a thin bead round the mouth and the stud holes, clear of the oil way."""

from __future__ import annotations

from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import arc, box, closed, disc
from calculators.drawings.kit.plate import FACE_ON, Plate


def draw(engine: Engine) -> Plate:
    bank = engine.banks[-1]
    plate = Plate(
        "A thin bead that closes on itself",
        f"The case's face for cylinder {bank[0]}, up at the top, pulley end to the left: the mouth, four studs, "
        "and an oil way beside it. A thin bead runs round the mouth and round each stud, closes on itself, and "
        "leaves the oil way free. Below, the joint cut: right, a thin film; wrong, too much, squeezed into the "
        "case, where it breaks off.",
        470,
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
        _joint(plate, left, 352, good)
    plate.right(14, 450, "thin film")
    plate.wrong(180, 450, "squeezed in")
    return plate


def _joint(plate: Plate, x: float, y: float, good: bool) -> None:
    """Draw case, sealer and barrel cut: the inside of the engine to the left."""
    plate.draw(box(x + 44, y + 36, 102, 34), "outline", "aluminium", "case")
    plate.draw(
        closed((x + 60, y), (x + 146, y), (x + 146, y + 32), (x + 44, y + 32), (x + 44, y + 32), (x + 44, y)),
        "outline",
        "iron",
        "barrel",
    )
    thick = 4.5
    plate.draw(box(x + (46 if good else 38), y + 31.5, 100 if good else 108, thick), "held-solid", name="sealer")
    if not good:
        plate.draw(disc(x + 32, y + 36, 12, 10), "held-solid", name="sealer")
        plate.draw(disc(x + 16, y + 60, 7, 6), "held-solid", name="sealer")
