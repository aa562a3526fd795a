"""Openings as a person types them: the boxes for one, and the shape that they say."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.bench import Entry, FieldError, Quantity, length, listed, magnitude_in, optional
from calculators.bench.words import word
from calculators.formulas.opening_shape import Opening, RoundedRectangle, Traced
from calculators.ports.openings import LEAST_AREA, Named

FOLDS = {
    "pipe": "Corners and place of the pipe",
    "gasket": "Corners and place of the gasket",
    "port": "Corners and place of the port",
}


def width(label: str, **facts: Any) -> Entry[Quantity | None]:
    """Ask for the width of an opening."""
    return _size(label, **{"hint": "Across; if round, the diameter.", "said": f"{label} {{}}"} | facts)


def height(label: str, **facts: Any) -> Entry[Quantity | None]:
    """Ask for the height of an opening."""
    return _size(label, **{"hint": "Upwards. Empty: round.", "said": "by {}"} | facts)


def _size(label: str, **facts: Any) -> Entry[Quantity | None]:
    facts = {"read_by": "calliper"} | facts
    return optional(length(label, 5, 150, why="ports of such engines", exact=True, **facts))


def corner(label: str, of: str) -> Entry[Quantity | None]:
    """Ask for the radius of an opening's corners."""
    return optional(
        length(
            label,
            0,
            75,
            why="half of the widest",
            exact=True,
            hint="Of a rectangle; 0 if sharp. Empty: the ends are semicircles.",
            shared_as=f"{of}_corner",
            refines=FOLDS[of],
            said="corners {}",
        )
    )


def across(label: str, of: str, **facts: Any) -> Entry[Quantity | None]:
    """Ask how far an opening lies to the right."""
    hint = "Its centre, right of one point common to all; minus for left. Empty: none."
    return _place(
        label, **{"hint": hint, "shared_as": f"{of}_across", "refines": FOLDS[of], "said": "{} right"} | facts
    )


def up(label: str, of: str, **facts: Any) -> Entry[Quantity | None]:
    """Ask how far an opening lies upwards."""
    hint = "Its centre, above that point; minus for below. Empty: none."
    return _place(label, **{"hint": hint, "shared_as": f"{of}_up", "refines": FOLDS[of], "said": "{} up"} | facts)


def _place(label: str, **facts: Any) -> Entry[Quantity | None]:
    return optional(length(label, -100, 100, why="no port is wider", exact=True, **facts))


def trace(label: str, of: str) -> Entry[tuple[Quantity, ...] | None]:
    """Ask for points round the edge of an opening."""
    point = length(
        label,
        -100,
        100,
        why="no port is wider",
        exact=True,
        hint="Points round the edge, each across then up: 0 0 36 0 36 30 0 30. Three to forty points; used instead of "
        "the sizes.",
        shared_as=f"{of}_trace",
        refines=FOLDS[of],
    )
    return optional(listed(point, 6, 80, like="0 0 36 0 36 30 0 30"))


@dataclass(frozen=True, slots=True)
class TypedOpening:
    """What was typed of one opening; None for what was left empty."""

    name: str
    width: Any
    height: Any
    corner: Any
    across: Any
    up: Any
    trace: Any

    @property
    def shape(self) -> str:
        """Return what it was taken for, in words."""
        if self.trace is not None:
            return "traced"
        if self.corner is not None:
            return "rectangle"
        return "round" if self.height is None else "oval"

    def opening(self, errors: list[FieldError]) -> Named | None:
        """Return the opening, or None where it was not measured or cannot be: then with what is wrong."""
        found: Opening | None = None
        if self.trace is not None:
            found = self._traced(errors)
        elif (self.width, self.height, self.corner) != (None, None, None):
            found = self._by_sizes(errors)
        return Named(self.name, found) if found else None

    def _by_sizes(self, errors: list[FieldError]) -> Opening | None:
        label = word(self.name)
        if self.width is None:
            errors.append(FieldError(f"{self.name}_width", f"Enter the {label} width, in millimetres"))
        if self.height is None and self.corner is not None:
            errors.append(FieldError(f"{self.name}_height", f"Enter the {label} height, in millimetres"))
        if self.width is None or (self.height is None and self.corner is not None):
            return None
        wide = _mm(self.width)
        high = wide if self.height is None else _mm(self.height)
        half = min(wide, high) / 2
        radius = half if self.corner is None else _mm(self.corner)
        if radius > half:
            message = f"{label.capitalize()} corner radius must be at most half the shorter side"
            errors.append(FieldError(f"{self.name}_corner", message))
            return None
        return RoundedRectangle(wide, high, radius, *self._place)

    def _traced(self, errors: list[FieldError]) -> Opening | None:
        key, label = f"{self.name}_trace", f"{word(self.name).capitalize()} trace"
        if len(self.trace) % 2:
            errors.append(FieldError(key, f"{label} must have an even number of figures, each across then up"))
            return None
        numbers = [_mm(number) for number in self.trace]
        right, above = self._place
        shape = Traced(tuple((x + right, y + above) for x, y in zip(numbers[::2], numbers[1::2], strict=True)))
        if shape.area < LEAST_AREA:
            errors.append(FieldError(key, f"{label} must enclose an area, point by point"))
            return None
        if shape.crosses_itself:
            errors.append(FieldError(key, f"{label} must not cross itself; go round the edge point by point"))
            return None
        return shape

    @property
    def _place(self) -> tuple[float, float]:
        right, above = (0.0 if typed is None else _mm(typed) for typed in (self.across, self.up))
        return right, above


def _mm(typed: Any) -> float:
    return magnitude_in(typed, "mm")
