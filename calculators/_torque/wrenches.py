"""The torque wrenches that a form describes, with the extension that is on them."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._units import magnitude_in, number_in, symbol_of
from calculators.formulas.wrench_reach import Wrench, permitted_deviation, setting_share

TYPES = {
    "unknown": "No standard marked on it",
    "click": "Click wrench with a scale",
    "dial": "Dial or display",
    "beam": "Bending beam with a pointer",
    "screwdriver": "Torque screwdriver",
}
MAIN_WORDS = "wrench"
"""What the only wrench is called, or the larger of two."""
LEAST_LEVER = 0.2
"""Share of the wrench's lever that must be left, where an extension points back (common practice, no source)."""


def wrenches_of(inputs: SimpleNamespace, target: Any) -> tuple[Wrench, ...]:
    """Return the wrench, and the small one where any of it is typed."""
    main = _wrench(inputs, target, "wrench", MAIN_WORDS, inputs.graduation)
    if inputs.small_step is None and inputs.small_low is None and inputs.small_high is None:
        return (main,)
    if inputs.small_step is None:
        raise InputErrors(FieldError("small_step", "Enter the small wrench scale step, in newton metres"))
    return main, _wrench(inputs, target, "small", "small wrench", inputs.small_step)


def _wrench(inputs: SimpleNamespace, target: Any, key: str, name: str, step: Any) -> Wrench:
    low, high, kind, lever = (getattr(inputs, f"{key}_{part}") for part in ("low", "high", "type", "length"))
    unit = symbol_of(step)
    lowest, highest = (None if end is None else magnitude_in(end, unit) for end in (low, high))
    if lowest is not None and highest is not None and lowest >= highest:
        raise InputErrors(FieldError(f"{key}_low", f"Lowest {name} setting must be below the highest"))
    if high is None and key == "wrench":
        high = target  # which it must reach at the least; a small wrench need not
    largest = 0.0 if high is None else magnitude_in(high, "N·m")
    share: Any = 1.0
    if inputs.extension is not None:
        if lever is None:
            noun = "wrench lever length" if key == "wrench" else "small wrench lever length"
            raise InputErrors(FieldError(f"{key}_length", f"Enter the {noun}, in millimetres"))
        angle = magnitude_in(inputs.angle, "°")
        if _left_of_lever(magnitude_in(lever, "mm"), magnitude_in(inputs.extension, "mm"), angle) < LEAST_LEVER:
            message = "Extension length must be shorter: back to the hand it leaves under a fifth of the wrench lever"
            raise InputErrors(FieldError("extension", message))
        share = setting_share(number_in(lever, "mm"), number_in(inputs.extension, "mm"), angle)
    return Wrench(
        name=name,
        unit=unit,
        step=step.magnitude,
        lowest=lowest,
        highest=highest,
        deviation=permitted_deviation(kind, largest),
        share=share,
    )


def _left_of_lever(lever: float, extension: float, angle: float) -> float:
    return 1 + extension / lever * math.cos(math.radians(angle))
