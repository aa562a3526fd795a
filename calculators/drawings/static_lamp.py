"""The static timing lamp: its circuit, and what it says."""

from __future__ import annotations

from calculators.drawings.kit.path import around, box, closed, disc, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "The static timing lamp",
        "The circuit: from the battery through the ignition switch and the coil to the points' terminal; the "
        "points lead to earth. A lamp hangs between the points' terminal and earth. Points shut: the lamp is "
        "out, the points carry the current past it. Points just open: the lamp lights. That is the moment of the "
        "spark.",
        406,
        "circuit",
    )
    plate.draw(rounded([(6, 66), (66, 66), (66, 108), (6, 108)], 3), name="battery")
    plate.words(22, 87, "−")
    plate.words(50, 87, "+")
    plate.draw(line((52, 66), (52, 40), (104, 40)), "open")
    plate.draw(disc(106, 40, 3), "solid")
    plate.draw(line((108, 38), (132, 26)), "open")
    plate.draw(disc(138, 40, 3), "solid")
    plate.draw(line((138, 40), (176, 40)), "open")
    plate.words(122, 62, "key")
    plate.draw(rounded([(176, 26), (232, 26), (232, 54), (176, 54)], 6), name="coil")
    plate.words(204, 40, "coil")
    plate.draw(line((232, 40), (278, 40), (278, 76)), "open")
    plate.draw(disc(278, 82, 6), name="terminal")
    plate.draw(line((278, 88), (278, 104)), "open")
    plate.draw(line((278, 82), (204, 82), (204, 90)), "held-open")
    _lamp(plate, 204, 106, False)
    plate.draw(line((204, 122), (204, 148)), "held-open")
    plate.draw(box(266, 101, 24, 4), name="points")
    plate.draw(box(266, 110, 24, 4), name="points")
    plate.draw(line((278, 112), (278, 148)), "open")
    plate.draw(line((22, 108), (22, 148)), "open")
    for x in (22.0, 204.0, 278.0):
        plate.draw(
            line((x - 14, 148), (x + 14, 148)) + line((x - 8, 154), (x + 8, 154)) + line((x - 3, 160), (x + 3, 160)),
            "open",
        )
    plate.tag(134, 106, "lamp", [(198, 106)], "lamp")
    plate.tag(240, 190, "points", [(242, 120), (270, 112)], "points")
    plate.words(70, 156, "earth", "start")
    for x, lit in ((76.0, False), (240.0, True)):
        _points(plate, x, 282, lit)
    plate.words(76, 372, "shut: out")
    plate.words(240, 372, "just open: lit")
    plate.words(240, 394, "= spark")
    return plate


def _lamp(plate: Plate, x: float, y: float, lit: bool) -> None:
    plate.draw(disc(x, y, 16), "held", name="lamp")
    plate.draw(line((x - 11, y - 11), (x + 11, y + 11)) + line((x + 11, y - 11), (x - 11, y + 11)), "held-open")
    if lit:
        for angle in range(0, 360, 45):
            plate.draw(line(around(x, y, 21, angle), around(x, y, 30, angle)), "held-open")


def _points(plate: Plate, x: float, y: float, open_: bool) -> None:
    """Draw the distributor's cam, heel and points, and the lamp beside."""
    square = rounded([(-20, -20), (20, -20), (20, 20), (-20, 20)], 8)
    plate.draw((square.turned(45) if open_ else square.turned(0)).moved(x - 28, y + 44), name="cam")
    lift = 7 if open_ else 0
    plate.draw(
        closed(
            (x - 34, y + 10), (x - 22, y + 10), (x - 26, y + (18 if open_ else 23)), (x - 30, y + (18 if open_ else 23))
        ),
        "outline",
        name="heel",
    )
    plate.draw(closed((x - 60, y + 2), (x + 34, y - lift), (x + 34, y + 8 - lift), (x - 60, y + 10)), name="arm")
    plate.draw(box(x + 24, y - 8 - lift, 12, 8), "held", name="contact")
    plate.draw(box(x + 24, y - (30 if open_ else 17), 12, 8), "held", name="contact")
    plate.draw(line((x + 30, y - (17 if not open_ else 30)), (x + 30, y - 44), (x + 60, y - 44)), "open")
    _lamp(plate, x - 24, y - 44, open_)
