"""The rings closed in a compressor, the piston steadied by a fork, the barrel slid on by its fins."""

from __future__ import annotations

from calculators.drawings.kit import hands, parts
from calculators.drawings.kit.path import box, closed, curve, line, rounded
from calculators.drawings.kit.plate import IN_THE_ENGINE, Part, Piece, Plate


def draw() -> Plate:
    plate = Plate(
        "Rings closed, barrel slid on",
        "A piston stands out of the case mouth on its rod, its skirt on a wooden fork that straddles the rod and "
        "rests on the case. A band, cut, closes all rings. A hand holds the barrel by its fins, from outside, and "
        "slides it towards the case. Right: every ring lies inside its groove as the barrel's edge reaches it. "
        "Wrong: a ring stands out and the edge is caught on it.",
        398,
        IN_THE_ENGINE,
    )
    middle = 132.0
    plate.put(parts.rod(120).scaled(1.1), 86, middle)
    for side in (-1, 1):
        wall = closed(
            (0, middle + 58 * side), (36, middle + 58 * side), (36, middle + 82 * side), (0, middle + 82 * side)
        )
        plate.draw(wall, "outline", "aluminium", "case")
    plate.put(parts.piston(82, rings=False).scaled(1.08), 86.4, middle)
    plate.put(fork(), 43.5, middle)
    plate.put(parts.barrel_outside(82, 104, fins=8, spigot=14, fin=12).scaled(1.02), 186, middle)
    plate.put(compressor(87), 98, middle)
    plate.put(hands.hold().scaled(0.8), 230, middle + 66)
    plate.arrow((226, 50), (180, 50), look="held-open")
    plate.tag(104, 44, "fork", [(50, 76)], "fork")
    plate.tag(104, 240, "compressor", [(112, 179)], "compressor")
    _edge(plate, 0, 0)
    _edge(plate, 166, 9)
    plate.right(12, 382, "ring closed")
    plate.wrong(178, 382, "ring caught")
    return plate


def fork() -> Part:
    """Return the fork edge on: the near prong before the rod, its handle below."""
    return Part(
        "fork",
        (
            Piece(rounded([(-7, -62), (7, -62), (7, 96), (-7, 96)], [3, 3, 6, 6])),
            Piece(curve((-2, -54), (-1, 0), (-3, 84)) + curve((3, -50), (2, 10), (3, 78)), "fine"),
        ),
    )


def compressor(high: float) -> Part:
    """Return a band that opens sideways, cut along its middle, so high within, with the screw that draws it close."""
    half = high / 2
    walls = [box(0, -half - 7, 27, 7, 1), box(0, half, 27, 7, 1)]
    return Part(
        "compressor",
        (
            *(Piece(wall, "held") for wall in walls),
            Piece(box(7, -half - 20, 13, 13, 2), "held"),
            Piece(line((7, -half - 13.5), (20, -half - 13.5)), "held-open"),
        ),
    )


def _edge(plate: Plate, x: float, proud: float) -> None:
    """Draw ring, groove and the barrel's edge, much enlarged."""
    crown = x + 84
    plate.draw(
        closed(
            (x + 2, 360),
            (x + 2, 332),
            (x + 38, 332),
            (x + 38, 352),
            (x + 56, 352),
            (x + 56, 332),
            (crown, 332),
            (crown, 360),
        ),
        "outline",
        "aluminium",
        "piston",
    )
    plate.draw(box(x + 40, 330 - proud, 14, 18, 1), "held", name="ring")
    edge = x + (58 if proud else 20)
    plate.draw(
        closed((edge, 310), (edge + 8, 302), (x + 140, 302), (x + 140, 326), (edge, 326)), "outline", "iron", "barrel"
    )
    if not proud:
        plate.arrow((x + 60, 291), (x + 26, 291))
    else:
        plate.arrow((x + 132, 291), (x + 98, 291))
