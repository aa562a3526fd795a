"""The engine as measured: what the readings of bore, chambers, decks and drawer come to."""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

from uncertainties import UFloat

from calculators._errors import FieldError, InputErrors
from calculators._units import figures, magnitude_in, measured, quantity, symbol_of, unit
from calculators.formulas.cylinder_volume import (
    bore_area,
    clearance_volume,
    compression_ratio,
    swept_volume,
)
from calculators.formulas.spacer_choice import (
    GRAIN,
    Stack,
)


@dataclass(frozen=True, slots=True)
class Cylinder:
    """One cylinder without spacer: as measured, and in bare best estimates for what is worked out over and over."""

    depth: Any  # deck height
    clearance: Any  # volume
    room: float  # the same, cm³
    gap: float  # deck clearance, mm
    length: float | None  # of the barrel, mm


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
    swept: Any
    area: Any
    gasket: Any  # thickness
    displaced: float  # swept volume, cm³
    per_mm: float  # volume of one millimetre of bore, cm³
    least_gap: float  # deck clearance that is wanted at least, mm
    spacers: tuple[Spacer, ...]  # thinnest first
    unit: str  # of the drawer
    places: int  # decimals of a thickness, as it is stamped
    wanted: SimpleNamespace

    def ratio(self, cylinder: int, height: float) -> float:
        """Return the ratio's best estimate on spacers of a height in mm."""
        return float(compression_ratio(self.displaced, self.cylinders[cylinder].room + self.per_mm * height))

    def misses(self, ratio: float) -> bool:
        """Tell whether a ratio is outside the wanted band."""
        return bool(abs(ratio - self.wanted.target) > self.wanted.tolerance + GRAIN)

    def height(self, stack: Stack) -> Any:
        return sum((self.spacers[size].thickness for size in stack.pieces), start=quantity(0.0, self.unit))

    def fitted(self, stack: Stack) -> str:
        """Return a stack in words, as the fingers pick it."""
        stamps = [self.spacers[size].stamp for size in stack.pieces]
        return f"{' + '.join(stamps)} {self.unit}" if stamps else "none"


def read_engine(inputs: SimpleNamespace) -> Engine:
    """Attach the uncertainties to the readings, and sort the drawer.

    Raises
    ------
    InputErrors
        For what only the fields together can tell.
    """
    heads = tuple(tuple(number - 1 for number in head) for head in inputs.heads)
    if sorted(cylinder for head in heads for cylinder in head) != list(range(inputs.cylinders)):
        message = f"Cylinders under each head must name each cylinder from 1 to {inputs.cylinders} once"
        raise InputErrors(FieldError("heads", message))
    errors = []
    for head in heads:
        blank = [cylinder for cylinder in head if inputs.barrel_length[cylinder] is None]
        for cylinder in blank if len(blank) < len(head) else ():
            message = (
                f"Enter the barrel length of cylinder {cylinder + 1}, in millimetres, "
                "or leave it empty for every cylinder under that head"
            )
            errors.append(FieldError(f"barrel_length.{cylinder + 1}", message))
    bore, stroke = _read(inputs.bore, inputs.bore_error), _read(inputs.stroke, inputs.bore_error)
    area, swept, gasket, gasket_volume = bore_area(bore), swept_volume(bore, stroke), inputs.gasket_thickness, 0
    if gasket.magnitude != 0:
        gasket = _read(gasket, inputs.depth_error)
        within = bore if inputs.gasket_bore is None else _read(inputs.gasket_bore, inputs.bore_error)
        gasket_volume = bore_area(within) * gasket
    cylinders = []
    readings = zip(inputs.chamber, inputs.deck, inputs.crown, inputs.barrel_length, strict=True)
    for number, (chamber, deck, crown, length) in enumerate(readings, 1):
        depth = _read(deck, inputs.depth_error)
        dish = 0 if crown is None or crown.magnitude == 0 else _read(crown, inputs.volume_error)
        clearance = clearance_volume(_read(chamber, inputs.volume_error), area, depth, dish, gasket_volume)
        gap = magnitude_in(depth, "mm") + magnitude_in(gasket, "mm")
        cylinders.append(
            Cylinder(depth, clearance, magnitude_in(clearance, "cm³"), gap, length and magnitude_in(length, "mm"))
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
        area=area,
        gasket=gasket,
        displaced=magnitude_in(swept, "cm³"),
        per_mm=magnitude_in(area * quantity(1.0, "mm"), "cm³"),
        least_gap=magnitude_in(inputs.least_deck, "mm"),
        spacers=tuple(
            replace(spacer, stamp=figures(size, places)) for spacer, size in zip(spacers, stamped, strict=True)
        ),
        unit=symbol,
        places=places,
        wanted=inputs,
    )


def _read(reading: Any, limit: Any) -> Any:
    """Attach the error limit to a reading, unless it was typed with one of its own."""
    return reading if isinstance(reading.magnitude, UFloat) else measured(reading, limit)


def _sorted_drawer(inputs: SimpleNamespace) -> list[Spacer]:
    """Put spacers of one thickness together, thinnest first."""
    drawer: dict[float, Spacer] = {}
    for row, (thickness, pieces) in enumerate(zip(inputs.thickness, inputs.pieces, strict=True), 1):
        size = round(magnitude_in(thickness, "mm"), 6)
        known = drawer.setdefault(size, Spacer(thickness=thickness, size=size, pieces=0, row=row))
        drawer[size] = replace(known, pieces=known.pieces + pieces)
    return sorted((spacer for spacer in drawer.values() if spacer.pieces), key=lambda spacer: spacer.size)
