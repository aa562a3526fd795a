"""Top dead centre by a stop: two marks, and the midpoint between them."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import around, closed, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "Top dead centre by a stop",
        "Left, a barrel cut, a stop screwed into the plug hole holds the piston short of its top. Right, the "
        "pulley: turned gently one way until the piston meets the stop, mark 1; turned the other way, mark 2. "
        "Half-way between the two marks, on the side of the stop, lies top dead centre.",
        374,
        "in the engine, and the pulley face on",
    )
    y = 110.0
    plate.put(parts.rod(90).scaled(0.9), 70, y)
    plate.put(parts.barrel(84, 116, 8, 12, 6, 10).scaled(0.9), 40, y)
    plate.put(parts.piston(84).scaled(0.88), 70, y)
    head = [(146, y - 56), (200, y - 56), (200, y - 7), (156, y - 7), (156, y - 30), (146, y - 38)]
    for side in (-1, 1):
        plate.draw(closed(*((float(a), y + (b - y) * side) for a, b in head)), "outline", "aluminium", "head")
    plate.draw(
        rounded(
            [
                (108, y - 6),
                (206, y - 6),
                (206, y - 14),
                (222, y - 14),
                (222, y + 14),
                (206, y + 14),
                (206, y + 6),
                (108, y + 6),
            ],
            [6, 0, 2, 2, 2, 2, 0, 6],
        ),
        "held",
        name="stop",
    )
    plate.tag(270, 46, "stop", [(214, y - 6)], "stop")
    x, y = 160.0, 280.0
    plate.put(parts.pulley(136), x, y)
    for angle, words in ((-48, "1"), (48, "2")):
        plate.draw(line(around(x, y, 56, angle), around(x, y, 68, angle)), "open")
        tx, ty = around(x, y, 44, angle)
        plate.words(tx, ty, words)
    plate.draw(line(around(x, y, 46, 0), around(x, y, 68, 0)), "held-open")
    plate.draw(closed((x, y - 72), (x - 7, y - 86), (x + 7, y - 86)), "solid", name="case mark")
    plate.turn(x, y, 82, 12, 40)
    plate.turn(x, y, 82, -12, -40)
    plate.words(x, y - 34, "top")
    return plate
