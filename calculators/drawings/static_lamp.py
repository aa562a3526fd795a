"""The static timing lamp: its circuit, and what it says."""

from __future__ import annotations

import math

from calculators.drawings.kit.path import around, box, closed, disc, line, rounded
from calculators.drawings.kit.plate import Plate

_FLAT = 20.0
"""How far a flat of the cam lies from its middle."""


def draw() -> Plate:
    plate = Plate(
        "The static timing lamp",
        "The circuit: from the battery through the ignition switch, closed, and the coil to the points' terminal; the "
        "points lead to earth. A lamp hangs between the points' terminal and earth. Below, the points: an arm on a "
        "pivot, its heel on the cam, its contact resting on the fixed contact below. Points shut: the lamp is out, the "
        "points carry the current past it. The cam's lobe has just lifted the arm: the lamp lights. That is the "
        "moment of the spark.",
        406,
        "circuit",
    )
    plate.draw(rounded([(6, 66), (66, 66), (66, 108), (6, 108)], 3), name="battery")
    plate.words(22, 87, "−")
    plate.words(50, 87, "+")
    plate.draw(line((52, 66), (52, 40), (104, 40)), "open")
    plate.draw(disc(106, 40, 3), "solid")
    plate.draw(disc(138, 40, 3), "solid")
    plate.draw(line((106, 40), (176, 40)), "open")
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
        _earth(plate, x, 148)
    plate.tag(134, 106, "lamp", [(198, 106)], "lamp")
    plate.tag(240, 190, "points", [(242, 120), (270, 112)], "points")
    plate.words(70, 156, "earth", "start")
    for x, lit in ((76.0, False), (238.0, True)):
        _points(plate, x, 288, lit)
    plate.words(76, 372, "shut: out")
    plate.words(240, 372, "just open: lit")
    plate.words(240, 394, "= spark")
    return plate


def _lamp(plate: Plate, x: float, y: float, lit: bool) -> None:
    plate.draw(disc(x, y, 16), "held", name="lamp")
    plate.draw(line((x - 11, y - 11), (x + 11, y + 11)) + line((x + 11, y - 11), (x - 11, y + 11)), "held-open")
    if lit:
        for angle in (20, 60, 120, 160, 200, 240, 300, 340):
            plate.draw(line(around(x, y, 21, angle), around(x, y, 30, angle)), "held-open")


def _earth(plate: Plate, x: float, y: float) -> None:
    plate.draw(
        line((x - 14, y), (x + 14, y)) + line((x - 8, y + 6), (x + 8, y + 6)) + line((x - 3, y + 12), (x + 3, y + 12)),
        "open",
    )


def _points(plate: Plate, x: float, y: float, open_: bool) -> None:
    """Draw the distributor's cam, the arm on its pivot, the fixed contact below its end, and the lamp beside."""
    pivot, cam, contact = x - 58, x - 24, x + 34
    turned = 27 if open_ else 0
    lift = _FLAT / math.cos(math.radians(turned)) - _FLAT
    plate.draw(rounded([(-20, -20), (20, -20), (20, 20), (-20, 20)], 8).turned(turned).moved(cam, y + 44), name="cam")
    plate.draw(
        closed(
            (contact - 8, y + 19),
            (contact + 8, y + 19),
            (contact + 8, y + 38),
            (contact + 22, y + 38),
            (contact + 22, y + 58),
            (contact - 8, y + 58),
        ),
        name="base",
    )
    plate.draw(disc(contact + 12, y + 48, 4.5), name="base")
    plate.draw(box(contact - 6, y + 11, 12, 8), "held", name="contact")
    tilt = -math.degrees(math.atan2(lift, cam - pivot))
    for path, look, name in (
        (closed((cam - 7, y), (cam + 7, y), (cam + 3, y + 24), (cam - 3, y + 24)), "outline", "heel"),
        (box(pivot - 8, y - 5, contact + 16 - pivot, 8), "outline", "arm"),
        (box(contact - 6, y + 3, 12, 8), "held", "contact"),
    ):
        plate.draw(path.turned(tilt, pivot, y), look, name=name)
    plate.draw(disc(pivot, y - 1, 8), name="pivot")
    plate.draw(disc(pivot, y - 1, 3), "solid", name="pivot")
    lamp = y - 52
    plate.draw(line((pivot, y - 9), (pivot, lamp), (cam - 16, lamp)), "held-open")
    plate.draw(line((cam + 16, lamp), (contact, lamp), (contact, lamp + 12)), "held-open")
    _earth(plate, contact, lamp + 12)
    _lamp(plate, cam, lamp, open_)
