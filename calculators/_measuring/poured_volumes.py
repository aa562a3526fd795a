"""Volumes filled from a burette: what its readings come to in a chamber, or on a crown."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._measuring.repeated_readings import SCALE, SCATTER, part
from calculators._units import bare, magnitude_in, reading
from calculators.formulas.chamber_shape import poured_volume
from calculators.formulas.cylinder_volume import bore_area
from calculators.formulas.measured_mean import mean, pooled_scatter

EXPANSIONS = {"oil": 7.0e-4, "paraffin": 9.7e-4, "spirit": 1.09e-3, "water": 2.07e-4}
"""Cubic expansion at 20 °C, 1/K: water and ethanol (spirit) as handbooks have them, n-dodecane within 3 % for
paraffin, thin mineral oil from memory."""
IN_HOLE = "Level in the plate's hole"
LEVEL = 0.1
"""How far the liquid's level in the plate's hole can be seen wrong, cm (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Poured:
    """One volume, [cm³]: its single fills as they count, and their mean with all its influences."""

    fills: tuple[float, ...]
    fillings: int  # of the burette, for one fill
    value: Any


@dataclass(frozen=True, slots=True)
class Burette:
    """The burette, its plate and its liquid, with what each lends to every volume."""

    step: float  # cm³
    error: Any  # of one filling, cm³, mean nought
    capacity: float  # cm³
    expansion: float  # 1/K
    warmer: Any  # liquid less head, K
    hole: float  # area, cm²
    plate: float  # height of liquid that stands in the hole, cm

    def in_hole(self) -> Any:
        """Return what stands in the plate's hole, cm³; every fill has a level of its own."""
        return self.hole * (self.plate + reading(0.0, LEVEL, IN_HOLE)) if self.hole else 0.0


def read_burette(inputs: SimpleNamespace) -> Burette:
    """Attach the limits to what is the same for every fill."""
    warmer = magnitude_in(inputs.liquid_temperature, "°C") - magnitude_in(inputs.head_temperature, "°C")
    off = inputs.temperature_error * math.sqrt(2)  # two readings of a thermometer
    return Burette(
        step=magnitude_in(inputs.step, "cm³"),
        error=reading(0.0, magnitude_in(inputs.burette_error, "cm³"), "Error limit of the burette"),
        capacity=magnitude_in(inputs.capacity, "cm³"),
        expansion=EXPANSIONS[inputs.liquid],
        warmer=reading(warmer, off, "Temperatures"),
        hole=bore_area(magnitude_in(inputs.hole, "cm")),
        plate=magnitude_in(inputs.plate, "cm") if inputs.level == "top" else 0.0,
    )


def read_fills(key: str, where: str, column: Sequence[Any], starts: Sequence[Any]) -> tuple[tuple[float, ...], ...]:
    """Return what ran out of the burette at each fill, cm³: the end less the starting mark; empty where none was read.

    Parameters
    ----------
    key : str
        Of the form's field; ``key_start`` has the marks.
    where : str
        What stands between the field's label and the cylinder: ``""``, or ``" on the crown"``.
    column, starts : sequence of tuples of Quantity, or None

    Raises
    ------
    InputErrors
        Starting marks that do not belong to the readings.
    """
    fills, errors = [], []
    for number, (ends, marks) in enumerate(zip(column, starts, strict=True), 1):
        read = tuple(magnitude_in(end, "cm³") for end in ends or ())
        began = tuple(magnitude_in(mark, "cm³") for mark in marks or ())
        if len(began) > 1 and read and len(began) != len(read):
            message = (
                f"Starting marks{where} of cylinder {number} must be one for all its readings, "
                f"or {len(read)}, one for each; there are {len(began)}"
            )
            errors.append(FieldError(f"{key}_start.{number}", message))
            continue
        if began and not read:
            message = f"Starting marks{where} of cylinder {number} must be empty where nothing was filled"
            errors.append(FieldError(f"{key}_start.{number}", message))
            continue
        if len(began) != len(read):
            began = (began[0] if began else 0.0,) * len(read)
        if any(end <= mark for end, mark in zip(read, began, strict=True)):
            message = f"Burette readings{where} of cylinder {number} must exceed their starting marks"
            errors.append(FieldError(f"{key}.{number}", message))
        fills.append(tuple(end - mark for end, mark in zip(read, began, strict=True)))
    if errors:
        raise InputErrors(*errors)
    return tuple(fills)


def scatter_of(*columns: Sequence[Sequence[float]]) -> tuple[float, int]:
    """Return the scatter of one fill, from all that were repeated, and its degrees of freedom."""
    return pooled_scatter([fill - mean(fills) for fill in fills] for column in columns for fills in column if fills)


def poured(burette: Burette, fills: Sequence[float], scatter: float) -> Poured:
    """Return what a volume comes to, cm³, from its fills and the scatter of one of them."""
    read, fillings = mean(fills), max(1, math.ceil(mean(fills) / burette.capacity - 1e-9))
    scale = burette.step / math.sqrt(12) * math.sqrt(2 * fillings)  # two marks are read at each filling
    value = read + fillings * burette.error + part(scale, SCALE) + part(scatter / math.sqrt(len(fills)), SCATTER)
    in_hole = burette.in_hole()
    middle = burette.expansion * bare(burette.warmer)[0]
    return Poured(
        fills=tuple(fill * (1 - middle) - burette.hole * burette.plate for fill in fills),
        fillings=fillings,
        value=poured_volume(value, burette.expansion, burette.warmer) - in_hole,
    )
