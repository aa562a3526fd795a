"""A tray with a row for every place, so that no part loses its name."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import bar, box, disc, line, rounded
from calculators.drawings.kit.plate import Plate


def draw(engine: Engine) -> Plate:
    cylinders = [number for bank in engine.banks for number in bank]
    places = [f"{number} {kind}" for number in cylinders for kind in ("in", "ex")]
    pitch = 40.0 if len(places) <= 8 else 34.0
    plate = Plate(
        "A row for every place",
        f"A tray from above with {len(places)} rows, named {', '.join(places)}. In each row, in the same order: "
        "valve, spring, cap, a bag with both collets, rocker, and the pushrod lying along the row. One row in blue: "
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
            parts.valve(24 if number % 2 == 0 else 20, 4, 48).moved(52, y),
            parts.spring(20, 2.6, 23, 4).moved(105, y),
        ):
            plate.put(part.in_hand() if first else part)
        look = "held" if first else "outline"
        plate.draw(disc(144, y, 10) + disc(144, y, 4), look, name="cap")
        plate.draw(rounded([(160, y - 10), (182, y - 10), (182, y + 10), (160, y + 10)], 3), look, name="bag")
        plate.draw(box(165, y - 3, 5, 7, 1), "held-solid" if first else "solid", name="collets")
        plate.draw(box(172, y - 3, 5, 7, 1), "held-solid" if first else "solid", name="collets")
        rocker = rounded(
            [
                (190, y - 4),
                (204, y - 9),
                (214, y - 9),
                (228, y - 4),
                (228, y + 4),
                (214, y + 9),
                (204, y + 9),
                (190, y + 4),
            ],
            3,
        )
        plate.draw(rocker, look, name="rocker")
        plate.draw(disc(209, y, 4), look, name="rocker")
        plate.draw(bar((240, y), (306, y), 4), look, name="pushrod")
        plate.draw(disc(239, y, 4) + disc(307, y, 4), "held-solid" if first else "solid", name="pushrod")
    return plate
