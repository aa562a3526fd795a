"""Margin, neck, groove, tip: good beside worn."""

from __future__ import annotations

from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import line, symmetric
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw(engine: Engine) -> Plate:
    stem = max(7.0, min(10.0, 8.0 * engine.stem / 8)) * 1.6
    plate = Plate(
        "A valve to keep, and a valve to throw away",
        "Two valves side by side, heads below. Right: a flat tip, a sharp square groove, a straight stem, a head "
        "with a margin of full thickness above the slanting face. Wrong: the tip is hollow and spread like a "
        "mushroom, the groove is worn round and wide, the stem has a waist under the head, the margin is a sharp "
        "edge.",
        448,
        ON_THE_BENCH,
    )
    _good(plate, 66, stem / 2)
    _bad(plate, 254, stem / 2)
    for y, words in ((44, "tip"), (100, "groove"), (256, "neck"), (372, "margin")):
        plate.words(160, y, words)
    for y, inner, outer in ((44, 80, 236), (100, 82, 236), (256, 84, 240), (372, 124, 200)):
        plate.draw(
            line((136 if y == 44 else 128, y), (inner, y)) + line((184 if y == 44 else 192, y), (outer, y)), "fine"
        )
    plate.right(42, 430, "keep")
    plate.wrong(228, 430, "out")
    return plate


def _good(plate: Plate, x: float, s: float) -> None:
    stem = [(x + s, 34.0), (x + s, 92.0), (x + s - 5, 92.0), (x + s - 5, 108.0), (x + s, 108.0), (x + s, 270.0)]
    neck = ((x + s, 320.0), (x + 22, 340.0), (x + 42, 352.0))
    plate.draw(symmetric(x, *stem, neck, (x + 56, 366), (x + 56, 380)), name="valve")
    plate.draw(line((x - 56, 366), (x + 56, 366)) + line((x - 42, 352), (x + 42, 352)), "fine")


def _bad(plate: Plate, x: float, s: float) -> None:
    half = symmetric(
        x,
        (x, 41),
        ((x + 4, 41), (x + s, 34), (x + s + 5, 33)),
        ((x + s + 6, 40), (x + s, 44), (x + s, 52)),
        (x + s, 84),
        ((x + s - 8, 90), (x + s - 8, 112), (x + s, 118)),
        (x + s, 216),
        ((x + s - 6, 240), (x + s - 6, 266), (x + s, 288)),
        ((x + s + 4, 326), (x + 24, 342), (x + 42, 354)),
        (x + 62, 373),
        (x + 56, 380),
    )
    plate.draw(half, "held", name="valve")
    plate.draw(line((x - 42, 354), (x + 42, 354)), "fine")
