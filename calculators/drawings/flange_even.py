"""A flange drawn up parallel, and one drawn up on one side."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import box, closed
from calculators.drawings.kit.plate import Part, Piece, Plate


def draw() -> Plate:
    plate = Plate(
        "Both nuts in turn, the gap parallel",
        "An exhaust flange on its two studs, cut. Right: gasket in its recess, the flange parallel to the head, "
        "both nuts drawn up in turn. Wrong: one nut is drawn up alone; the flange stands crooked, the gap opens "
        "on the other side, and gas blows out.",
        438,
        "cut through both studs",
    )
    _flange(plate, 108, True)
    _flange(plate, 320, False)
    plate.right(14, 206, "gap parallel")
    plate.wrong(14, 422, "one nut alone")
    return plate


def _flange(plate: Plate, y: float, good: bool) -> None:
    for top in (y - 80, y + 24):
        plate.draw(box(0, top, 110, 56), "outline", "aluminium", "head")
    for side in (-1, 1):
        plate.put(parts.stud(116, 11), 74, y + 52 * side)
        plate.draw(box(104, y + (18 if side > 0 else -26), 12, 8, 1), "held-solid" if good else "solid", name="gasket")
    pipe = _pipe()
    plate.put(pipe if good else pipe.turned(-8).in_hand(), 118 if good else 124, y)
    nut = parts.nut(19, 14)
    plate.put(nut.in_hand() if good else nut, 135 if good else 136, y - 52)
    plate.put(nut.in_hand() if good else nut, 135 if good else 168, y + 52)


def _pipe() -> Part:
    """Return a flange with its pipe, cut, its face at the origin."""
    halves = []
    for side in (-1, 1):
        plan = [(0, 76), (16, 76), (16, 32), (150, 32), (150, 24), (0, 24)]
        halves.append(Piece(closed(*((float(a), float(b) * side) for a, b in plan)), "outline", "iron"))
    return Part("flange", tuple(halves))
