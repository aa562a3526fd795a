"""Where the ring gaps go, which way up the rings lie, which way round the crown."""

from __future__ import annotations

from calculators.drawings.kit import oblique, parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import around, box, closed, curve, disc, line
from calculators.drawings.kit.plate import FACE_ON, Plate


def draw(engine: Engine) -> Plate:
    bank = engine.banks[-1]
    plate = Plate(
        "Ring gaps a third of a turn apart, marks to the crown",
        f"The crown of a piston of cylinders {', '.join(map(str, bank))}, seen from the head, up at the top and "
        "the pulley end to the left. The gaps of top ring, second ring and oil ring lie a third of a turn apart. "
        "None lies over an end of the gudgeon pin, left and right, and none on the thrust faces, top and bottom; "
        "the oil ring's lies in the upper half. Which way round the crown "
        "goes, to the flywheel or to the pulley, is as the maker says. Below, a piece of a ring, the mark TOP on its "
        "side that faces the crown; and the piston from its side: top ring, second ring and oil ring in their "
        "grooves.",
        430,
        FACE_ON,
    )
    x, y = 160.0, 146.0
    plate.draw(disc(x, y, 92), name="barrel")
    for radius, angle in ((85, 290), (75, 160), (65, 42)):
        plate.draw(parts.ring(radius, 5, angle, 17).pieces[0].path.moved(x, y), "held-solid", name="ring")
    plate.draw(disc(x, y, 53), name="crown")
    pin = line((x - 50, y - 11), (x - 10, y - 11)) + line((x + 10, y - 11), (x + 50, y - 11))
    plate.draw(pin + line((x - 50, y + 11), (x - 10, y + 11)) + line((x + 10, y + 11), (x + 50, y + 11)), "fine")
    plate.words(x, y, "?")
    for side in (-1, 1):
        plate.arrow((x + 10 * side, y), (x + 42 * side, y))
    for angle in (0, 90, 180, 270):
        plate.wrong(*around(x, y, 106, angle))
    plate.tag(34, 84, "top", [around(x, y, 82.5, 299)], "ring", ("barrel",))
    plate.tag(266, 238, "second", [around(x, y, 72.5, 151)], "ring", ("barrel",))
    plate.tag(276, 60, "oil", [around(x, y, 62.5, 52)], "ring", ("barrel",))
    plate.up(36, 234)
    plate.words(160, 276, "? which way: as the maker says")
    _side(plate, 176, 322)
    _marked(plate, 8, 366)
    return plate


def _side(plate: Plate, x: float, y: float) -> None:
    """Draw the ring belt from its side, crown at the top."""
    plate.draw(closed((x, y), (x + 74, y), (x + 74, y + 96), (x, y + 96)), "outline", name="piston")
    plate.draw(curve((x, y + 96), (x + 20, y + 102), (x + 54, y + 90), (x + 74, y + 96)), "open")
    for at, high in ((10, 8), (40, 8), (62, 14)):
        plate.draw(box(x - 4, y + at, 82, high, 1), "held", name="ring")
    plate.draw(line((x - 4, y + 67), (x + 78, y + 67)) + line((x - 4, y + 72), (x + 78, y + 72)), "fine")
    plate.words(x + 37, y - 11, "crown")
    plate.words(x + 84, y + 14, "top", "start")
    plate.words(x + 84, y + 44, "second", "start")
    plate.words(x + 84, y + 69, "oil", "start")


def _marked(plate: Plate, x: float, y: float) -> None:
    """Draw a piece of a ring, its marked side up."""
    for piece in oblique.swept(box(x, y, 106, 16), 70):
        plate.draw(piece.path, piece.look, name="ring")
    plate.words(x + 65, y - 12, "TOP")
    plate.words(x, y + 34, "piece of a ring", "start")
    plate.arrow((x + 65, y - 30), (x + 65, y - 56))
    plate.words(x + 73, y - 44, "crown", "start")
