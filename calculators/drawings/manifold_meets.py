"""A manifold that meets both faces at once, and one whose end gapes."""

from __future__ import annotations

from calculators.drawings.kit.path import box, closed, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "The manifold meets both faces by hand",
        "A manifold on two ports, seen from the side, held by hand without nuts. Right: both flanges lie flat on "
        "their faces. Wrong: one flange lies flat and the other gapes; nuts would bend it and it would leak.",
        400,
        "from the side, without nuts",
    )
    _manifold(plate, 150, 0)
    _manifold(plate, 338, 15)
    plate.right(14, 196, "both flat")
    plate.wrong(14, 384, "one end gapes")
    return plate


def _manifold(plate: Plate, y: float, gap: float) -> None:
    for x in (26.0, 206.0):
        plate.draw(box(x, y, 88, 28), "outline", "aluminium", "head")
    shape = closed(
        (58, y - 16),
        (58, y - 44),
        (82, y - 84),
        (236, y - 84 - gap),
        (262, y - 44 - gap),
        (262, y - 16 - gap),
        (238, y - 16 - gap),
        (238, y - 40 - gap),
        (226, y - 60 - gap),
        (94, y - 60),
        (82, y - 40),
        (82, y - 16),
    )
    plate.draw(shape, name="manifold")
    plate.draw(
        rounded(
            [(134, y - 106 - gap / 2), (186, y - 106 - gap / 2), (186, y - 84 - gap / 2), (134, y - 84 - gap / 2)], 2
        ),
        name="manifold",
    )
    plate.draw(box(36, y - 16, 68, 13, 2), name="flange")
    plate.draw(box(216, y - 16 - gap, 68, 13, 2), "held" if gap else "outline", name="flange")
    for x in (36.0, 216.0):
        for at in (8.0, 56.0):
            plate.draw(box(x + at, y - 30, 5, 30), name="stud")
    plate.draw(box(40, y - 3, 60, 3), "solid", name="gasket")
    plate.draw(box(220, y - 3, 60, 3), "solid", name="gasket")
    if gap:
        plate.arrow((306, y - 42), (306, y - 18), look="held-open", head=7)
        plate.arrow((306, y + 22), (306, y - 1), look="held-open", head=7)
        plate.draw(line((286, y - 17), (314, y - 17)) + line((286, y - 2), (314, y - 2)), "fine")
