"""A spring at the square: straight, and leaning."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import box, closed, line
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw(engine: Engine) -> Plate:
    plate = Plate(
        "A spring at the square",
        "Two springs stand on a plate beside a square. Right: the spring touches the blade of the square, or "
        "nearly, from foot to top. Wrong: foot at the square, its top leans away; the gap at the top is measured "
        "with a blade.",
        318,
        ON_THE_BENCH,
    )
    ratio = engine.spring / engine.bore
    wide = max(76.0, min(92.0, 84 * ratio / 0.41))
    wire = wide * max(0.09, min(0.16, engine.wire / engine.spring))
    for x, lean in ((44.0, 0.0), (208.0, 0.085)):
        plate.draw(box(x - 44, 262, 152, 12), name="plate")
        plate.draw(closed((x - 14, 40), (x, 40), (x, 262), (x - 44, 262), (x - 44, 246), (x - 14, 246)), name="square")
        spring = parts.spring(wide, wire, 160, engine.coils)
        pieces = spring.turned(-90)
        for piece in pieces.pieces:
            bent = piece.path.changed(lambda p, lean=lean: (p[0] - p[1] * lean, p[1]))  # type: ignore[misc]
            plate.draw(bent.moved(x + 1 + (wide - wire) / 2, 262), "held" if lean else "outline", name="spring")
        if lean:
            plate.draw(line((x + 1, 92), (x + 15, 92)), "held-open")
            plate.draw(line((x + 1, 85), (x + 1, 99)) + line((x + 15, 85), (x + 15, 99)), "held-open")
    plate.words(216, 74, "gap", "start")
    plate.right(12, 302, "upright")
    plate.wrong(178, 302, "leans")
    return plate
