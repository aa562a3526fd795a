"""The room for a valve spring: cap drawn up, measured from the seat to the cap; where the shim goes."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import box, closed
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw(engine: Engine) -> Plate:
    wide = max(86.0, min(96.0, engine.spring / engine.bore / 0.41 * 82))
    stem = max(9.0, min(14.0, engine.stem / engine.bore / 0.1 * 11))
    plate = Plate(
        "Room for the spring, and where the shim goes",
        "Two sections of a head with a valve, seat below. First, without its spring: the cap is drawn up until "
        "the valve sits hard, and the room is measured from the face on which the spring stands to the face of "
        "the cap that it presses on. Then, with its spring: from below, steel seat, shim, spring, cap. The shim "
        "lies under the spring, on the steel seat.",
        410,
        ON_THE_BENCH,
    )
    for x, sprung in ((76.0, False), (238.0, True)):
        _head(plate, x, wide, stem)
        plate.draw(box(x - wide / 2 - 3, 234, wide / 2 - stem / 2 - 6, 6), name="steel seat")
        plate.draw(box(x + stem / 2 + 9, 234, wide / 2 - stem / 2 - 6, 6), name="steel seat")
        if sprung:
            for left in (x - wide / 2 - 2, x + stem / 2 + 9):
                plate.draw(box(left, 229, wide / 2 - stem / 2 - 8, 4.5), "held-solid", name="shim")
            plate.put(
                parts.spring(wide, max(5.0, wide * engine.wire / engine.spring), 229 - 118, engine.coils).turned(-90),
                x,
                229,
            )
        plate.put(parts.cap(wide + 6, stem).turned(-90), x, 118)
        plate.put(parts.collets(stem).turned(-90), x, 115)
    x = 76.0 + wide / 2 - 6
    plate.arrow((x, 172), (x, 119), look="held-open")
    plate.arrow((x, 178), (x, 233), look="held-open")
    plate.arrow((76, 74), (76, 42), look="held-open")
    plate.words(40, 178, "room")
    plate.tag(286, 390, "shim", [(238 + 41, 231)], "shim", ("steel seat", "head"))
    plate.tag(166, 390, "steel seat", [(238 - 42, 237)], "steel seat", ("head",))
    return plate


def _head(plate: Plate, x: float, wide: float, stem: float) -> None:
    half = max(wide / 2 + 14, 52)
    s = stem / 2
    for side in (1, -1):
        block = [
            (half, 240),
            (s + 7, 240),
            (s + 7, 222),
            (s, 222),
            (s, 288),
            (s + 10, 306),
            (30, 322),
            (44, 336),
            (half, 336),
        ]
        plate.draw(closed(*((x + a * side, b) for a, b in block)), "outline", "aluminium", "head")
    plate.put(parts.valve(76, stem, 244).turned(-90), x, 336)
