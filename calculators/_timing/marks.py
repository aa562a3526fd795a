"""The marks of a rim, and what a positive stop says of the old one."""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._units import figures, magnitude_in, number_in, printed, unit
from calculators._verdict import best_of, expanded_of, read_with, verdict_on
from calculators._words import listed, word
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.firing import begun_at, firing_angles, misnamed, pulley_angle, unequal, uneven_intervals
from calculators.formulas.rim_marks import (
    crank_angle,
    nearest_turn,
    rim_angle,
    rim_chord,
    rim_distance,
    stop_middle,
    unsigned,
)
from calculators.formulas.slider_crank import piston_travel

_WIDEST, _NARROWEST = 150.0, 4.0
"""Degrees between two readings of a stop: beyond, the piston was met too far down, or not at all."""
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
            return "either way, half round"
        return "clockwise" if (ahead > 0) == self.clockwise else "anticlockwise"


def rim_of(inputs: SimpleNamespace) -> Rim:
    """Lay the marks out, and read the stop.

    Raises
    ------
    InputErrors
        For what only the fields together can tell.
    """
    order = inputs.firing_order
    wrong = misnamed(order, len(order))
    if wrong:
        raise InputErrors(FieldError("firing_order", f"Firing order {wrong}"))
    typed = tuple(magnitude_in(angle, "°") for angle in inputs.firing_intervals or ())
    fault = unequal(typed, len(order))
    if fault:
        raise InputErrors(FieldError("firing_intervals", f"Firing intervals {fault}"))
    if magnitude_in(inputs.full_advance, "°") < magnitude_in(inputs.static_advance, "°"):
        text = printed(inputs.static_advance, "°", 1)
        raise InputErrors(FieldError("full_advance", f"Full advance must be no less than the static advance, {text}"))
    on_rim = inputs.scale_on == "rim"
    diameter = number_in(inputs.diameter, "mm")
    return Rim(
        diameter=diameter,
        marks=(*_tops(order, uneven_intervals(typed, len(order))), *_advances(inputs)),
        clockwise=(inputs.crank_rotation == "clockwise") == on_rim,
        on_rim=on_rim,
        rotation=inputs.crank_rotation,
        stop=_stop(inputs, diameter),
    )


def _tops(order: tuple[int, ...], intervals: tuple[float, ...]) -> tuple[Mark, ...]:
    """Return the top marks, those that pass the pointer first in front; cylinder 1's is nought."""
    at: dict[float, list[int]] = {}
    for cylinder, angle in firing_angles(*begun_at(1, order, intervals)).items():
        at.setdefault(round(pulley_angle(angle), 6), []).append(cylinder)
    tops = {after: tuple(sorted(at[after])) for after in sorted(at)}
    return tuple(Mark((_top_name(there),), nearest_turn(-after), there) for after, there in tops.items())


def _top_name(cylinders: tuple[int, ...]) -> str:
    return f"top of cylinder{'s' if len(cylinders) > 1 else ''} {listed(cylinders)}"


def _advances(inputs: SimpleNamespace) -> tuple[Mark, ...]:
    named = {magnitude_in(inputs.static_advance, "°"): ["static"]}
    named.setdefault(magnitude_in(inputs.full_advance, "°"), []).append("full advance")
    for more in inputs.more_marks or ():
        if magnitude_in(more, "°") != 0:
            named.setdefault(magnitude_in(more, "°"), [])
    return tuple(Mark(tuple(names) or (degrees_words(ahead),), ahead) for ahead, names in sorted(named.items()))


def degrees_words(ahead: float) -> str:
    """Return where a mark lies, in words.

    Examples
    --------
    >>> degrees_words(12.5), degrees_words(-5)
    ('12.5° before top', '5° after top')
    """
    places = 0 if ahead == round(ahead) else 1
    return f"{figures(abs(ahead), places)}° {'before' if ahead >= 0 else 'after'} top"


def _stop(inputs: SimpleNamespace, diameter: Any) -> Stop | None:
    readings = _stop_readings(inputs, diameter)
    if readings is None:
        return None
    early, half = stop_middle(*readings)
    first = "stop_forwards" if inputs.stop_forwards is not None else "rim_forwards"
    between = 2 * best_of(half)
    if between > _WIDEST:
        message = f"must be less than {_WIDEST:g}° apart the shorter way, not {between:.0f}°. Draw the stop back"
        raise InputErrors(FieldError(first, f"The two readings at the stop {message}"))
    if between < _NARROWEST:
        message = f"must be more than {_NARROWEST:g}° apart, not {between:.1f}°. Let the stop reach further down"
        raise InputErrors(FieldError(first, f"The two readings at the stop {message}"))
    depth, blind = _depth(inputs, half)
    limit = magnitude_in(inputs.mark_limit, "°")
    return Stop(early, half, limit, verdict_on(early, -limit, limit), depth, blind)


def _stop_readings(inputs: SimpleNamespace, diameter: Any) -> tuple[Any, Any] | None:
    """Return the crank angles after the old mark at which the stop was met, or None where it was not."""
    wheel, chalk = (inputs.stop_forwards, inputs.stop_backwards), (inputs.rim_forwards, inputs.rim_backwards)
    for pair, keys, labels, units in (
        (
            wheel,
            ("stop_forwards", "stop_backwards"),
            ("wheel reading, turned the engine's way", "wheel reading, turned the other way"),
            unit("°").words,
        ),
        (
            chalk,
            ("rim_forwards", "rim_backwards"),
            (
                "distance from the old mark to the first chalk mark",
                "distance from the old mark to the second chalk mark",
            ),
            unit("mm").words,
        ),
    ):
        for side, other in ((0, 1), (1, 0)):
            if pair[side] is None and pair[other] is not None:
                raise InputErrors(FieldError(keys[side], f"Enter the {labels[side]}, in {units}"))
    if wheel[0] is not None and chalk[0] is not None:
        message = "Distance from the old mark to the first chalk mark must be empty where the wheel was read"
        raise InputErrors(FieldError("rim_forwards", message))
    if wheel[0] is not None:
        forwards, backwards = wheel
        return (
            read_with(forwards, inputs.wheel_error, "°", "Wheel reading, turned the engine's way"),
            read_with(backwards, inputs.wheel_error, "°", "Wheel reading, turned the other way"),
        )
    if chalk[0] is not None:
        forwards, backwards = chalk
        return (
            -rim_angle(read_with(forwards, inputs.rim_error, "mm", "First chalk mark"), diameter),
            rim_angle(read_with(backwards, inputs.rim_error, "mm", "Second chalk mark"), diameter),
        )
    return None


def _depth(inputs: SimpleNamespace, half: Any) -> tuple[Any | None, float | None]:
    if inputs.stroke is None or inputs.rod_length is None:
        return None, None
    stroke, rod = number_in(inputs.stroke, "mm"), number_in(inputs.rod_length, "mm")
    if best_of(rod) <= 0.5 * best_of(stroke):
        message = f"Rod length must be more than half the stroke, which is {printed(inputs.stroke / 2, 'mm')}"
        raise InputErrors(FieldError("rod_length", message))
    return piston_travel(half, stroke, rod), best_of(crank_angle(BLIND, best_of(stroke), best_of(rod)))


def is_moved(stop: Stop | None) -> bool:
    """Tell whether the stop gives a mark to move."""
    return stop is not None and stop.verdict != "in" and abs(best_of(stop.early)) > expanded_of(stop.early) * 1e-6
