"""Where air that is blown into a cylinder comes out again."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import box, closed, rounded
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw() -> Plate:
    plate = Plate(
        "Where the air escapes",
        "A cylinder cut, piston at its top, air coming in by the plug's hole. Four ways out, each an arrow: past "
        "the shut inlet valve to the carburettor, past the shut exhaust valve to the tailpipe, past the rings to "
        "the oil filler, between barrel and head to bubbles of soapy water.",
        330,
        IN_THE_ENGINE,
    )
    y = 190.0
    plate.draw(box(0, y - 84, 26, 40), "outline", "aluminium", "case")
    plate.draw(box(0, y + 44, 26, 40), "outline", "aluminium", "case")
    plate.put(parts.rod(110).scaled(0.9), 84, y)
    plate.put(parts.barrel(84, 110, 8, 12, 6, 10).scaled(0.94), 30, y)
    plate.put(parts.piston(84).scaled(0.92), 92, y)
    for side in (-1, 1):
        head = [(135, 62), (135, 40), (141, 40), (186, 14), (186, 8), (226, 8), (226, 34), (206, 62)]
        plate.draw(closed(*((float(a), y + b * side) for a, b in head)), "outline", "aluminium", "head")
        port = [(154, 32.5), (173, 21.5), (179, 32), (172, 62), (150, 62)]
        plate.draw(closed(*((a, y + b * side) for a, b in port)), "outline", name="port")
        plate.put(parts.valve(27, 5, 54).turned(60 * side), 163.5, y + 26 * side)
    plate.draw(rounded([(178, y - 7), (262, y - 7), (262, y + 7), (178, y + 7)], 2), "held", name="air")
    plate.arrow((310, y), (270, y), look="held-open")
    plate.words(290, y - 20, "air in")
    plate.arrow((146, y - 20), (151, y - 38), (160, y - 58), (160, y - 104), look="held-open")
    plate.arrow((146, y + 20), (151, y + 38), (160, y + 58), (160, y + 104), look="held-open")
    plate.arrow((128, y - 40), (60, y - 37), (14, y - 20), look="held-open")
    plate.arrow((132, y + 52), (118, y + 92), look="held-open")
    plate.words(200, y - 120, "1  inlet: carburettor")
    plate.words(228, y + 120, "2  exhaust: tailpipe")
    plate.words(0, y - 104, "3  rings: filler", "start")
    plate.words(76, y + 106, "4  joint: bubbles")
    return plate
