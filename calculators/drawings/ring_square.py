"""The piston pushes the ring square into the barrel; the blade tries its gap."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import around, bar, box, closed, disc, sector
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw(engine: Engine) -> Plate:
    plate = Plate(
        "The ring pushed square, its gap measured",
        "A barrel cut, a piston upside down inside it; its crown pushes the ring down, so that it lies square. "
        "Wrong: a ring pushed by hand lies askew and its gap reads too wide. Below, the ring in the barrel seen "
        "from the barrel's end: a feeler blade stands in the gap, seen on its edge, and both ends of the ring touch "
        "it.",
        474,
        ON_THE_BENCH,
    )
    scale = min(150 / (engine.barrel + 12), 104 / engine.bore)
    for x, good in ((82.0, True), (238.0, False)):
        foot = 226.0
        plate.put(parts.barrel(engine.bore, engine.barrel, 9, 12 / scale, 6, 9).scaled(scale).turned(-90), x, foot)
        half = engine.bore / 2 * scale
        if good:
            level = foot - 62
            plate.put(
                parts.piston(engine.bore, rings=False).scaled(scale).turned(90), x, level - engine.bore * 0.46 * scale
            )
            plate.draw(box(x - half, level, half * 2, 6), "held", name="ring")
            plate.arrow((x, 30), (x, 62), look="held-open")
        else:
            level = foot - 62
            plate.draw(
                closed((x - half, level - 12), (x + half, level + 14), (x + half, level + 20), (x - half, level - 6)),
                "held",
                name="ring",
            )
    plate.right(36, 256, "square")
    plate.wrong(200, 256, "askew")
    x, y = 160.0, 372.0
    plate.draw(disc(x, y, 92), name="barrel")
    plate.draw(disc(x, y, 78), name="bore")
    plate.draw(sector(x, y, 62, 77, 63, 354), "held", name="ring")
    plate.draw(bar(around(x, y, 76, 60), around(x, y, 26, 60), 4.4), "solid", name="blade")
    plate.tag(56, 310, "ring", [around(x, y, 69.5, 300)], "ring", ("barrel", "bore"))
    plate.tag(144, y, "blade", [around(x, y, 34, 60)], "blade")
    return plate
