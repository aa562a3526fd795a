"""Pencil and blue: what a lapped pair prints, and what it must not."""

from __future__ import annotations

from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import around, disc, line, sector
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw(engine: Engine) -> Plate:
    plate = Plate(
        "Pencil and blue on the valve's face",
        "Valves seen on their heads, the slanting face as a ring round the edge. Pencil: a dozen lines drawn "
        "across the dry face; after pressing and a small turn every line must be broken by the seat. Right: all "
        "are broken at one circle. Wrong: some lines are whole, the seat does not touch there. Blue: right is an "
        "unbroken band in the middle of the face; wrong is a band with a gap, or one that runs out over the edge.",
        366,
        ON_THE_BENCH,
    )
    for x, good in ((78, True), (242, False)):
        _pencil(plate, x, 92, good, engine.contact / engine.face)
        _blue(plate, x, 258, good, engine.contact / engine.face)
    plate.words(160, 40, "pencil")
    plate.words(160, 206, "blue")
    plate.right(24, 172, "all broken")
    plate.wrong(192, 172, "some whole")
    plate.right(24, 344, "all round")
    plate.wrong(180, 344, "gap, and over")
    return plate


def _face(plate: Plate, x: float, y: float) -> None:
    plate.draw(disc(x, y, 62), name="valve")
    plate.draw(disc(x, y, 36), name="head")


def _band(share: float) -> tuple[float, float]:
    """Return where the seat touches, in the middle of the face: inner and outer radius."""
    return 49 - 13 * share, 49 + 13 * share


def _pencil(plate: Plate, x: float, y: float, good: bool, share: float) -> None:
    _face(plate, x, y)
    inner, outer = _band(share * 0.7)
    for number in range(16):
        angle = number * 22.5 + 8
        if not good and number in {2, 3, 4}:
            plate.draw(line(around(x, y, 38, angle), around(x, y, 60, angle)), "held-open")
        else:
            left = line(around(x, y, 37, angle), around(x, y, inner - 1, angle))
            plate.draw(left + line(around(x, y, outer + 1, angle), around(x, y, 61, angle)), "open")


def _blue(plate: Plate, x: float, y: float, good: bool, share: float) -> None:
    _face(plate, x, y)
    inner, outer = _band(share)
    if good:
        plate.draw(sector(x, y, inner, outer, 0, 359.9), "held-solid")
    else:
        plate.draw(sector(x, y, inner, outer, 190, 170), "held-solid")
        over = 63 - (outer - inner) / 2
        plate.draw(sector(x, y, over, over + outer - inner, 60, 70), "held-solid")
