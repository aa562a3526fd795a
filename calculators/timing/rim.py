"""A rim with its marks: which there are, and where each goes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from calculators.bench import Quantity, magnitude_in
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, expanded_of
from calculators.bench.words import listed, word
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.firing import begun_at, firing_angles, pulley_angle
from calculators.formulas.rim_marks import nearest_turn, rim_chord, rim_distance, unsigned

BLIND = 0.02
"""Millimetres of travel that a dial on the piston cannot be trusted with near the top (common practice)."""
_SAME = 1e-9

HOLDER_WORDS = {True: "rim", False: "case"}
"""What carries the marks, by whether it is the rim."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark: degrees ahead of cylinder 1's top mark, in the sense that the marks are laid; minus behind.

    A top mark has the ``cylinders`` that are at their top there.
    """

    names: tuple[str, ...]
    ahead: float
    cylinders: tuple[int, ...] = ()

    @property
    def top(self) -> bool:
        return bool(self.cylinders)

    @property
    def name(self) -> str:
        text = listed(map(word, self.names))
        return text[0].upper() + text[1:]

    @property
    def brief(self) -> str:
        """The name for where there is little room."""
        return f"Top of {listed(self.cylinders)}" if self.top else self.name


@dataclass(frozen=True, slots=True)
class Stop:
    """What the stop says: degrees by which the old mark comes early, half of the gap, and more."""

    early: Any
    half: Any
    limit: float
    verdict: Verdict
    depth: Any | None  # of the piston below its top at the stop, mm
    blind: float | None  # degrees to either side of the top that a dial cannot tell apart


@dataclass(frozen=True, slots=True)
class Rim:
    """The rim with its marks, those of the tops first."""

    diameter: Any  # mm
    marks: tuple[Mark, ...]
    clockwise: bool  # the sense in which a mark before top lies from the top mark
    on_rim: bool
    rotation: str
    stop: Stop | None

    def along(self, angle: Any) -> Any:
        return rim_distance(unsigned(angle), self.diameter)

    def across(self, angle: float) -> Any:
        return rim_chord(angle, self.diameter)

    def way(self, ahead: float) -> str:
        """Return in which sense a mark lies from the top mark."""
        if abs(ahead) < _SAME:
            return "the top mark itself"
        if abs(abs(ahead) - 180) < _SAME:
            return "either way, halfway round"
        return "clockwise" if (ahead > 0) == self.clockwise else "anticlockwise"


def degrees_words(ahead: float) -> str:
    """Return where a mark lies, in words.

    Examples
    --------
    >>> degrees_words(12.5), degrees_words(-5)
    ('12.5° before top', '5° after top')
    """
    places = 0 if ahead == round(ahead) else 1
    return f"{figures(abs(ahead), places)}° {'before' if ahead >= 0 else 'after'} top"


def is_moved(stop: Stop | None) -> bool:
    """Tell whether the stop gives a mark to move."""
    return stop is not None and stop.verdict != "in" and abs(best_of(stop.early)) > expanded_of(stop.early) * 1e-6


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


def angle_of(mark: Mark) -> str:
    """Return where a mark of the advance lies in degrees, and which one it is."""
    names = f" ({listed(map(word, mark.names))})" if mark.names[0] in ("static", "full advance") else ""
    return f"{degrees_words(mark.ahead)}{names}"
