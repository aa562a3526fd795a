"""Each piston seen from above, with its readings and the way it leans."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from calculators.bench import Drawing, Figure, around
from calculators.bench.drawing import width_about
from calculators.bench.units import figures

_ACROSS = (86.0, 254.0)
_CELL = 199.0
_TOP = 26.0
_RADIUS = 34.0
_GAP = 12.0  # from the middle of a point to its number
_POINT = 9.0
_ARROW = 12.0  # how much shorter than the radius the longest of them is
_BESIDE = 83.0  # from the middle of a piston to the frame, or to the numbers of the next


@dataclass(frozen=True, slots=True)
class BarrelSeen:
    """One barrel as the drawing needs it, in the unit of the drawing."""

    depths: tuple[float, ...]
    deck: str
    rise: float
    deepest: float  # degrees from the first point
    stands: str


@lru_cache(maxsize=16)
def deck_map(barrels: tuple[BarrelSeen, ...], unit: str, places: int) -> Figure:
    """Draw every piston from above, each turned so that the pulley end, and with it the first point, is up.

    Parameters
    ----------
    barrels : tuple of BarrelSeen
    unit : str
    places : int
        Decimals of a reading.
    """
    rows = math.ceil(len(barrels) / 2)
    drawing = Drawing(340, _TOP + rows * _CELL)
    drawing.arrow(70, 20, 70, 2)
    drawing.text(82, 12, f"pulley end · depths in {unit}", anchor="start")
    steepest = max(barrel.rise for barrel in barrels)
    widest = max(width_about(figures(depth, places)) for barrel in barrels for depth in barrel.depths)
    radius = min(_RADIUS, _BESIDE - _GAP - widest)
    for index, barrel in enumerate(barrels):
        x, y = _ACROSS[index % 2], _TOP + _CELL * (index // 2)
        _barrel(drawing, x, y, index + 1, barrel, radius, steepest, places)
    said = "; ".join(
        f"cylinder {number}: {barrel.deck} {unit}, {barrel.stands + ', ' if barrel.stands else ''}readings "
        f"{', '.join(figures(depth, places) for depth in barrel.depths)}"
        for number, barrel in enumerate(barrels, 1)
    )
    return Figure(
        key="decks",
        title="Pistons from above, each turned with its pulley end up: numbers are the points, dashes the gudgeon pin, "
        "the arrow leads to the deepest side",
        svg=drawing.svg(f"Deck heights round each piston. {said[0].upper()}{said[1:]}."),
    )


def _barrel(
    drawing: Drawing, x: float, y: float, number: int, barrel: BarrelSeen, radius: float, steepest: float, places: int
) -> None:
    middle = y + 125
    drawing.text(x, y + 10, f"Cylinder {number}", "number")
    drawing.text(x, y + 27, barrel.deck, "words")
    drawing.text(x, y + 44, barrel.stands, "words")
    drawing.circle(x, middle, radius, "part")
    drawing.line(x, middle - radius, x, middle + radius, "route")
    length = (radius - _ARROW) * barrel.rise / steepest if steepest else 0.0
    if length >= 6:
        tail, tip = (around(x, middle, side * length, barrel.deepest) for side in (-1, 1))
        drawing.arrow(*tail, *tip)
    for step, depth in enumerate(barrel.depths):
        angle = 360 * step / len(barrel.depths)
        at = around(x, middle, radius, angle)
        drawing.circle(*at, min(_POINT, 0.38 * radius), "stud")  # eight of them do not meet
        drawing.text(*at, str(step + 1), "number")
        label_x, label_y = around(x, middle, radius + _GAP, angle)
        sideways = math.sin(math.radians(angle))
        anchor = "start" if sideways > 0.3 else "end" if sideways < -0.3 else "middle"
        up = -math.cos(math.radians(angle)) * 7
        drawing.text(label_x, label_y + up, figures(depth, places), "words", anchor=anchor)
