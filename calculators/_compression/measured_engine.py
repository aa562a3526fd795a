"""The engine as measured: what the readings of bore, chambers, decks and drawer come to."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

from uncertainties import UFloat

from calculators._burette import Pouring
from calculators._errors import FieldError, InputErrors
from calculators._units import figures, magnitude_in, number_in, printed, quantity, reading, symbol_of, unit
from calculators._words import word
from calculators.formulas.cylinder_volume import bore_area, clearance_volume, compression_ratio, swept_volume
from calculators.formulas.spacer_choice import GRAIN, Stack

_PER_MM = 0.1
"""One cm² of bore is so many cm³ for each millimetre of depth."""


@dataclass(frozen=True, slots=True)
class Cylinder:
    """One cylinder without spacer: as measured, and in best estimates for what is worked out over and over."""

    depth: Any  # deck height, mm, with its uncertainty
    clearance: Any  # volume, cm³, with its uncertainty
    room: float  # the best estimate of it
    gap: float  # deck clearance, mm
    length: float | None  # of the barrel, mm
    top: Any  # the same with its uncertainty; nought where all barrels are taken to be alike
    domed: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Spacer:
    """All spacers of one thickness."""

    thickness: Any
    size: float  # mm
    pieces: int
    row: int  # of the form, the first that has them
    stamp: str = ""  # thickness in words, without unit


@dataclass(frozen=True, kw_only=True, slots=True)
class Engine:
    """The engine as measured, the drawer sorted, and what is wanted, as typed."""

    heads: tuple[tuple[int, ...], ...]
    cylinders: tuple[Cylinder, ...]
    swept: Any  # volume, cm³, with its uncertainty
    swept_volume: Any  # the same, a Quantity
    area: Any  # of the bore, cm³ for each millimetre of depth, with its uncertainty
    gasket: Any  # thickness, mm, with its uncertainty
    displaced: float  # best estimate of the swept volume, cm³
    per_mm: float  # best estimate of the area
    least_gap: float  # deck clearance that is wanted at least, mm
    most_gap: float  # and at most; infinite where nothing was typed
    spacers: tuple[Spacer, ...]  # thinnest first
    unit: str  # of the drawer
    per_unit: float  # one mm in that unit
    places: int  # decimals of a thickness, as it is stamped
    wanted: Any  # what was typed of it: target, tolerance, least_deck, most_deck, height_tolerance, most_pieces …

    @property
    def band(self) -> tuple[float, float]:
        """The lowest and the highest ratio that are wanted."""
        return self.wanted.target - self.wanted.tolerance, self.wanted.target + self.wanted.tolerance

    def ratio(self, cylinder: int, height: float) -> float:
        """Return the ratio's best estimate on spacers of a height in mm."""
        return float(compression_ratio(self.displaced, self.cylinders[cylinder].room + self.per_mm * height))

    def misses(self, ratio: float) -> bool:
        """Tell whether a ratio is outside the wanted band."""
        return bool(abs(ratio - self.wanted.target) > self.wanted.tolerance + GRAIN)

    def height(self, stack: Stack) -> Any:
        """Return a stack's height in mm, with its uncertainty if a spacer has one."""
        return sum((number_in(self.spacers[size].thickness, "mm") for size in stack.pieces), start=0.0)

    def fitted(self, stack: Stack) -> str:
        """Return a stack in words, as the fingers pick it."""
        stamps = [self.spacers[size].stamp for size in stack.pieces]
        return f"{' + '.join(stamps)} {self.unit}" if stamps else word("none")


def best_estimate(number: Any) -> float:
    """Return a number without its uncertainty."""
    return float(number.nominal_value if isinstance(number, UFloat) else number)


def heads_of(inputs: SimpleNamespace) -> tuple[tuple[int, ...], ...]:
    """Return the cylinders under each head, counted from nought.

    Raises
    ------
    InputErrors
        Where a cylinder is missing, or named twice.
    """
    heads = tuple(tuple(number - 1 for number in head) for head in inputs.heads)
    if sorted(cylinder for head in heads for cylinder in head) != list(range(inputs.cylinders)):
        message = f"Cylinders under each head must name each cylinder from 1 to {inputs.cylinders} once"
        raise InputErrors(FieldError("heads", message))
    return heads


