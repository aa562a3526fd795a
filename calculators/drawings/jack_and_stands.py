"""Where the jack lifts and where the stands bear."""

from __future__ import annotations

from calculators.drawings.kit.path import closed, disc, line, rounded
from calculators.drawings.kit.plate import Part, Piece, Plate


def draw() -> Plate:
    plate = Plate(
        "Jack to lift, stands to bear",
        "A vehicle from its side on level ground. Right: the jack lifts at its maker's point, a stand bears "
        "under each side at the maker's point, the wheels on the ground are chocked on both sides. Wrong: the "
        "vehicle rests on the jack alone.",
        392,
        "from the side, level ground",
    )
    _vehicle(plate, 122)
    plate.put(_stand().in_hand(), 62, 168)
    for x in (205.0, 271.0):
        side = -1 if x < 238 else 1
        plate.draw(closed((x, 176), (x + 16 * side, 176), (x, 156)), "held", name="chock")
    plate.draw(line((0, 177), (320, 177)), "open")
    plate.right(12, 200, "on stands, chocked")
    _vehicle(plate, 302)
    plate.put(_jack(), 70, 348)
    plate.draw(line((0, 357), (320, 357)), "open")
    plate.wrong(12, 380, "on a jack alone")
    return plate


def _vehicle(plate: Plate, y: float) -> None:
    """Draw a small van: light end raised, to the left; wheels of the other end on the ground."""
    body = rounded(
        [(18, y - 86), (226, y - 84), (262, y - 46), (306, y - 36), (306, y + 22), (18, y + 14)], [16, 14, 12, 10, 6, 6]
    )
    plate.draw(body, name="vehicle")
    plate.draw(rounded([(196, y - 74), (220, y - 74), (246, y - 44), (196, y - 44)], 4), name="vehicle")
    plate.draw(rounded([(34, y - 76), (100, y - 75), (100, y - 46), (34, y - 46)], 4), name="vehicle")
    plate.draw(rounded([(114, y - 75), (182, y - 75), (182, y - 45), (114, y - 45)], 4), name="vehicle")
    for x, level, r in ((122.0, y + 14, 24.0), (238.0, y + 30, 24.0)):
        plate.draw(disc(x, level, r), name="wheel")
        plate.draw(disc(x, level, 9), name="wheel")


def _stand() -> Part:
    return Part(
        "stand",
        (
            Piece(closed((-7, -30), (7, -30), (22, 9), (12, 9), (0, -18), (-12, 9), (-22, 9))),
            Piece(rounded([(-12, -34), (-8, -34), (-8, -29), (8, -29), (8, -34), (12, -34), (12, -24), (-12, -24)], 0)),
        ),
    )


def _jack() -> Part:
    return Part(
        "jack",
        (
            Piece(closed((-24, 8), (24, 8), (24, 0), (-24, 0))),
            Piece(closed((-4, 0), (4, 0), (4, -22), (-4, -22))),
            Piece(closed((-12, -22), (12, -22), (12, -28), (-12, -28))),
            Piece(line((24, 4), (64, -10)), "open"),
        ),
    )
