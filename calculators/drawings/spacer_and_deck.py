"""Where the spacer goes, and what it does to the deck clearance."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import box, line
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw(engine: Engine) -> Plate:
    plate = Plate(
        "The spacer moves the barrel, the deck grows by as much",
        "A barrel on the case, cut, its piston at top dead centre. A spacer in blue lies between the case and the "
        "barrel's shoulder; the case's face carries it. At the other end the deck clearance is measured from the "
        "crown to the barrel's top: what the spacer adds below, the deck clearance gains above.",
        340,
        IN_THE_ENGINE,
    )
    scale = min(196 / (engine.barrel + 12), 122 / engine.bore, 1.6)
    y, seat = 180.0, 66.0
    spacer, deck = 9.0, 13.0
    half = engine.bore / 2 * scale
    for side in (-1, 1):
        mouth = y + side * (half + 7 * scale)
        plate.draw(box(0, min(mouth, mouth + 46 * side), seat, 46), "outline", "aluminium", "case")
        inner, high = y + side * (half + 6 * scale), 11 * scale
        plate.draw(box(seat, min(inner, inner + high * side), spacer, high), "held-solid", name="spacer")
    at = seat + spacer
    tall = engine.barrel * scale
    pin = at + tall - deck - engine.bore * 0.46 * scale
    plate.put(parts.rod(120).scaled(scale), pin, y)
    plate.put(parts.barrel(engine.bore, engine.barrel, 9, 12, 5, 15, 12).scaled(scale), at, y)
    plate.put(parts.piston(engine.bore, rings=False).scaled(scale), pin, y)
    top = at + tall
    plate.draw(line((top - deck, y), (top - deck, y + half + 60)) + line((top, y + half), (top, y + half + 60)), "fine")
    level = y + half + 52
    plate.arrow((top - deck - 24, level), (top - deck, level), look="held-open", head=7)
    plate.arrow((top + 24, level), (top, level), look="held-open", head=7)
    plate.words(top - deck / 2, level + 17, "deck")
    plate.tag(72, 38, "spacer", [(seat + spacer / 2, y - half - 12 * scale)], "spacer")
    return plate
