"""Where the jack lifts and where the stands bear."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.drawings.kit.path import box, closed, disc, line, rounded
from calculators.drawings.kit.plate import Part, Piece, Plate

_SMALL, _LEFT = 0.88, 22.0
_POINT = 160.0
"""Where the maker's point is along the sill."""


def draw() -> Plate:
    plate = Plate(
        "Jack to lift, stands to bear",
        "A vehicle from its side on level ground, its engine behind the rear wheel. Right: a stand bears under each "
        "side at the maker's point, on the sill ahead of the raised wheel, clear of the engine; the wheels on the "
        "ground are chocked on both sides. Wrong: the vehicle rests on the jack alone.",
        386,
        "from the side, level ground",
    )
    for ground, under in ((158.0, (_stand(), _chocks())), (342.0, (_jack(),))):
        for part in (*_vehicle(), *under):
            plate.put(part.scaled(_SMALL), _LEFT, ground)
        plate.draw(line((2, ground), (318, ground)), "open", name="ground")
    plate.right(12, 188, "on stands")
    at = _LEFT + _POINT * _SMALL
    plate.tag(246, 192, "maker's point", [(186, 174), (186, 157), (at + 5, 123.5)], "point", ["ground", "stand"])
    plate.tag(46, 138, "engine", [(74, 96)], "engine", ["vehicle"])
    plate.wrong(12, 370, "on a jack alone")
    return plate


def _vehicle() -> tuple[Part, ...]:
    """Return a small van, its wheels on the origin's level, then raised at its engine's end, to the left."""
    body = [(18.0, -130.0), (226.0, -128.0), (262.0, -90.0), (306.0, -80.0), (306.0, -30.0), (18.0, -30.0)]
    front = [(196.0, -118.0), (220.0, -118.0), (246.0, -88.0), (196.0, -88.0)]
    windows = [rounded(front, 4), box(34, -120, 66, 30, 4), box(114, -119, 68, 30, 4)]
    rear, ahead = ([Piece(disc(x, -24, r)) for r in (24, 9)] for x in (122.0, 238.0))
    engine = [box(36, -62, 54, 26, 5), disc(50, -49, 8), disc(74, -49, 8)]

    def raised(name: str, pieces: Sequence[Piece]) -> Part:
        return Part(name, tuple(piece.shaped(piece.path.turned(8, 238, -24)) for piece in pieces))

    return (
        raised("vehicle", [Piece(rounded(body, [16, 14, 12, 10, 6, 6])), *map(Piece, windows), *rear]),
        Part("vehicle", tuple(ahead)),
        raised("engine", [Piece(path) for path in engine]),
        raised("point", [Piece(box(_POINT - 9, -31, 18, 5), "solid")]),
    )


def _chocks() -> Part:
    left, right = closed((205, -1), (189, -1), (205, -21)), closed((271, -1), (287, -1), (271, -21))
    return Part("chocks", (Piece(left), Piece(right))).in_hand()


def _stand() -> Part:
    saddle = [(-12, -34), (-8, -34), (-8, -29), (8, -29), (8, -34), (12, -34), (12, -24), (-12, -24)]
    legs = closed((-7, -30), (7, -30), (22, 9), (12, 9), (0, -18), (-12, 9), (-22, 9))
    pieces = (Piece(legs), Piece(rounded(saddle, 0)))
    return Part("stand", pieces).moved(_POINT, -9).in_hand()


def _jack() -> Part:
    return Part(
        "jack",
        (
            Piece(closed((-24, 8), (24, 8), (24, 0), (-24, 0))),
            Piece(closed((-4, 0), (4, 0), (4, -22), (-4, -22))),
            Piece(closed((-12, -22), (12, -22), (12, -28), (-12, -28))),
            Piece(line((-24, 4), (-50, -4)), "open"),
        ),
    ).moved(_POINT, -9)
