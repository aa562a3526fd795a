"""A tappet that comes out, and one that stays."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import box, closed, rounded
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw() -> Plate:
    plate = Plate(
        "A tappet that comes out, and one that stays",
        "Two tappets cut in their bores in the case, cam to the left. Above, a tappet no wider than its bore: a "
        "magnet draws it out to the right. Below, a tappet with a foot wider than its bore: it cannot come out "
        "this way; a clip across its end holds it, so that it does not drop off its lobe.",
        386,
        IN_THE_ENGINE,
    )
    for y, foot in ((100.0, 25.0), (276.0, 44.0)):
        plate.draw(box(84, y - 66, 74, 40), "outline", "aluminium", "case")
        plate.draw(box(84, y + 26, 74, 40), "outline", "aluminium", "case")
        plate.put(parts.cam(24, 9).turned(180), 38, y)
        if foot > 30:
            body = closed(
                (63, y - foot),
                (78, y - foot),
                (78, y - 25),
                (164, y - 25),
                (164, y + 25),
                (78, y + 25),
                (78, y + foot),
                (63, y + foot),
            )
            plate.draw(body, name="tappet")
        else:
            plate.draw(box(92, y - 25, 88, 50, 2), name="tappet")
    y = 100.0
    plate.draw(rounded([(182, y - 9), (200, y - 9), (200, y + 9), (182, y + 9)], 2), "held", name="magnet")
    plate.draw(box(200, y - 3, 96, 6), "held", name="magnet")
    plate.arrow((218, y + 24), (268, y + 24), look="held-open")
    plate.tag(262, 56, "magnet", [(250, y)], "magnet")
    y = 276.0
    plate.draw(
        rounded(
            [
                (168, y - 54),
                (176, y - 54),
                (176, y + 54),
                (168, y + 54),
                (168, y + 46),
                (160, y + 46),
                (160, y + 38),
                (168, y + 38),
                (168, y - 38),
                (160, y - 38),
                (160, y - 46),
                (168, y - 46),
            ],
            2,
        ),
        "held",
        name="clip",
    )
    plate.tag(250, 240, "clip", [(172, 256)], "clip")
    plate.words(0, 190, "no wider than its bore: drawn out", "start")
    plate.words(0, 368, "wider foot: it stays, and is held", "start")
    return plate
