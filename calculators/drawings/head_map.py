"""One map of a head: which way is up, where the pulley is, the nuts by letter, and the screws that hide."""

from __future__ import annotations

import math

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import Point, box, disc, line
from calculators.drawings.kit.plate import FACE_ON, Plate

_USUAL = {
    "A": (-106.0, 47.0), "B": (-14.0, 47.0), "C": (14.0, 47.0), "D": (106.0, 47.0),
    "E": (-106.0, -43.0), "F": (-14.0, -43.0), "G": (14.0, -43.0), "H": (106.0, -43.0),
}  # fmt: skip


def draw(engine: Engine) -> Plate:
    studs = engine.studs or _USUAL
    screws = engine.screws
    bank = engine.banks[-1]
    reach = max(abs(x) for x, _ in [*studs.values(), *screws.values()]) + 18
    scale = min(132 / reach, 1.3)
    tall = max(abs(y) for _, y in [*studs.values(), *screws.values()]) * scale
    middle = 50 + tall
    letters = "".join(studs)
    hidden = (
        f" {len(screws)} internal hexagon screws, {', '.join(screws)}, hide among the fins beside the inlet flanges."
        if screws
        else ""
    )
    plate = Plate(
        "The head: nuts by letter, and the screws that hide",
        f"The head of cylinders {', '.join(map(str, bank))} seen from outside, up at the top, pulley end to the "
        f"left. {len(studs)} nuts, {letters[0]} to {letters[-1]}, from left to right and top to bottom.{hidden}",
        middle + tall + 98,
        FACE_ON,
    )
    left, right = 160 - reach * scale, 160 + reach * scale
    plate.draw(box(left, middle - tall - 24, right - left, tall * 2 + 48, 6), name="head")
    for number in range(7):
        at = middle - tall + tall * number / 3
        plate.draw(line((left - 5, at), (left, at)) + line((right, at), (right + 5, at)), "open")
    pitch = (right - left) / len(bank)
    for place, number in enumerate(bank):
        x = left + pitch * (place + 0.5)
        plate.draw(disc(x, middle, min(tall * 0.5, pitch * 0.28)), name="barrel")
        plate.words(x, middle, str(number))
    for x, y in studs.values():
        at, level = 160 + x * scale, middle - y * scale
        plate.put(parts.nut_end_on(17, 8), at, level)
    for x, y in screws.values():
        plate.put(parts.socket_screw(8).in_hand(), 160 + x * scale, middle - y * scale)
    places = {name: (160 + x * scale, middle - y * scale) for name, (x, y) in studs.items()}
    blocked = [*places.values(), *((160 + x * scale, middle - y * scale) for x, y in screws.values())]
    for name, spot in places.items():
        beside = _beside(spot, blocked, middle)
        blocked.append(beside)
        plate.words(*beside, name)
    plate.up(34, middle + tall + 72)
    if screws:
        x, y = 128.0, middle + tall + 72
        plate.put(parts.socket_screw(8).in_hand(), x, y)
        plate.words(x + 16, y, "hidden screw", "start")
        plate.put(parts.nut_end_on(17, 8), x, y - 26)
        plate.words(x + 16, y - 26, "nut", "start")
    return plate


def _beside(place: Point, blocked: list[Point], middle: float) -> Point:
    """Return the place beside a nut that is farthest from all else, first away from the middle of the head."""
    out = -1 if place[1] < middle else 1
    choices = [(0.0, 17.0 * out), (17.0, 0.0), (-17.0, 0.0), (0.0, -17.0 * out)]
    spots = [(place[0] + dx, place[1] + dy) for dx, dy in choices]
    free = [spot for spot in spots if all(math.dist(spot, other) > 15 for other in blocked if other != place)]
    return (free or spots)[0]
