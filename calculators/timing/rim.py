"""A rim with its marks: which there are, and where each goes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from calculators._timing.marks import Mark, Rim, degrees_words
from calculators._units import figures
from calculators._verdict import best_of
from calculators._words import listed, word
from calculators.bench import Quantity, magnitude_in
from calculators.formulas.firing import begun_at, firing_angles, pulley_angle
from calculators.formulas.rim_marks import nearest_turn


def rim_of(diameter: Any, marks: Iterable[Mark], rotation: str, marks_on: str) -> Rim:
    """Return a rim; which way a mark before the top lies depends on what carries it.

    Parameters
    ----------
    diameter : float or ufloat, [mm]
    marks : iterable of Mark
    rotation : str
        ``"clockwise"`` or ``"anticlockwise"``.
    marks_on : str
        ``"rim"`` or ``"case"``.
    """
    on_rim = marks_on == "rim"
    return Rim(diameter, tuple(marks), (rotation == "clockwise") == on_rim, on_rim, rotation, None)


def tops(order: tuple[int, ...], intervals: tuple[float, ...]) -> tuple[Mark, ...]:
    """Return the top marks, those that pass the pointer first in front; cylinder 1's is nought."""
    at: dict[float, list[int]] = {}
    for cylinder, angle in firing_angles(*begun_at(1, order, intervals)).items():
        at.setdefault(round(pulley_angle(angle), 6), []).append(cylinder)
    there = {after: tuple(sorted(at[after])) for after in sorted(at)}
    return tuple(Mark((_top_name(cylinders),), nearest_turn(-after), cylinders) for after, cylinders in there.items())


def _top_name(cylinders: tuple[int, ...]) -> str:
    return f"top of cylinder{'s' if len(cylinders) > 1 else ''} {listed(cylinders)}"


def advances(static: Quantity, full: Quantity, more: Iterable[Quantity]) -> tuple[Mark, ...]:
    """Return the marks of the advance and those that are wanted besides, none twice."""
    named = {magnitude_in(static, "°"): ["static"]}
    named.setdefault(magnitude_in(full, "°"), []).append("full advance")
    for angle in more:
        if magnitude_in(angle, "°") != 0:
            named.setdefault(magnitude_in(angle, "°"), [])
    return tuple(Mark(tuple(names) or (degrees_words(ahead),), ahead) for ahead, names in sorted(named.items()))


def millimetres(length: Any) -> str:
    """Return a length as the hand measures it along a rim."""
    return f"{figures(best_of(length), 1)} mm"


def where(rim: Rim, mark: Mark) -> str:
    """Return where a mark goes, as the hand needs it."""
    if mark.ahead == 0:
        return "the top mark"
    if abs(mark.ahead) == 180:
        return f"{millimetres(rim.along(180))}, half round"
    return f"{millimetres(rim.along(mark.ahead))} {word(rim.way(mark.ahead))}"
