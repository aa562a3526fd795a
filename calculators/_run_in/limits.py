"""What must be kept to while it is first run, read from the form: fast idle, pressures, what the gauge showed."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._units import magnitude_in, printed, quantity, symbol_of
from calculators._verdict import instrument

FAST_IDLE = {"old": (1500.0, 2000.0), "new": (2000.0, 2500.0)}
"""Lowest and highest, in r/min, for a cam that ran with its tappets and a new one (common practice, no source)."""


def fast_idle(inputs: SimpleNamespace) -> tuple[float, float]:
    """Return the lowest and the highest fast idle, [r/min].

    Raises
    ------
    InputErrors
        The two typed do not rise.
    """
    if not inputs.fast_idle:
        return FAST_IDLE[inputs.cam]
    low, high = (magnitude_in(speed, "r/min") for speed in inputs.fast_idle)
    if low >= high:
        raise InputErrors(FieldError("fast_idle", "Fast idle must rise from its lowest to its highest, like 2000 2500"))
    return low, high


def check_speeds(inputs: SimpleNamespace, idle: tuple[float, float], ceiling: float) -> None:
    """Refuse a first ceiling below the fast idle, and a fast idle below the idle."""
    fast, low = f"{idle[1]:.0f} r/min", f"{ceiling:.0f} r/min"
    if ceiling < idle[1] and inputs.fast_idle:
        message = f"Fast idle must be lower: it goes up to {fast}, and the first ceiling is {low}"
        raise InputErrors(FieldError("fast_idle", message))
    if ceiling < idle[1]:
        message = f"First ceiling must be higher: it comes to {low}, and the fast idle goes up to {fast}"
        raise InputErrors(FieldError("share", message))
    if magnitude_in(inputs.idle_speed, "r/min") >= idle[0]:
        raise InputErrors(FieldError("idle_speed", f"Idle speed must be below the fast idle, {idle[0]:.0f} r/min"))


def pressures(inputs: SimpleNamespace) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return speed and least pressure, [r/min] and [bar], at idle and at the speed that the maker names.

    Raises
    ------
    InputErrors
        The second does not lie above the first.
    """
    low = (magnitude_in(inputs.idle_speed, "r/min"), magnitude_in(inputs.pressure_idle, "bar"))
    high = (magnitude_in(inputs.pressure_speed, "r/min"), magnitude_in(inputs.pressure_hot, "bar"))
    errors = []
    if high[0] <= low[0]:
        errors.append(FieldError("pressure_speed", "Speed for that pressure must be above the idle speed"))
    if high[1] < low[1]:
        errors.append(FieldError("pressure_hot", "Least oil pressure at speed must not be below the one at idle"))
    if errors:
        raise InputErrors(*errors)
    return low, high


def readings(inputs: SimpleNamespace) -> list[tuple[str, Any, Any]]:
    """Return what was read and what is the least, with the gauge's error where the reading carries none."""
    found = []
    gauge = instrument("Error limit of the oil pressure gauge", inputs.gauge_error, "bar")
    for where, read, least in (
        ("idle", inputs.read_idle, inputs.pressure_idle),
        (printed(inputs.pressure_speed, "r/min"), inputs.read_hot, inputs.pressure_hot),
    ):
        if read is not None:
            found.append((where, quantity(gauge.read(read, "Oil pressure"), "bar"), least))
    return found


def as_typed(temperature: Any) -> str | None:
    """Return a temperature as printed in the unit typed, or None where there is none."""
    return None if temperature is None else printed(temperature, symbol_of(temperature), 0)
