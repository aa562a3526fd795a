"""Which tool goes where on a head."""

from __future__ import annotations

from calculators.drawings.kit.path import Path, bar, closed, line, outline
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw() -> Plate:
    plate = Plate(
        "Which tool where",
        "A head cut through a chamber, chamber up, an old valve in its seat. In the chamber a scraper of wood or "
        "plastic. On the barrel's seat a soft blade. In the plug's thread a chaser turned by hand. In the port a "
        "brush, the guide plugged. Nowhere a steel scraper, nowhere a wire wheel.",
        412,
        ON_THE_BENCH,
    )
    head = [
        (8, 176),
        (50, 176),
        (50, 190),
        (78, 190),
        (96, 214),
        (120, 226),
        (120, 240),
        (146, 256),
        (146, 318),
        (8, 318),
    ]
    other = [
        (312, 176),
        (268, 176),
        (268, 190),
        (244, 190),
        (212, 214),
        (196, 226),
        (196, 240),
        (170, 256),
        (170, 318),
        (312, 318),
    ]
    plate.draw(closed(*((float(a), float(b)) for a, b in head)), "outline", "aluminium", "head")
    plate.draw(closed(*((float(a), float(b)) for a, b in other)), "outline", "aluminium", "head")
    plate.draw(
        outline(
            (196.0, 240.0),
            ((236.0, 262.0), (262.0, 268.0), (312.0, 272.0)),
            (312.0, 306.0),
            ((240.0, 304.0), (200.0, 296.0), (170.0, 262.0)),
            (170.0, 256.0),
        ),
        name="port",
    )
    plate.draw(
        closed(
            (120, 226),
            (196, 226),
            (196, 231),
            (172, 246),
            (164, 262),
            (164, 318),
            (152, 318),
            (152, 262),
            (144, 246),
            (120, 231),
        ),
        name="old valve",
    )
    plate.draw(closed((104, 213), (112, 203), (178, 96), (192, 104), (126, 212), (112, 219)), "held", name="wood")
    plate.draw(line((130, 186), (176, 110)) + line((138, 188), (182, 114)), "fine")
    plate.draw(closed((52, 189), (76, 189), (74, 180), (46, 96), (32, 100), (52, 180)), "held", name="soft blade")
    plate.draw(bar((206, 218), (238, 181), 20), "blank")
    plate.draw(bar((208, 216), (286, 126), 15), "held", name="chaser")
    for number in range(8):
        x, y = 213 + number * 7, 210.4 - number * 8.1
        plate.draw(line((x - 6, y - 5), (x + 6, y + 5)), "fine")
    plate.draw(bar((262, 112), (306, 148), 9, True), "held", name="chaser")
    plate.draw(bar((246, 287), (318, 291), 4), "held", name="brush")
    bristles = Path(())
    for number in range(9):
        bristles += line((236 + number * 6, 273 + number * 0.6), (240 + number * 6, 300 + number * 0.4))
    plate.draw(bristles, "held-open", name="brush")
    plate.tag(60, 60, "soft blade", [(42, 108)], "soft blade")
    plate.tag(182, 60, "wood", [(182, 104)], "wood")
    plate.tag(278, 74, "chaser", [(284, 130)], "chaser")
    plate.tag(240, 344, "brush", [(302, 290)], "brush", ("head", "port"))
    plate.tag(66, 344, "old valve", [(158, 300)], "old valve", ("head",))
    plate.wrong(14, 390, "no steel scraper, no wire wheel")
    return plate
