"""A tray with a row for every place, so that no part loses its name."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import box, disc, line, rounded
from calculators.drawings.kit.plate import Plate


def draw(engine: Engine) -> Plate:
    cylinders = [number for bank in engine.banks for number in bank]
    places = [f"{number} {kind}" for number in cylinders for kind in ("in", "ex")]
    pitch = 40.0 if len(places) <= 8 else 34.0
    plate = Plate(
        "A row for every place",
        f"A tray from above with {len(places)} rows, named {', '.join(places)}. In each row, in the same order: "
        "valve, spring, cap, a bag with both collets, rocker, and a pushrod stood in its hole. One row in blue: "
        "its name is written before the part is taken off.",
        60 + pitch * len(places),
        "on the bench, from above",
    )
    plate.draw(
        rounded([(0, 26), (320, 26), (320, 52 + pitch * len(places)), (0, 52 + pitch * len(places))], 8), name="tray"
    )
    for number, place in enumerate(places):
        y = 58 + pitch * number
        first = number == 0
        if number:
            plate.draw(line((10, y - pitch / 2), (310, y - pitch / 2)), "fine")
        plate.words(12, y, place, "start")
        for part in (
            parts.valve(24 if number % 2 == 0 else 20, 4, 62).moved(56, y),
            parts.spring(20, 2.6, 26, 4).moved(132, y),
        ):
            plate.put(part.in_hand() if first else part)
        look = "held" if first else "outline"
        plate.draw(disc(180, y, 10) + disc(180, y, 4), look, name="cap")
        plate.draw(rounded([(200, y - 10), (222, y - 10), (222, y + 10), (200, y + 10)], 3), look, name="bag")
        plate.draw(box(205, y - 3, 5, 7, 1), "held-solid" if first else "solid", name="collets")
        plate.draw(box(212, y - 3, 5, 7, 1), "held-solid" if first else "solid", name="collets")
        rocker = rounded(
            [
                (234, y - 4),
                (248, y - 9),
                (260, y - 9),
                (276, y - 4),
                (276, y + 4),
                (260, y + 9),
                (248, y + 9),
                (234, y + 4),
            ],
            3,
        )
        plate.draw(rocker, look, name="rocker")
        plate.draw(disc(254, y, 4), look, name="rocker")
        plate.draw(disc(296, y, 8), look, name="pushrod")
        plate.draw(disc(296, y, 3), "held-solid" if first else "solid", name="pushrod")
    return plate
