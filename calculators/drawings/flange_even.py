"""A flange drawn up parallel, and one drawn up on one side."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import box, closed
from calculators.drawings.kit.plate import Part, Piece, Plate


def draw() -> Plate:
    plate = Plate(
        "Both nuts in turn, the gap parallel",
        "An exhaust flange on its two studs, cut. Right: the gasket lies in its recess in the head and touches the "
        "flange all round, the flange is parallel to the head, both nuts drawn up in turn. Wrong: one nut is drawn "
        "up alone; the flange stands crooked, on the other side the gasket is bare, and gas blows out there.",
        438,
        "cut through both studs",
    )
    _flange(plate, 108, True)
    _flange(plate, 320, False)
    plate.right(14, 206, "gap parallel")
    plate.wrong(14, 422, "one nut alone")
    return plate


def _flange(plate: Plate, y: float, good: bool) -> None:
    for side in (-1, 1):
        half = [(0, 24), (96, 24), (96, 36), (110, 36), (110, 80), (0, 80)]
        plate.draw(closed(*((float(a), y + b * side) for a, b in half)), "outline", "aluminium", "head")
        plate.put(parts.stud(116, 11), 74, y + 54 * side)
        plate.draw(box(97, y + (25 if side > 0 else -35), 20, 10, 1), "held-solid" if good else "solid", name="gasket")
    pipe = _pipe()
    plate.put(pipe if good else pipe.turned(-8).in_hand(), 118 if good else 124, y)
    nut = parts.nut(19, 14)
    plate.put(nut.in_hand() if good else nut, 135 if good else 136, y - 54)
    plate.put(nut.in_hand() if good else nut, 135 if good else 168, y + 54)
    if not good:
        plate.arrow((70, y + 2), (106, y + 8), (122, y + 30), (118, y + 58), (122, y + 87))


def _pipe() -> Part:
    """Return a flange with its pipe, cut, its face at the origin."""
    halves = []
    for side in (-1, 1):
        plan = [(0, 76), (16, 76), (16, 32), (150, 32), (150, 24), (0, 24)]
        halves.append(Piece(closed(*((float(a), float(b) * side) for a, b in plan)), "outline", "iron"))
    return Part("flange", tuple(halves))
