"""One map of a head: which way is up, where the pulley is, each nut's letter and turn, and the screws that hide."""

from __future__ import annotations

import math

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import Point, box, disc, line
from calculators.drawings.kit.plate import FACE_ON, Plate

_NUT = 13.0


def draw(engine: Engine) -> Plate:
    bank = engine.banks[-1]
    all_places = [*engine.studs.values(), *engine.screws.values(), (106.0, 47.0)]
    scale = min(126 / (max(abs(x) for x, _ in all_places) + 16), 1.3)
    tall = max(max(abs(y) for _, y in all_places) * scale, 30)
    middle = 58 + tall
    hidden, told = ", ".join(engine.screws), bool(engine.order)
    plate = Plate(
        "The head: each nut's turn, and the screws that hide",
        f"The head of cylinders {', '.join(map(str, bank))} seen from outside, up at the top, pulley end to the left. "
        + (
            f"Nuts with letters and the turn of each: {', then '.join(engine.order)}; the first in blue."
            if told
            else "The card names no studs."
        )
        + (f" Internal hexagon screws {hidden} hide among the fins beside the inlet flanges." if hidden else ""),
        middle + tall + 106,
        FACE_ON,
    )
    left, right = 14.0, 306.0
    plate.draw(box(left, middle - tall - 32, right - left, tall * 2 + 64, 6), name="head")
    for number in range(7):
        at = middle - tall + tall * number / 3
        plate.draw(line((left - 5, at), (left, at)) + line((right, at), (right + 5, at)), "open")
    places = {name: (160 + x * scale, middle - y * scale) for name, (x, y) in engine.studs.items()}
    screws = [(160 + x * scale, middle - y * scale) for x, y in engine.screws.values()]
    pitch = (right - left) / len(bank)
    middles = [left + pitch * (place + 0.5) for place in range(len(bank))]
    nearest = min((math.dist((x, middle), spot) for x in middles for spot in places.values()), default=tall)
    clear = nearest - _NUT - 4
    for x, number in zip(middles, bank, strict=True):
        if min(clear, pitch * 0.3) > 28:
            plate.draw(disc(x, middle, min(clear, pitch * 0.3)), name="barrel")
        if clear > 8 and pitch > 48:
            plate.words(x, middle, f"cyl {number}")
    for turn, name in enumerate(engine.order, 1):
        plate.draw(disc(*places[name], _NUT), "held" if turn == 1 else "outline", name="nut")
        plate.words(*places[name], str(turn))
    for spot in screws:
        plate.put(parts.socket_screw(8), *spot)
    blocked = [*places.values(), *screws]
    for name, spot in places.items():
        beside = _beside(spot, blocked, middle)
        blocked.append(beside)
        plate.words(*beside, name)
    plate.up(34, middle + tall + 80)
    x, y = 132.0, middle + tall + 80
    if told:
        plate.draw(disc(x, y - 28, _NUT), "held")
        plate.words(x, y - 28, "1")
        plate.words(x + 20, y - 28, "first nut", "start")
    else:
        plate.words(x, y - 28, "no studs on the card", "start")
    if screws:
        plate.put(parts.socket_screw(8), x, y)
        plate.words(x + 20, y, "hidden screw", "start")
    return plate


def _beside(place: Point, blocked: list[Point], middle: float) -> Point:
    """Return the place for a nut's letter that is free, first away from the middle of the head."""
    out = -1 if place[1] < middle else 1
    choices = [(0.0, 22.0 * out), (22.0, 0.0), (-22.0, 0.0), (0.0, -22.0 * out)]
    spots = [(place[0] + dx, place[1] + dy) for dx, dy in choices]
    free = [spot for spot in spots if all(math.dist(spot, other) > 18 for other in blocked if other != place)]
    return (free or spots)[0]
