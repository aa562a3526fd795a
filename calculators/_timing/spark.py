"""What dwell meter and timing light say of the points and of the advance."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._units import magnitude_in, number_in, plain, reading
from calculators._verdict import best_of, read_with, verdict_on
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.ignition_timing import (
    advance_at,
    dwell_angle,
    dwell_share,
    evening_shift,
    gap_for,
    guarded_shift,
    lobe_angle,
    spark_later,
)

Curve = tuple[tuple[float, float], ...]
"""Points of the curve wanted: r/min and degrees before top."""


@dataclass(frozen=True, slots=True)
class Points:
    """Dwell wanted and read, in degrees of the distributor; None where it was not typed."""

    lobes: int
    wanted: float | None
    tolerance: float
    read: Any | None
    verdict: Verdict | None
    later: Any | None  # degrees of the crank by which the spark moves when the dwell is put right
    gap: Any | None  # mm, that gives the dwell wanted

    def share(self, dwell: Any) -> Any:
        return dwell_share(dwell, self.lobes)


@dataclass(frozen=True, slots=True)
class Light:
    """One reading of the light against the curve."""

    speed: float
    advance: Any
    wanted: float
    verdict: Verdict

    @property
    def deviation(self) -> Any:
        return self.advance - self.wanted


@dataclass(frozen=True, slots=True)
class Timing:
    """The curve wanted, and all readings of the light, the slowest first."""

    curve: Curve
    tolerance: float
    full: float
    readings: tuple[Light, ...]
    shift: float | None  # to take off all readings, by turning the distributor
    rest: float | None  # largest deviation that is then left
    guarded: bool  # evening all readings out would bring full advance too early
    full_read: bool  # the light was read at full advance


def points_of(inputs: SimpleNamespace) -> Points:
    """Read the dwell.

    Raises
    ------
    InputErrors
        For what only the fields together can tell.
    """
    pitch = lobe_angle(inputs.lobes)
    for key, label in (
        ("dwell", "Dwell wanted"),
        ("dwell_read", "Dwell read"),
        ("dwell_second", "Dwell at the second gap"),
    ):
        value = getattr(inputs, key)
        if value is not None and magnitude_in(value, "°") >= pitch:
            raise InputErrors(
                FieldError(key, f"{label} must be less than {plain(round(pitch, 1))}°, from lobe to lobe")
            )
    read = _dwell_read(inputs)
    tolerance = magnitude_in(inputs.dwell_tolerance, "°")
    wanted = None if inputs.dwell is None else magnitude_in(inputs.dwell, "°")
    verdict, later = None, None
    if wanted is not None and read is not None:
        verdict = verdict_on(read - wanted, -tolerance, tolerance)
        later = spark_later(wanted - read)
    return Points(inputs.lobes, wanted, tolerance, read, verdict, later, _gap(inputs, wanted, read))


def _dwell_read(inputs: SimpleNamespace) -> Any | None:
    if inputs.dwell_read is not None and inputs.dwell_read_share is not None:
        message = "Dwell read in per cent must be empty where it was read in degrees"
        raise InputErrors(FieldError("dwell_read_share", message))
    if inputs.dwell_read is not None:
        return read_with(inputs.dwell_read, inputs.dwell_error, "°", "Dwell read")
    if inputs.dwell_read_share is None:
        return None
    dwell = dwell_angle(number_in(inputs.dwell_read_share, "%"), inputs.lobes)
    if not isinstance(dwell, float):
        return dwell
    return reading(dwell, magnitude_in(inputs.dwell_error, "°"), "Dwell read")


def _gap(inputs: SimpleNamespace, wanted: float | None, read: Any | None) -> Any | None:
    """Return the gap that gives the dwell wanted, in mm, where two gaps were tried."""
    second = (inputs.gap_second, inputs.dwell_second)
    if second == (None, None):
        return None
    missing = [
        FieldError(key, f"Enter the {label}")
        for key, label, value in (
            ("dwell", "dwell wanted, in degrees", wanted),
            ("dwell_read", "dwell read, in degrees", read),
            ("gap_fitted", "gap fitted, in millimetres", inputs.gap_fitted),
            ("gap_second", "second gap, in millimetres", inputs.gap_second),
            ("dwell_second", "dwell at the second gap, in degrees", inputs.dwell_second),
        )
        if value is None
    ]
    if missing:
        raise InputErrors(*missing)
    tries = (
        (number_in(inputs.gap_fitted, "mm"), read),
        (
            number_in(inputs.gap_second, "mm"),
            read_with(inputs.dwell_second, inputs.dwell_error, "°", "Dwell at the second gap"),
        ),
    )
    wider = best_of(tries[1][0]) - best_of(tries[0][0])
    more = best_of(tries[1][1]) - best_of(tries[0][1])
    if wider * more >= 0 or abs(more) < 0.5:
        message = "Dwell at the second gap must be less with the wider gap, by half a degree or more; check both"
        raise InputErrors(FieldError("dwell_second", message))
    gap = gap_for(wanted, tries[0], tries[1])
    if not 0.1 <= best_of(gap) <= 1.5:
        message = f"No gap from 0.1 to 1.5 mm gives {plain(wanted or 0)}° by these two readings. Check them"
        raise InputErrors(FieldError("dwell_second", message))
    return gap


def light_of(inputs: SimpleNamespace, early: Any | None) -> Timing:
    """Hold the light's readings against the curve.

    Parameters
    ----------
    inputs : SimpleNamespace
    early : float or ufloat, optional, [°]
        By which the old mark comes before the true top; None where no stop was met.

    Raises
    ------
    InputErrors
        A curve whose speeds do not rise, or an old mark of which nobody knows how far it is out.
    """
    static, full = magnitude_in(inputs.static_advance, "°"), magnitude_in(inputs.full_advance, "°")
    start, end = magnitude_in(inputs.start_speed, "r/min"), magnitude_in(inputs.full_speed, "r/min")
    if end <= start:
        message = f"Speed of full advance must be above the speed at which the advance begins, {plain(start)} r/min"
        raise InputErrors(FieldError("full_speed", message))
    bends = [
        (magnitude_in(speed, "r/min"), magnitude_in(advance, "°"))
        for speed, advance in zip(inputs.bend_speed, inputs.bend_advance, strict=True)
    ]
    curve = ((start, static), *bends, (end, full))
    for row, (before, here, after) in enumerate(zip(curve, curve[1:], curve[2:], strict=False), 1):
        if not before[0] < here[0] < end or after[0] <= here[0]:
            message = f"must rise from bend to bend, between {plain(start)} and {plain(end)} r/min"
            raise InputErrors(FieldError(f"bend_speed.{row}", f"Speed of bend {row} {message}"))
    if inputs.light_from == "old" and early is None:
        message = (
            "Mark that the light was read by must be the true one, unless the stop tells how far the old one is out"
        )
        raise InputErrors(FieldError("light_from", message))
    tolerance = magnitude_in(inputs.tolerance, "°")
    readings = []
    for number, (speed, advance) in enumerate(zip(inputs.light_speed, inputs.light_advance, strict=True), 1):
        turns = magnitude_in(speed, "r/min")
        shown = read_with(advance, inputs.light_error, "°", f"Reading {number}")
        if inputs.light_from == "old":
            shown = shown + early
        wanted = advance_at(turns, curve)
        readings.append(Light(turns, shown, wanted, verdict_on(shown - wanted, -tolerance, tolerance)))
    shift, rest, guarded = None, None, False
    at_full = [best_of(light.deviation) for light in readings if light.speed >= end]
    if readings:
        deviations = [best_of(light.deviation) for light in readings]
        shift = guarded_shift(deviations, at_full, tolerance)
        rest = max(abs(deviation - shift) for deviation in deviations)
        guarded = shift > evening_shift(deviations)[0]
    slowest_first = tuple(sorted(readings, key=lambda light: light.speed))
    return Timing(curve, tolerance, full, slowest_first, shift, rest, guarded, bool(at_full))


def runs_back(timing: Timing) -> bool:
    """Tell whether the advance falls by more than the tolerance somewhere while the speed rises."""
    return any(
        best_of(later.advance) < best_of(earlier.advance) - timing.tolerance
        for earlier, later in itertools.pairwise(timing.readings)
    )
