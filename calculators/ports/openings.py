"""Openings in the order of the flow, and where one stands proud of those before it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.bench import FieldError, InputErrors
from calculators.bench.units import EXPANSION, reading
from calculators.bench.words import word
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.opening_shape import Opening, Traced, proud_depth, shared_area

SIDES = ("top", "right", "bottom", "left")
LEAST_AREA = 1.0
"""Below it, in mm², nothing is open (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Named:
    """An opening and what it is cut in."""

    name: str
    shape: Opening

    @property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.shape.extent
        return right - left, top - bottom

    def area(self, edge_error: float) -> Any:
        """Return the area in mm², each of its four sides off by the error limit at most."""
        width, height = self.size
        doubt = edge_error * math.sqrt(2 * (width**2 + height**2))
        return reading(self.shape.area, doubt, f"Edges of the {word(self.name)}")


@dataclass(frozen=True, slots=True)
class Edge:
    """How far the edge of one opening stands into the flow, in mm; minus where it is set back.

    Attributes
    ----------
    sides : tuple of float
        The most in the quarter at the top, right, bottom and left.
    greatest : float
    place : (float, float)
        Where that is.
    facing : str
        The edge before it from which the greatest is measured.
    """

    opening: Named
    before: tuple[Named, ...]
    sides: tuple[float, ...]
    greatest: float
    place: tuple[float, float]
    facing: str
    depths: tuple[float, ...]

    @property
    def hour(self) -> int:
        """Where it is, by the clock's hours from the opening's middle."""
        left, bottom, right, top = self.opening.shape.extent
        angle = math.atan2(self.place[0] - (left + right) / 2, self.place[1] - (bottom + top) / 2)
        return round(math.degrees(angle) / 30) % 12 or 12

    def measured(self, edge_error: float) -> Any:
        one = reading(0.0, edge_error, f"Edge of the {word(self.facing)}")
        other = reading(0.0, edge_error, f"Edge of the {word(self.opening.name)}")
        return self.greatest + one - other

    def verdict(self, edge_error: float, allowed: float | None) -> Verdict | None:
        if allowed is None:
            return None
        return judged(self.greatest, EXPANSION * edge_error * math.sqrt(2 / 3), high=allowed, grain=1e-9)


def open_area(openings: tuple[Named, ...]) -> float:
    """Return the area in mm² that is open all the way through.

    Raises
    ------
    InputErrors
        Two of the openings do not lie over one another.
    """
    shapes = tuple(opening.shape for opening in openings)
    area = shared_area(shapes)
    if area >= LEAST_AREA:
        return area
    place = next(place for place in range(1, len(shapes)) if shared_area(shapes[: place + 1]) < LEAST_AREA)
    shut = openings[place]
    before = " and ".join(word(opening.name) for opening in openings[:place])
    key = f"{shut.name}_trace" if isinstance(shut.shape, Traced) else f"{shut.name}_across"
    label = f"{word(shut.name).capitalize()} {'trace' if isinstance(shut.shape, Traced) else 'offset'}"
    message = f"{label} must leave an opening: the {word(shut.name)} does not lie over the {before}"
    raise InputErrors(FieldError(key, message))


def edges_of(openings: tuple[Named, ...]) -> tuple[Edge, ...]:
    """Return how each opening but the first stands to those before it."""
    return tuple(_edge(openings[place], openings[:place]) for place in range(1, len(openings)))


def _edge(opening: Named, before: tuple[Named, ...]) -> Edge:
    left, bottom, right, top = opening.shape.extent
    middle_x, middle_y = (left + right) / 2, (bottom + top) / 2
    upstream = [other.shape for other in before]
    outline = opening.shape.outline
    depths = tuple(proud_depth(upstream, point) for point in outline)
    sides = [-math.inf] * 4
    for point, depth in zip(outline, depths, strict=True):
        across, up = point[0] - middle_x, point[1] - middle_y
        which = (0 if up > 0 else 2) if abs(up) >= abs(across) else (1 if across > 0 else 3)
        sides[which] = max(sides[which], depth)
    greatest, place = max(zip(depths, outline, strict=True), key=lambda found: found[0])
    facing = min(before, key=lambda other: other.shape.inside(place)).name
    known = tuple(side if math.isfinite(side) else greatest for side in sides)
    return Edge(opening, before, known, greatest, place, facing, depths)