def read_engine(inputs: SimpleNamespace) -> Engine:
    """Attach the uncertainties to the readings, and sort the drawer.

    Raises
    ------
    InputErrors
        For what only the fields together can tell.
    """
    heads = heads_of(inputs)
    errors = []
    least_gap = magnitude_in(inputs.least_deck, "mm")
    most_gap = math.inf if inputs.most_deck is None else magnitude_in(inputs.most_deck, "mm")
    if most_gap < least_gap:
        least = printed(inputs.least_deck, symbol_of(inputs.least_deck))
        errors.append(FieldError("most_deck", f"Most deck clearance must be no less than the least, {least}"))
    for head in heads:
        blank = [cylinder for cylinder in head if inputs.barrel_length[cylinder] is None]
        known = next((inputs.barrel_length[cylinder] for cylinder in head if cylinder not in blank), None)
        for cylinder in blank if known is not None else ():
            message = (
                f"Enter the barrel length of cylinder {cylinder + 1}, in {unit(symbol_of(known)).words}, "
                "or leave it empty for every cylinder under that head"
            )
            errors.append(FieldError(f"barrel_length.{cylinder + 1}", message))
    bore = _read(inputs.bore, inputs.bore_error, "cm", "Bore")
    stroke = _read(inputs.stroke, inputs.bore_error, "cm", "Stroke")
    area, swept, gasket, gasket_volume = bore_area(bore) * _PER_MM, swept_volume(bore, stroke), 0.0, 0.0
    if inputs.gasket_thickness.magnitude != 0:
        gasket = _read(inputs.gasket_thickness, inputs.depth_error, "mm", "Gasket thickness")
        within = bore
        if inputs.gasket_bore is not None:
            within = _read(inputs.gasket_bore, inputs.bore_error, "cm", "Gasket bore")
        gasket_volume = bore_area(within) * _PER_MM * gasket
    pouring = Pouring(inputs.filled_from == "one", inputs.volume_error, inputs.volume_scatter)
    cylinders = []
    readings = zip(inputs.chamber, inputs.deck, inputs.crown, inputs.barrel_length, strict=True)
    for number, (chamber, deck, crown, length) in enumerate(readings, 1):
        of = f"of cylinder {number}"
        depth = _read(deck, inputs.depth_error, "mm", f"Deck height {of}")
        dish = 0.0
        if crown is not None and crown.magnitude != 0:
            dish = pouring.volume(crown, f"Crown volume {of}")
        room = pouring.volume(chamber, f"Chamber volume {of}")
        clearance = clearance_volume(room, area, depth, dish, gasket_volume)
        cylinders.append(
            Cylinder(
                depth=depth,
                clearance=clearance,
                room=best_estimate(clearance),
                gap=best_estimate(depth) + best_estimate(gasket),
                length=None if length is None else magnitude_in(length, "mm"),
                top=0.0 if length is None else _read(length, inputs.depth_error, "mm", f"Barrel length {of}"),
                domed=best_estimate(dish) < 0,
            )
        )
        if cylinders[-1].room <= 0:
            message = (
                f"Chamber volume of cylinder {number} must exceed what piston and crown take up of it; "
                "check the signs of deck height and crown volume"
            )
            errors.append(FieldError(f"chamber.{number}", message))
    if errors:
        raise InputErrors(*errors)
    spacers = _sorted_drawer(inputs)
    symbol = symbol_of(spacers[0].thickness) if spacers else "mm"
    stamped = [magnitude_in(spacer.thickness, symbol) for spacer in spacers]
    places = max([unit(symbol).places, *(len(f"{size:.4f}".rstrip("0").partition(".")[2]) for size in stamped)])
    return Engine(
        heads=heads,
        cylinders=tuple(cylinders),
        swept=swept,
        swept_volume=quantity(swept, "cm³"),
        area=area,
        gasket=gasket,
        displaced=best_estimate(swept),
        per_mm=best_estimate(area),
        least_gap=least_gap,
        most_gap=most_gap,
        spacers=tuple(
            replace(spacer, stamp=figures(size, places)) for spacer, size in zip(spacers, stamped, strict=True)
        ),
        unit=symbol,
        per_unit=magnitude_in(quantity(1.0, "mm"), symbol),
        places=places,
        wanted=inputs,
    )


def _read(value: Any, limit: Any, symbol: str, name: str) -> Any:
    """Return a reading in a unit; unless it was typed with an error limit of its own, it takes the common one."""
    number = number_in(value, symbol)
    return number if isinstance(number, UFloat) else reading(number, number_in(limit, symbol), name)


def _sorted_drawer(inputs: SimpleNamespace) -> list[Spacer]:
    """Put spacers of one thickness together, thinnest first."""
    drawer: dict[float, Spacer] = {}
    for row, (thickness, pieces) in enumerate(zip(inputs.thickness, inputs.pieces, strict=True), 1):
        size = round(magnitude_in(thickness, "mm"), 6)
        known = drawer.setdefault(size, Spacer(thickness=thickness, size=size, pieces=0, row=row))
        drawer[size] = replace(known, pieces=known.pieces + pieces)
    return sorted((spacer for spacer in drawer.values() if spacer.pieces), key=lambda spacer: spacer.size)
