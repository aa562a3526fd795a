"""The way of the starter's current: out by the thick wire, home by the engine's earth strap."""

from __future__ import annotations

from calculators.drawings.kit.path import box, disc, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "The starter's current and its way home",
        "Battery, body and engine. The thick wire leads from the battery to the starter. The current goes home from "
        "the starter through the engine's metal, by the earth strap between engine and body, and by the battery's "
        "own strap from the body. Rubber mountings carry none. Without the strap it goes through throttle cable and "
        "bearings.",
        270,
        "circuit",
    )
    plate.draw(box(6, 214, 308, 20), name="body")
    plate.draw(rounded([(14, 92), (90, 92), (90, 148), (14, 148)], 4), name="battery")
    plate.draw(line((78, 92), (78, 84)), "open")
    plate.words(52, 120, "battery")
    plate.draw(rounded([(168, 60), (304, 60), (304, 176), (168, 176)], 10), name="engine")
    plate.words(256, 84, "engine")
    plate.draw(disc(206, 126, 24), name="starter")
    plate.draw(line((78, 84), (78, 40), (206, 40), (206, 102)), "open")
    for x in (186.0, 292.0):
        plate.draw(box(x - 8, 176, 16, 38), cut="rubber", name="mounting")
    plate.draw(line((240, 176), (240, 214)), "held-open", name="strap")
    plate.draw(line((26, 84), (26, 70), (8, 70), (8, 214)), "held-open", name="strap")
    plate.draw(disc(240, 176, 5), "held", name="strap")
    plate.draw(disc(240, 214, 5), "held", name="strap")
    plate.draw(disc(8, 214, 5), "held", name="strap")
    plate.draw(disc(26, 84, 5), "held", name="strap")
    plate.arrow((160, 224), (40, 224), look="held-open")
    plate.tag(148, 252, "earth strap", [(237, 215)], "strap", ("body",))
    plate.words(206, 126, "M")
    return plate
