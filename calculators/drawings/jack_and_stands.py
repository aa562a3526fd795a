"""Where the jack lifts and where the stands bear."""

from __future__ import annotations

from calculators.drawings.kit.path import closed, disc, line, rounded
from calculators.drawings.kit.plate import Part, Piece, Plate

_SMALL = 0.48


def draw() -> Plate:
    plate = Plate(
        "Jack to lift, stands to bear",
        "A vehicle from its side on level ground. Right: the jack lifts at its maker's point, a stand bears under "
        "each side at the maker's point, the wheels on the ground are chocked on both sides. Wrong: the vehicle "
        "rests on the jack alone.",
        136,
        "from the side, level ground",
    )
    for x, under in ((0.0, (_stand(), _chocks())), (166.0, (_jack(),))):
        for part in (_vehicle(), *under):
            plate.put(part.scaled(_SMALL), x, 98)
        plate.draw(line((x + 2, 98), (x + 152, 98)), "open", name="ground")
    plate.right(12, 122, "on stands")
    plate.wrong(176, 122, "on a jack alone")
    return plate


def _vehicle() -> Part:
    """Return a small van above the ground at the origin's level: its light end raised, to the left."""
    y = -55.0
    body = [(18, y - 86), (226, y - 84), (262, y - 46), (306, y - 36), (306, y + 22), (18, y + 14)]
    front = [(196, y - 74), (220, y - 74), (246, y - 44), (196, y - 44)]
    rear, middle = [(34, y - 76), (100, y - 75), (100, y - 46), (34, y - 46)], [(114, y - 75), (182, y - 75)]
    wheels = [Piece(disc(x, level, r)) for x, level in ((122.0, y + 14), (238.0, y + 30)) for r in (24, 9)]
    return Part(
        "vehicle",
        (
            Piece(rounded(body, [16, 14, 12, 10, 6, 6])),
            Piece(rounded(front, 4)),
            Piece(rounded(rear, 4)),
            Piece(rounded([*middle, (182, y - 45), (114, y - 45)], 4)),
            *wheels,
        ),
    )


def _chocks() -> Part:
    left, right = closed((205, -1), (189, -1), (205, -21)), closed((271, -1), (287, -1), (271, -21))
    return Part("chocks", (Piece(left), Piece(right))).in_hand()


def _stand() -> Part:
    saddle = [(-12, -34), (-8, -34), (-8, -29), (8, -29), (8, -34), (12, -34), (12, -24), (-12, -24)]
    legs = closed((-7, -30), (7, -30), (22, 9), (12, 9), (0, -18), (-12, 9), (-22, 9))
    pieces = (Piece(legs), Piece(rounded(saddle, 0)))
    return Part("stand", pieces).moved(62, -9).in_hand()


def _jack() -> Part:
    return Part(
        "jack",
        (
            Piece(closed((-24, 8), (24, 8), (24, 0), (-24, 0))),
            Piece(closed((-4, 0), (4, 0), (4, -22), (-4, -22))),
            Piece(closed((-12, -22), (12, -22), (12, -28), (-12, -28))),
            Piece(line((24, 4), (64, -10)), "open"),
        ),
    ).moved(70, -9)
