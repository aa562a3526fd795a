"""The cap knocked loose, then the spring compressed."""

from __future__ import annotations

from calculators.drawings.kit import parts, tools
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import box, closed, rounded
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw(engine: Engine) -> Plate:
    plate = Plate(
        "Knock the cap loose, then compress",
        "Two steps on the bench. First: the head on wood, a block under the valve; a drift, cut to show that it is "
        "hollow, stands on the cap, the stem free in its bore, and a mallet strikes it once. Then: the compressor, "
        "its foot in the middle of the valve's head, its fork square on the cap, presses the spring until the "
        "collets are bare.",
        416,
        ON_THE_BENCH,
    )
    _head(plate, 78, 0, engine)
    plate.draw(box(40, 350, 76, 16), name="block")
    plate.draw(
        closed((60, 118), (96, 118), (96, 186), (88, 186), (88, 142), (68, 142), (68, 186), (60, 186)),
        "held",
        "iron",
        "drift",
    )
    plate.put(tools.mallet().turned(-90).scaled(0.8), 78, 114)
    plate.arrow((30, 66), (30, 104), look="held-open")
    plate.words(78, 402, "1  one blow")
    _head(plate, 242, 14, engine)
    plate.draw(box(262, 158, 10, 44), "held", name="compressor")
    frame = [(212, 202), (212, 146), (314, 146), (314, 380), (228, 380), (228, 350), (256, 350), (256, 366), (300, 366)]
    plate.draw(
        rounded([*((float(a), float(b)) for a, b in frame), (300.0, 161.0), (222.0, 161.0), (222.0, 202.0)], 3),
        "held",
        name="compressor",
    )
    plate.words(242, 402, "2  press")
    return plate


def _head(plate: Plate, x: float, down: float, engine: Engine) -> None:
    """Draw a piece of a head, chamber down, with its valve, spring, cap and collets."""
    half = [
        (x + 54, 262),
        (x + 9, 262),
        (x + 9, 244),
        (x + 5, 244),
        (x + 5, 286),
        (x + 14, 306),
        (x + 30, 330),
        (x + 42, 350),
        (x + 54, 350),
    ]
    for side in (1, -1):
        plate.draw(closed(*((x + (a - x) * side, float(b)) for a, b in half)), "outline", "aluminium", "head")
    wide = 52 * engine.inlet / 34 if engine.inlet < 34 else 54
    plate.put(parts.valve(min(wide, 56), 9, 180).turned(-90), x, 348)
    plate.put(parts.spring(46, 5, 66 - down, 5).turned(-90), x, 262)
    plate.put(parts.cap(52, 9).turned(-90), x, 196 + down)
    plate.put(parts.collets(9).turned(-90), x, 188 + (0 if down else 8))
