"""The openings as typed, in the order of the flow, and where one stands proud of those before it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._units import EXPANSION, magnitude_in, number_in, reading
from calculators._words import word
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.opening_shape import Opening, RoundedRectangle, Traced, proud_depth, shared_area

SHAPES = {
    "none": "Not measured",
    "round": "Round",
    "oval": "Oval: two half rounds and straight sides",
    "rounded": "Rectangle with rounded corners",
    "traced": "Traced by points",
}
_SIZE_WORDS = {"width": "width", "height": "height", "corner": "corner radius"}
NAMES = ("pipe", "gasket", "port")
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


def number_of(typed: Any) -> Any:
    """Return a length in mm with the ± that was typed with it, or None."""
    return None if typed is None else number_in(typed, "mm")


def read_openings(inputs: SimpleNamespace) -> tuple[Named, ...]:
    """Return the openings that were measured, the first that the gas meets first.

    Raises
    ------
    InputErrors
        A size is missing, or a shape is none.
    """
    errors: list[FieldError] = []
    found = []
    for name in NAMES:
        shape = _read(inputs, name, errors)
        if shape is not None:
            found.append(Named(name, shape))
    if errors:
        raise InputErrors(*errors)
    return tuple(found if inputs.flow == "in" else reversed(found))


def _read(inputs: SimpleNamespace, name: str, errors: list[FieldError]) -> Opening | None:
    kind = getattr(inputs, f"{name}_shape") or "none"
    if kind == "none":
        return None
    x, y = (_or_nought(getattr(inputs, f"{name}_{key}")) for key in ("across", "up"))
    if kind == "traced":
        return _traced(inputs, name, x, y, errors)
    wanted = {"round": ("width",), "oval": ("width", "height"), "rounded": ("width", "height", "corner")}[kind]
    sizes = {}
    for key in wanted:
        typed = getattr(inputs, f"{name}_{key}")
        if typed is None:
            noun = f"{word(name)} {_SIZE_WORDS[key]}"
            errors.append(FieldError(f"{name}_{key}", f"Enter the {noun}, in millimetres"))
        else:
            sizes[key] = magnitude_in(typed, "mm")
    if len(sizes) < len(wanted):
        return None
    width, height = sizes["width"], sizes.get("height", sizes["width"])
    corner = sizes.get("corner", min(width, height) / 2)
    if corner > min(width, height) / 2:
        message = f"{word(name).capitalize()} corner radius must be at most half the shorter side"
        errors.append(FieldError(f"{name}_corner", message))
        return None
    return RoundedRectangle(width, height, corner, x, y)


def _or_nought(typed: Any) -> float:
    return 0.0 if typed is None else magnitude_in(typed, "mm")


def _traced(inputs: SimpleNamespace, name: str, x: float, y: float, errors: list[FieldError]) -> Opening | None:
    key, label = f"{name}_trace", f"{word(name).capitalize()} trace"
    typed = getattr(inputs, key)
    if typed is None:
        errors.append(FieldError(key, f"Enter the {word(name)} trace, in millimetres"))
        return None
    if len(typed) % 2:
        errors.append(FieldError(key, f"{label} must have an even count of numbers, across and up by turns"))
        return None
    numbers = [magnitude_in(number, "mm") for number in typed]
    points = tuple((across + x, up + y) for across, up in zip(numbers[::2], numbers[1::2], strict=True))
    shape = Traced(points)
    if shape.area < LEAST_AREA:
        errors.append(FieldError(key, f"{label} must go round an area, point by point"))
    elif shape.crosses_itself:
        errors.append(FieldError(key, f"{label} must not cross itself; go round the edge point by point"))
    else:
        return shape
    return None


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
    message = f"{label} must leave a way through: the {word(shut.name)} does not lie over the {before}"
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
