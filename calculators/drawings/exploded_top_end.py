"""The top end of one bank pulled apart along its cylinders."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import Path, box, closed, line, rounded
from calculators.drawings.kit.plate import Plate


def draw(engine: Engine) -> Plate:
    bank = engine.banks[-1]
    shown = min(len(bank), 4)
    plate = Plate(
        "The top end, pulled apart",
        f"One bank of the engine with cylinders {', '.join(map(str, bank))}, pulled apart along its cylinders, "
        "the case below. From the top: rocker cover; rockers on their shaft; springs with their caps; the head; "
        "the valves, which enter it from below; barrels, with the pushrods and their tubes beside them; pistons; "
        "spacers; the case with its studs.",
        560,
        "pulled apart, the case below",
    )
    left, right = 90.0, 240.0
    pitch = (right - left) / shown
    scale = pitch / (engine.bore + 46)
    middles = [left + pitch * (place + 0.5) for place in range(shown)]
    half = engine.bore / 2 * scale
    plate.draw(rounded([(left, 64), (left + 8, 34), (right - 8, 34), (right, 64)], [2, 10, 10, 2]), name="cover")
    plate.draw(box(left - 4, 64, right - left + 8, 6), name="cover")
    plate.draw(box(left + 2, 96, right - left - 4, 7, 3), name="shaft")
    for x in middles:
        for dx in (-0.24, 0.24):
            plate.draw(
                rounded(
                    [
                        (x + pitch * dx - 5, 84),
                        (x + pitch * dx + 5, 84),
                        (x + pitch * dx + 6, 114),
                        (x + pitch * dx - 6, 114),
                    ],
                    4,
                ),
                name="rocker",
            )
    for x in middles:
        for dx in (-0.24, 0.24):
            wide = min(engine.spring * scale, pitch * 0.36)
            spring = parts.spring(wide, max(2.6, wide * 0.14), 30, 4).turned(-90)
            plate.put(spring, x + pitch * dx, 164)
            plate.draw(box(x + pitch * dx - wide / 2 - 1, 130, wide + 2, 5, 1), name="cap")
    fins = Path(())
    for level in range(184, 214, 7):
        fins += line((left - 4, level), (right + 4, level))
    plate.draw(rounded([(left - 6, 178), (right + 6, 178), (right + 6, 222), (left - 6, 222)], 4), name="head")
    plate.draw(fins, "fine")
    for x in middles:
        plate.draw(closed((x - half, 222), (x - half * 0.6, 208), (x + half * 0.6, 208), (x + half, 222)), name="head")
    for x in middles:
        for dx, size in ((-0.24, engine.inlet), (0.24, engine.exhaust)):
            wide = min(size * scale * 0.9, pitch * 0.42)
            plate.put(parts.valve(wide, max(3.0, engine.stem * scale), 40, 1).turned(-90), x + pitch * dx, 276)
    barrel = min(scale, 84 / engine.barrel)
    for x in middles:
        plate.put(
            parts.barrel_outside(engine.bore, engine.barrel, max(4, int(engine.barrel * barrel / 9)), 12, 12)
            .turned(-90)
            .scaled(barrel),
            x,
            374,
        )
        plate.put(
            parts.piston(engine.bore, grooves=3 if shown < 3 else 1).turned(-90).scaled(min(scale, 56 / engine.bore)),
            x,
            434,
        )
        plate.draw(box(x - half - 5, 478, half * 2 + 10, 4), "outline", name="spacer")
    plate.draw(
        rounded([(left - 26, 508), (right + 26, 508), (right + 26, 554), (left - 26, 554)], [2, 2, 10, 10]), name="case"
    )
    for x in middles:
        plate.draw(box(x - half, 508, half * 2, 12), name="case")
    plate.words(160, 537, "crankcase")
    tube = parts.tube(116, 15, 3).turned(-90)
    plate.put(parts.pushrod(132, 7).turned(-90), left - 11, 416)
    plate.put(tube, left - 11, 408)
    plate.words(165, 50, "rocker cover")
    plate.tag(280, 100, "rocker", [(middles[-1] + pitch * 0.24, 109)], "rocker")
    plate.tag(36, 142, "spring", [(middles[0] - pitch * 0.24, 152)], "spring")
    plate.tag(286, 200, "head", [(right - 6, 200)], "head")
    plate.tag(286, 258, "valve", [(middles[-1] + pitch * 0.24, 262)], "valve")
    plate.tag(32, 346, "tube", [(left - 11, 346)], "tube")
    plate.tag(
        286,
        330,
        "barrel",
        [(middles[-1] + engine.bore * 0.4 * barrel, 374 - barrel * engine.barrel * 0.6)],
        "barrel",
    )
    plate.tag(38, 434, "piston", [(middles[0], 434)], "piston")
    plate.tag(46, 252, "pushrod", [(left - 11, 287)], "pushrod")
    plate.tag(278, 480, "spacer", [(middles[-1] + half, 480)], "spacer")
    return plate
