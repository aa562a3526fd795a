"""Volumes filled from a burette: its entries, and what the readings of a row come to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from uncertainties import ufloat

from calculators.bench import (
    FieldError,
    InputErrors,
    Scatter,
    Source,
    choice,
    listed,
    magnitude_in,
    measure,
    optional,
    quantity,
    shared,
    symbol_of,
)
from calculators.bench.entries import Entry, Given, Quantity, length, volume
from calculators.bench.instruments import common_error
from calculators.formulas.chamber_shape import poured_volume
from calculators.formulas.cylinder_volume import bore_area
from calculators.formulas.measured_mean import mean, pooled_scatter

EXPANSIONS = {"oil": 7.0e-4, "paraffin": 9.7e-4, "spirit": 1.09e-3, "water": 2.07e-4}
"""Cubic expansion at 20 °C, 1/K: water and ethanol (spirit) as handbooks have them, n-dodecane within 3 % for
paraffin, thin mineral oil from memory."""
FOLD = "Burette, plate and liquid"
FAR_APART = 0.3
"""Fills of one volume that lie further apart are not one volume, cm³ (common practice, no source)."""
LEVEL = 0.1
"""How far the liquid's level in the plate's hole can be seen wrong, cm (common practice, no source)."""
PLACES = {"cm³": 2, "in³": 3, "l": 5}
REPEATS = Source(
    "JCGM 100:2008 (GUM), 4.2.3 and 4.2.4 for the scatter, 4.3.7 for the limits, 5.1.2, G.4.1 and Table G.2 (95.45 %)"
)
POURED = Source(f"{REPEATS.name}; solid geometry; expansion of liquids: see Good to know")
BY_BURETTE = "mean read × (1 − β ΔT) − π/4 d² l in the plate's hole; U = k u, u² the sum of all influences squared"
EXPANSION_NOTE = (
    "Each kelvin away from 20 °C expands water by 0.0207 %, spirit by 0.109 %, paraffin by 0.097 %, thin oil by 0.07 "
    "%. "
    "The first three are checked against an independent library of fluid properties; oil is from memory. Glass and "
    "head expand a hundredth and a tenth as much, and are ignored."
)


def readings(label: str, hint: str, **facts: Any) -> Entry[tuple[Quantity, ...] | None]:
    """Ask for burette readings, several on a line; limits are those of a burette."""
    one = volume(label, 0, 2000, why="engines of this kind", exact=True, hint=hint, read_by="burette", **facts)
    return optional(listed(one, 1, 10, like="49.2 49.1 49.0"))


@dataclass(frozen=True, slots=True)
class Poured:
    """One volume, [cm³]: its single fills as they count, and their mean with all its influences."""

    fills: tuple[float, ...]
    fillings: int  # of the burette, for one fill
    value: Any


class Filling(Given):
    """What is the same behind every volume that one burette fills."""

    step = volume(
        "Burette scale step",
        0.001,
        10,
        why="burettes and syringes",
        exact=True,
        hint="What one division is worth. The meniscus is read to half a division either way.",
        usual="0.1 cm³",
        shared_as="burette_step",
        refines=FOLD,
        said="marks of {}",
    )
    burette_error = shared.burette_error(refines=FOLD)
    capacity = volume(
        "Burette capacity",
        5,
        2000,
        why="burettes and syringes",
        exact=True,
        hint="A larger volume takes several fillings, and each adds its error.",
        usual="50 cm³",
        shared_as="burette_capacity",
        refines=FOLD,
        said="holds {}",
    )
    hole = length(
        "Hole in the plate",
        0,
        20,
        why="in a wider one the level cannot be judged",
        exact=True,
        hint="Its diameter; 0 if the level is read without a hole.",
        usual="6 mm",
        shared_as="plate_hole",
        refines=FOLD,
        said="hole {}",
    )
    level = choice(
        "Liquid stands",
        {"under": "at the underside of the plate", "top": "at the top of the hole"},
        usual="under",
        shared_as="plate_level",
        refines=FOLD,
        said="{}",
    )
    plate = length(
        "Plate thickness",
        0.5,
        50,
        why="plates",
        exact=True,
        usual="6 mm",
        shared_as="plate_thickness",
        refines=FOLD,
        said="plate {}",
    )
    liquid = choice(
        "Liquid",
        {"oil": "Thin oil", "paraffin": "Paraffin (kerosene)", "spirit": "Spirit (alcohol)", "water": "Water"},
        usual="oil",
        shared_as="filling_liquid",
        refines=FOLD,
        said="{}",
    )
    liquid_temperature = measure(
        "Temperature of the liquid",
        "°C",
        0,
        60,
        why="a workshop",
        exact=True,
        usual="20 °C",
        shared_as="liquid_temperature",
        refines=FOLD,
        said="liquid {}",
    )
    head_temperature = measure(
        "Temperature of the part",
        "°C",
        0,
        60,
        why="a workshop",
        exact=True,
        usual="20 °C",
        shared_as="filled_part_temperature",
        refines=FOLD,
        said="part {}",
    )
    temperature_error = shared.thermometer_error(refines=FOLD, said="± {} °C")

    @property
    def beta(self) -> float:
        """How much the liquid swells, 1/K."""
        return EXPANSIONS[self.liquid]

    @property
    def warmer(self) -> float:
        """By how much the liquid is warmer than the part, K."""
        return magnitude_in(self.liquid_temperature, "°C") - magnitude_in(self.head_temperature, "°C")

    @property
    def in_hole(self) -> float:
        """What stands in the plate's hole, cm³."""
        return self._hole * self._stands

    @property
    def _hole(self) -> float:
        return bore_area(magnitude_in(self.hole, "cm")) if magnitude_in(self.hole, "cm") else 0.0

    @property
    def _stands(self) -> float:
        return magnitude_in(self.plate, "cm") if self.level == "top" else 0.0

    def poured(self, fills: Sequence[float], scatter: float, pool: Scatter) -> Poured:
        """Return what a volume comes to, cm³, from its fills and the scatter of one of them."""
        read = mean(fills)
        fillings = max(1, math.ceil(read / magnitude_in(self.capacity, "cm³") - 1e-9))
        marks = magnitude_in(self.step, "cm³") / math.sqrt(12) * math.sqrt(2 * fillings)  # two are read at each filling
        value = read + fillings * common_error("burette", magnitude_in(self.burette_error, "cm³"))
        value = value + ufloat(0.0, marks, "Reading of the scale")
        if scatter:
            value = value + ufloat(0.0, scatter / math.sqrt(len(fills)), pool)
        # √2: liquid and part are two readings of the thermometer
        warmer = self.warmer + common_error("thermometer", self.temperature_error * math.sqrt(2))
        value = poured_volume(value, self.beta, warmer) - self.in_hole
        if self._hole:
            value = value - self._hole * ufloat(0.0, LEVEL / math.sqrt(3), "Level in the plate's hole")
        return Poured(tuple(fill * (1 - self.beta * self.warmer) - self.in_hole for fill in fills), fillings, value)

    def certainty(self, poured: Poured) -> tuple[tuple[str, Any], ...]:
        """Return what a volume was worked out with, for the working."""
        return (
            ("fills", len(poured.fills)),
            ("burette filled", f"{poured.fillings} {'times' if poured.fillings > 1 else 'time'} a fill"),
            ("β", f"{self.beta:.3g} 1/K"),
            ("ΔT", quantity(self.warmer, "K")),
            ("in the hole", quantity(self.in_hole, "cm³")),
        )


