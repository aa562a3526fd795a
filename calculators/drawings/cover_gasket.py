"""The rocker cover's gasket home and pinched, and the bail over the cover's middle."""

from __future__ import annotations

from calculators.drawings.kit import hands
from calculators.drawings.kit.path import bar, box, closed, disc, line, outline, rounded
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw() -> Plate:
    plate = Plate(
        "Cover gasket home, bail in its notch",
        "The lower edge of a rocker cover on the head, cut and enlarged. Right: the gasket lies flat between the "
        "cover's lip and the head's face. Wrong: the gasket has slipped and is pinched, half of it hangs out "
        "below. Beneath, the whole cover in the engine: the wire bail swings up over it and snaps into the notch "
        "in the middle; a long smooth bar pushes it, the hand stays outside the bail's path.",
        452,
    )
    _edge(plate, 0, True)
    _edge(plate, 166, False)
    plate.right(14, 158, "flat all round")
    plate.wrong(180, 158, "pinched")
    plate.words(0, 192, IN_THE_ENGINE, "start")
    _cover(plate, 64, 306)
    return plate


def _edge(plate: Plate, x: float, good: bool) -> None:
    plate.draw(box(x + 2, 6, 50, 106), "outline", "aluminium", "head")
    if good:
        plate.draw(box(x + 53, 56, 12, 54), "held", "iron", "gasket")
        lip = [(112, 4), (112, 46), (67, 46), (67, 116), (52, 116), (52, 122), (75, 122), (75, 54), (120, 54), (120, 4)]
    else:
        gasket = outline(
(x + 53, 58),
(x + 63, 58),
(x + 63, 96),
((x + 63, 116), (x + 54, 120), (x + 46, 132)),
(x + 36, 126),
((x + 42, 116), (x + 53, 112), (x + 53, 96)),
)  # fmt: skip
        lip = [(122, 4), (116, 46), (66, 52), (70, 104), (64, 118), (66, 124), (78, 108), (75, 60), (123, 53), (130, 4)]
        plate.draw(gasket, "held", "iron", "gasket")
    plate.draw(closed(*((x + a, b) for a, b in lip)), name="cover")
    if good:
        plate.tag(x + 112, 104, "gasket", [(x + 59, 88)], "gasket", ("cover",))


def _cover(plate: Plate, x: float, y: float) -> None:
    plate.draw(box(x - 54, y - 92, 54, 184), "outline", "aluminium", "head")
    plate.draw(box(x, y - 74, 8, 148), "outline", name="gasket")
    plate.draw(
        rounded(
            [
                (x + 8, y - 76),
                (x + 20, y - 76),
                (x + 20, y - 64),
                (x + 62, y - 50),
                (x + 62, y + 50),
                (x + 20, y + 64),
                (x + 20, y + 76),
                (x + 8, y + 76),
            ],
            [2, 2, 3, 14, 14, 3, 2, 2],
        ),
        name="cover",
    )
    plate.draw(rounded([(x + 58, y - 7), (x + 66, y - 7), (x + 66, y + 7), (x + 58, y + 7)], 2), name="notch")
    pivot = (x - 16, y + 60)
    plate.draw(disc(*pivot, 6), name="pivot")
    plate.draw(line(pivot, (x + 62, y + 76), (x + 86, y + 54), (x + 92, y + 41)), "held-open", name="bail")
    plate.draw(disc(x + 93, y + 39, 5), "held", name="bail")
    plate.arrow((x + 100, y + 26), (x + 92, y + 8), (x + 76, y), look="held-open")
    plate.draw(bar((x + 99, y + 42), (x + 246, y + 126), 9, True), "outline", name="bar")
    plate.put(hands.grip().scaled(0.5).turned(30), x + 196, y + 97)
    plate.tag(x + 150, y - 54, "notch", [(x + 62, y - 3)], "notch")
    plate.tag(x + 160, y + 4, "bail", [(x + 94, y + 38)], "bail")
    plate.tag(x + 196, y + 46, "smooth bar", [(x + 144, y + 68)], "bar")
