"""The piston's mean speed, which the gas follows."""

from __future__ import annotations

from typing import Any

from calculators.bench import GEOMETRY, Quantity, Value, magnitude_in, number_in, quantity
from calculators.formulas.port_flow import piston_speed


def mean_speed(stroke: Quantity, engine_speed: Quantity) -> Any:
    """Return the piston's mean speed, [m/s]."""
    return piston_speed(number_in(stroke, "mm"), magnitude_in(engine_speed, "r/min"))


def piston_value(stroke: Quantity, engine_speed: Quantity) -> Value:
    """Return the same as a value with its working."""
    return Value(
        key="piston_speed",
        label="Mean piston speed",
        quantity=quantity(mean_speed(stroke, engine_speed), "m/s"),
        formula="2 · stroke · engine speed",
        source=GEOMETRY,
        given=(("stroke", stroke), ("engine speed", engine_speed)),
    )