Line = tuple[Quantity, ...] | None
"""What stands in one box of readings."""


def fills_of(rows: Iterable[tuple[Line, Line]], key: str, where: str = "") -> tuple[tuple[float, ...], ...]:
    """Return what ran out of the burette at each fill, cm³: the end less the starting mark; empty where none was read.

    Parameters
    ----------
    rows : iterable of (tuple of Quantity or None, the same)
        The readings of each row, and the marks that they started from.
    key : str
        Of the column of readings; that of the marks is ``key_start``.
    where : str
        What stands between the label and the cylinder: ``""``, or ``" on the crown"``.

    Raises
    ------
    InputErrors
        Starting marks that do not belong to the readings.
    """
    found, errors = [], []
    for row, (ends, marks) in enumerate(rows, 1):
        read = tuple(magnitude_in(end, "cm³") for end in ends or ())
        began = tuple(magnitude_in(mark, "cm³") for mark in marks or ())
        message = ""
        if began and not read:
            message = f"Starting marks{where} of cylinder {row} must be empty if nothing was filled"
        elif len(began) > 1 and len(began) != len(read):
            message = (
                f"Starting marks{where} of cylinder {row} must be one for all its readings, "
                f"or {len(read)}, one for each; there are {len(began)}"
            )
        if message:
            errors.append(FieldError(f"{key}_start.{row}", message))
            continue
        if len(began) != len(read):
            began = (began[0] if began else 0.0,) * len(read)
        if any(end <= mark for end, mark in zip(read, began, strict=True)):
            message = f"Burette readings{where} of cylinder {row} must be more than their starting marks"
            errors.append(FieldError(f"{key}.{row}", message))
        found.append(tuple(end - mark for end, mark in zip(read, began, strict=True)))
    if errors:
        raise InputErrors(*errors)
    return tuple(found)


def scatter_of(columns: Iterable[Sequence[float]]) -> tuple[float, Scatter]:
    """Return the scatter of one fill from all that were repeated, and its name with the degrees of freedom."""
    scatter, degrees = pooled_scatter([fill - mean(fills) for fill in fills] for fills in columns if fills)
    return scatter, Scatter("Scatter of the readings", degrees)


def unit_of(columns: Iterable[tuple[Quantity, ...] | None]) -> str:
    """Return the unit that the readings were typed in."""
    return next((symbol_of(read[0]) for read in columns if read), "cm³")
