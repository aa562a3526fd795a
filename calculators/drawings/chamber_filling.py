"""The plate on the chamber, the bubble at its hole, the eye level with the meniscus."""

from __future__ import annotations

from calculators.drawings.kit.path import Path, box, closed, curve, disc, line, outline
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw() -> Plate:
    plate = Plate(
        "Fill to the plate's underside, read at eye level",
        "A head cut, chamber up, a clear plate greased on its face. A burette lets liquid in through the hole of "
        "the plate, which stands at the highest place; a bubble under the plate is still to come out by the "
        "hole. Beside it the burette's scale, enlarged: the eye is level with the lower edge of the liquid's "
        "curve. Wrong: from above or below the line misses it.",
        440,
        ON_THE_BENCH,
    )
    _chamber(plate, 0, 210)
    _scale(plate, 196, 250)
    return plate


def _chamber(plate: Plate, x: float, y: float) -> None:
    head = outline(
(x + 4, y),
(x + 34, y),
((x + 40, y + 40), (x + 70, y + 50), (x + 96, y + 50)),
((x + 126, y + 50), (x + 152, y + 40), (x + 158, y)),
(x + 188, y),
(x + 188, y + 82),
(x + 4, y + 82),
)  # fmt: skip
    plate.draw(head, "outline", "aluminium", "head")
    wet = Path(())
    for number, (left, right) in enumerate(((38, 100), (44, 150), (52, 144), (64, 132))):
        level = y + 8 + number * 10
        for at in range(left, right - 8, 18):
            wet += line((x + at, level), (x + at + 9, level))
    plate.draw(wet, "fine")
    plate.draw(disc(x + 128, y + 7, 13, 6), "held", name="bubble")
    plate.draw(box(x + 6, y - 11, 82, 10), name="plate")
    plate.draw(box(x + 100, y - 11, 86, 10), name="plate")
    plate.draw(closed((x + 92, y - 14), (x + 91, y - 44), (x + 97, y - 44), (x + 96, y - 14)), name="burette")
    plate.draw(box(x + 80, y - 56, 28, 11, 3), name="burette")
    plate.draw(box(x + 85, y - 166, 18, 110), name="burette")
    marks = Path(())
    for number in range(9):
        marks += line((x + (89 if number % 4 == 0 else 94), y - 158 + number * 11), (x + 103, y - 158 + number * 11))
    plate.draw(marks, "fine")
    plate.tag(x + 42, y - 48, "plate", [(x + 42, y - 6)], "plate")
    plate.tag(x + 158, y - 44, "bubble", [(x + 138, y + 7)], "bubble", ("plate",))
    plate.words(x + 96, y + 110, "rock until it is out")


def _scale(plate: Plate, x: float, y: float) -> None:
    top = y - 206.0
    plate.draw(box(x + 26, top, 40, 300), name="tube")
    marks = Path(())
    for number in range(15):
        at = top + 10 + number * 20
        marks += line((x + (40 if number % 5 == 0 else 52), at), (x + 66, at))
    plate.draw(marks, "fine")
    level = top + 150.0
    plate.draw(
        curve((x + 27, level - 12), (x + 36, level - 2), (x + 46, level), (x + 56, level - 2), (x + 65, level - 12)),
        "held-open",
        name="meniscus",
    )
    for number in range(5):
        plate.draw(line((x + 32, level + 14 + number * 26), (x + 40, level + 14 + number * 26)), "fine")
    for dy, good in ((0.0, True), (-70.0, False), (70.0, False)):
        ex, ey = x + 106, level + dy
        plate.draw(line((ex - 12, ey), (x + 46, level)), "held-open" if good else "fine")
        plate.draw(
            outline(
                (ex - 12, ey),
                ((ex - 6, ey - 9), (ex + 6, ey - 9), (ex + 12, ey)),
                ((ex + 6, ey + 9), (ex - 6, ey + 9), (ex - 12, ey)),
            ),
            name="eye",
        )
        plate.draw(disc(ex - 3, ey, 4), "solid")
        if good:
            plate.right(ex + 4, ey + 24)
        else:
            plate.wrong(ex + 4, ey + 24)
