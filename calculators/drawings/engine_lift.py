"""The engine brought up to the gearbox: carried, level, an equal gap all round."""

from __future__ import annotations

from calculators.drawings.kit.path import Path, box, closed, disc, line, rounded
from calculators.drawings.kit.plate import Part, Piece, Plate


def draw() -> Plate:
    plate = Plate(
        "Carried, level, the gap equal all round",
        "An engine on a jack's cradle, strapped, from the side, before it slides onto the gearbox. Right: the "
        "gap between the faces is the same above and below, and the shaft of the gearbox goes in straight; the "
        "jack carries. Wrong: the engine hangs on the shaft without a jack, the gap is a wedge, and the shaft is "
        "forced.",
        440,
        "from the side",
    )
    _pair(plate, 90, 0)
    _pair(plate, 326, 9)
    plate.right(14, 206, "jack carries, gap equal")
    plate.wrong(14, 424, "hangs on the shaft")
    return plate


def _pair(plate: Plate, y: float, tilt: float) -> None:
    gearbox = rounded(
        [
            (206, y - 56),
            (230, y - 56),
            (250, y - 34),
            (318, y - 26),
            (318, y + 26),
            (250, y + 34),
            (230, y + 56),
            (206, y + 56),
        ],
        [2, 2, 8, 6, 6, 8, 2, 2],
    )
    plate.draw(gearbox, "outline", name="gearbox")
    plate.draw(line((230, y - 56), (230, y + 56)), "fine")
    plate.words(276, y, "gearbox")
    plate.draw(box(164, y - 5, 42, 10), "outline", name="shaft")
    plate.draw(
        line((166, y), (192, y)) + line((166, y - 2.5), (192, y - 2.5)) + line((166, y + 2.5), (192, y + 2.5)), "fine"
    )
    engine = _engine()
    engine = engine.turned(tilt) if tilt else engine
    plate.put(engine, 176, y + (5 if tilt else 0))
    if not tilt:
        plate.words(92, y - 4, "engine")
        plate.put(_jack(), 92, y + 52)
        for level in (-47, 47):
            plate.draw(line((180, y + level), (203, y + level)), "held-open")
            plate.draw(
                line((180, y + level - 6), (180, y + level + 6)) + line((203, y + level - 6), (203, y + level + 6)),
                "held-open",
            )
    else:
        plate.draw(
            line((186, y - 48), (203, y - 48))
            + line((186, y - 54), (186, y - 42))
            + line((203, y - 54), (203, y - 42)),
            "held-open",
        )
        plate.draw(
            line((170, y + 54), (203, y + 54))
            + line((170, y + 48), (170, y + 60))
            + line((203, y + 48), (203, y + 60)),
            "held-open",
        )
        plate.arrow((84, y + 50), (84, y + 74), look="held-open")


def _engine() -> Part:
    """Return an engine from its side: bell end at the origin, fan and pulley at its left."""
    body = rounded(
        [(-128, -36), (-26, -44), (-20, -56), (0, -56), (0, 56), (-20, 56), (-26, 44), (-128, 40)],
        [10, 6, 2, 2, 2, 2, 6, 10],
    )
    fins = Path(())
    for number in range(5):
        fins += line((-112, 12 + number * 5), (-40, 14 + number * 5))
    return Part(
        "engine",
        (
            Piece(box(-152, -20, 14, 40, 3)),
            Piece(box(-138, -6, 12, 12)),
            Piece(body),
            Piece(fins, "fine"),
            Piece(line((-26, -44), (-26, 44)), "fine"),
            Piece(disc(-98, -24, 5) + disc(-40, -28, 5)),
            Piece(closed((0, -8), (-14, -8), (-14, 8), (0, 8))),
        ),
    )


def _jack() -> Part:
    """Return a jack with its cradle, the cradle's face at the origin's level, and a strap."""
    return Part(
        "jack",
        (
            Piece(
                rounded([(-52, -18), (-46, -18), (-44, -6), (44, -6), (46, -18), (52, -18), (52, 2), (-52, 2)], 1),
                "held",
            ),
            Piece(box(-9, 2, 18, 12), "held"),
            Piece(rounded([(-40, 14), (40, 14), (52, 26), (-52, 26)], [2, 2, 0, 0]), "held"),
            Piece(disc(-36, 28, 5) + disc(36, 28, 5), "held"),
        ),
    )
