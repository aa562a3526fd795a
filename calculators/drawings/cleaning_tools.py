"""Which tool goes where on a head."""

from __future__ import annotations

from calculators.drawings.kit.path import Path, bar, closed, line, outline
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw() -> Plate:
    plate = Plate(
        "Which tool where",
        "A head cut through a chamber, chamber up, an old valve in its seat. In the chamber a scraper of wood or "
        "plastic. On the barrel's seat a soft blade. In the plug hole's thread a chaser, turned by hand from "
        "outside. In the port a brush, the guide plugged. Nowhere a steel scraper, nowhere a wire wheel.",
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
        (290, 176),
        (268, 176),
        (268, 190),
        (244, 190),
        (212, 214),
        (196, 226),
        (196, 240),
        (170, 256),
        (170, 318),
        (290, 318),
    ]
    plate.draw(closed(*((float(a), float(b)) for a, b in head)), "outline", "aluminium", "head")
    plate.draw(closed(*((float(a), float(b)) for a, b in other)), "outline", "aluminium", "head")
    plate.draw(
        outline(
            (196.0, 240.0),
            ((226.0, 260.0), (252.0, 266.0), (290.0, 270.0)),
            (290.0, 304.0),
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
    _plug_hole(plate)
    plate.draw(bar((236, 287), (316, 291), 4), "held", name="brush")
    bristles = Path(())
    for number in range(9):
        bristles += line((222 + number * 6, 272 + number * 0.8), (226 + number * 6, 298 + number * 0.6))
    plate.draw(bristles, "held-open", name="brush")
    plate.tag(60, 60, "soft blade", [(42, 108)], "soft blade")
    plate.tag(182, 60, "wood", [(182, 104)], "wood")
    plate.tag(272, 112, "chaser", [(308, 206)], "chaser")
    plate.tag(274, 352, "brush", [(304, 290)], "brush")
    plate.tag(66, 344, "old valve", [(158, 300)], "old valve", ("head",))
    plate.wrong(14, 390, "no steel scraper, no wire wheel")
    return plate


def _plug_hole(plate: Plate) -> None:
    """Draw the plug's threaded hole from the outside into the chamber, and the chaser in it."""
    upper, lower = ((237.0, 195.2), (290.0, 210.4)), ((219.0, 208.8), (290.0, 229.2))
    plate.draw(closed((235, 193), (293, 211), (293, 230), (217, 210)), "blank")
    plate.draw(line(*upper) + line(*lower), "open", name="plug hole")
    threads = Path(())
    for number in range(9):
        x = 242 + number * 5.2
        threads += line((x, 196.6 + number * 1.5), (x - 1, 200 + number * 1.5))
        threads += line((x, 215.4 + number * 1.5), (x + 1, 212 + number * 1.5))
    plate.draw(bar((236, 204.5), (308, 225.1), 11), "held", name="chaser")
    plate.draw(threads, "fine")
    plate.draw(bar((314, 198), (300, 250), 9, True), "held", name="chaser")
