"""Both hands at the valve: blade in the gap, screwdriver on the screw, spanner on the locknut."""

from __future__ import annotations

from calculators.drawings.kit import hands, parts, tools
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import box, line
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw(engine: Engine) -> Plate:
    at_rod = engine.adjuster != "valve"
    where = "the pushrod's end of the rocker" if at_rod else "the valve's end of the rocker"
    plate = Plate(
        "Blade in the gap, screw held, locknut turned",
        "A rocker in the engine, its shaft in the middle; the valve's stem with spring and cap above, the "
        "pushrod below. One hand draws the feeler blade, flat and in line with the rocker, between stem tip and "
        f"rocker. The adjuster is at {where}: the other hand holds the screw with a screwdriver, while a spanner "
        "turns the locknut.",
        380,
        IN_THE_ENGINE,
    )
    x, y = 132.0, 208.0
    valve_y, rod_y = y - 74, y + 66
    tip = x - 20
    plate.draw(box(0, 34, 18, 326), "outline", "aluminium", "head")
    plate.put(parts.valve(20, 13, tip + 40), -40, valve_y)
    plate.draw(box(0, valve_y - 52, 18, 104), "outline", "aluminium", "head")
    plate.put(parts.spring(62, 7, 66, 5), 20, valve_y)
    plate.put(parts.cap(66, 13), 86, valve_y)
    plate.put(parts.collets(13), 89, valve_y)
    plate.put(parts.pushrod(x - 30 if at_rod else x - 22, 14), 0, rod_y)
    rocker = parts.rocker(46, 41, screw=False).scaled(1.6)
    blade = box(tip + 0.5, 70, 4, 80)
    screw_y = rod_y if at_rod else valve_y
    for piece in parts.adjuster(at_rod).moved(x, screw_y).pieces[:2]:
        plate.draw(piece.path, piece.look, "", "screw")
    plate.put(rocker, x, y)
    plate.draw(blade, "held-solid", name="blade")
    for piece in parts.adjuster(at_rod).moved(x, screw_y).pieces[2:]:
        plate.draw(piece.path, piece.look, "", "screw")
    plate.put(tools.screwdriver(46).in_hand(), x + 48, screw_y)
    plate.draw(box(x + 22, screw_y - 15, 13, 92, 4), "held", name="spanner")
    plate.draw(line((x + 22, screw_y + 15), (x + 35, screw_y + 15)), "held-open")
    plate.put(hands.grip().scaled(0.7), x + 120, screw_y)
    plate.put(hands.pinch().scaled(0.72).turned(-4), tip + 5, 74)
    plate.tag(50, 52, "blade", [(tip + 2, 94)], "blade")
    plate.tag(240, screw_y + 62, "spanner", [(x + 28, screw_y + 62)], "spanner")
    return plate
