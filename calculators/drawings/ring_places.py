"""Where the ring gaps go, which way up the rings lie, which way round the crown."""

from __future__ import annotations

from calculators.drawings.kit import parts
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
        "the oil ring's lies in the upper half. An arrow on the crown points to the flywheel or the pulley, as "
        "the maker says. Beside it the piston from its side: top ring, second ring and oil ring in their "
        "grooves, the mark TOP on the side of the crown.",
        412,
        FACE_ON,
    )
    x, y = 160.0, 146.0
    plate.draw(disc(x, y, 92), name="barrel")
    for radius, angle in ((85, 290), (75, 160), (65, 42)):
        plate.draw(parts.ring(radius, 5, angle, 17).pieces[0].path.moved(x, y), "held-solid", name="ring")
    plate.draw(disc(x, y, 53), name="crown")
    pin = line((x - 50, y - 11), (x - 10, y - 11)) + line((x + 10, y - 11), (x + 50, y - 11))
    plate.draw(pin + line((x - 50, y + 11), (x - 10, y + 11)) + line((x + 10, y + 11), (x + 50, y + 11)), "fine")
    plate.draw(
        closed(
            (x - 24, y),
            (x - 10, y - 12),
            (x - 10, y - 5),
            (x + 24, y - 5),
            (x + 24, y + 5),
            (x - 10, y + 5),
            (x - 10, y + 12),
        ),
        "solid",
    )
    for angle in (0, 90, 180, 270):
        plate.wrong(*around(x, y, 106, angle))
    plate.tag(34, 84, "top", [around(x, y, 82.5, 299)], "ring", ("barrel",))
    plate.tag(266, 238, "second", [around(x, y, 72.5, 151)], "ring", ("barrel",))
    plate.tag(276, 60, "oil", [around(x, y, 62.5, 52)], "ring", ("barrel",))
    plate.up(36, 240)
    _side(plate, 110, 290)
    return plate


def _side(plate: Plate, x: float, y: float) -> None:
    """Draw the ring belt from its side, crown at the top."""
    plate.draw(closed((x, y), (x + 110, y), (x + 110, y + 96), (x, y + 96)), "outline", name="piston")
    plate.draw(curve((x, y + 96), (x + 30, y + 102), (x + 80, y + 90), (x + 110, y + 96)), "open")
    for at, high in ((10, 8), (40, 8), (62, 14)):
        plate.draw(box(x - 4, y + at, 118, high, 1), "held", name="ring")
    plate.draw(line((x - 4, y + 67), (x + 114, y + 67)) + line((x - 4, y + 72), (x + 114, y + 72)), "fine")
    plate.words(x + 55, y + 29, "TOP")
    plate.words(x + 55, y - 11, "crown")
    plate.words(x + 122, y + 14, "top", "start")
    plate.words(x + 122, y + 44, "second", "start")
    plate.words(x + 122, y + 69, "oil", "start")
