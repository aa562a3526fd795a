"""The room between a valve and the piston: clay pressed thin, or a dial on the spring cap."""

from __future__ import annotations

from calculators.drawings.kit import parts, tools
from calculators.drawings.kit.path import Path, bar, box, closed, line, outline
from calculators.drawings.kit.plate import Plate

_HEAD = outline(
    (66, 198), (9, 198), (9, 226), ((12, 238), (24, 242), (24, 252)), (34, 252), (34, 264), (46, 264), (54, 278),
    (66, 278),
)  # fmt: skip
"""The right half of the cut head, from the valve's middle."""
_VALVE, _CROWN = 272.0, 286.0
"""Where the open valve ends, and how high the crown stands under the edge that comes nearest to it."""


def draw() -> Plate:
    plate = Plate(
        "The room between valve and piston",
        "Two ways, each at the overlap: barrel upright, cut, the piston near its top, the head on it with a valve a "
        "little open. Left: a strip of clay lies on the crown, and the valve has pressed into it; where the valve's "
        "edge comes nearest to the crown the clay is thinnest, and there the room is measured. Right: a light spring "
        "holds the valve up; a dial stands on the spring cap, in line with the stem; a finger pushes the valve open "
        "until it meets the piston, and the dial's travel is the room. Rockers are left out.",
        392,
        "barrel upright, head on top",
    )
    left, right = 68.0, 252.0
    _top_end(plate, left, 1, 5)
    clay = outline(
        (-48, 299), (-48, 274), (-29, 268), (-29, _VALVE), (29, _VALVE), (29, 268), (46, 272), (46, 286),
        ((34, 283), (14, 285), (-48, 299)),
    )  # fmt: skip
    plate.draw(clay.moved(left, 0), "held", name="clay")
    _top_end(plate, right, -1, 3)
    plate.draw(
        line((left + 29, _VALVE), (right - 29, _VALVE)) + line((left + 29, _CROWN), (right - 29, _CROWN)), "fine"
    )
    plate.arrow((160, _VALVE - 26), (160, _VALVE), look="held-open", head=7)
    plate.arrow((160, _CROWN + 26), (160, _CROWN), look="held-open", head=7)
    plate.words(160, _CROWN + 38, "room")
    plate.put(tools.dial_gauge().scaled(0.56), right + 25, 145)
    finger = [(right - 22.0, 148.0), (right - 60, 92)]
    plate.draw(bar(finger[0], finger[1], 17, True), "held", name="finger")
    plate.draw(bar((right - 20.5, 141), (right - 26, 133), 6), "held", name="finger")
    plate.tag(176, 66, "finger", [(right - 56, 98)], "finger")
    plate.words(left, 100, "clay: cut")
    plate.words(left, 120, "and measure")
    plate.tag(50, 376, "clay", [(50, 280)], "clay", ("piston",))
    plate.tag(160, 376, "piston", [(214, 334)], "piston", ("barrel",))
    plate.tag(154, 170, "head", [(124, 208)], "head")
    return plate


def _top_end(plate: Plate, x: float, side_: int, wire: float) -> None:
    """Draw barrel, piston, head and an open valve about its stem; ``side_`` is where the crown stands highest."""
    for side in (1, -1):
        plate.draw(_HEAD.scaled(side, 1).moved(x, 0), "outline", "aluminium", "head")
        plate.draw(box(x + (54 if side > 0 else -66), 278, 12, 66), "outline", "iron", "barrel")
        guide = [(x + a * side, b) for a, b in ((5, 190), (9, 190), (9, 230), (5, 230))]
        plate.draw(closed(*guide), "outline", "iron", "guide")
    piston = outline((-52, 300), ((14, 283), (34, 283), (52, 288)), (52, 346), (-52, 346)).scaled(side_, 1)
    plate.draw(piston.moved(x, 0), name="piston")
    grooves = Path(())
    for y in (310, 317, 324):
        grooves += line((x - 52, y), (x + 52, y))
    plate.draw(grooves, "open", name="piston")
    plate.put(parts.valve(58, 10, 136).turned(-90), x, _VALVE)
    plate.put(parts.spring(44, wire, 44, 4).turned(-90), x, 198)
    plate.put(parts.cap(58, 10).turned(-90), x, 154)
    plate.put(parts.collets(10).turned(-90), x, 154)
