"""The engine as measured: what the readings of bore, chambers, decks and drawer come to."""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

from uncertainties import UFloat

from calculators._errors import FieldError, InputErrors
from calculators._units import bare, figures, magnitude_in, number_in, reading, symbol_of, unit
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
    area: Any  # of the bore, cm³ for each millimetre of depth, with its uncertainty
    gasket: Any  # thickness, mm, with its uncertainty
    displaced: float  # best estimate of the swept volume, cm³
    per_mm: float  # best estimate of the area
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
        """Return a stack's height in mm, with its uncertainty if a spacer has one."""
        return sum((number_in(self.spacers[size].thickness, "mm") for size in stack.pieces), start=0.0)

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
        known = next((inputs.barrel_length[cylinder] for cylinder in head if cylinder not in blank), None)
        for cylinder in blank if known is not None else ():
            message = (
                f"Enter the barrel length of cylinder {cylinder + 1}, in {unit(symbol_of(known)).words}, "
                "or leave it empty for every cylinder under that head"
            )
            errors.append(FieldError(f"barrel_length.{cylinder + 1}", message))
    bore, stroke = _read(inputs.bore, inputs.bore_error, "cm"), _read(inputs.stroke, inputs.bore_error, "cm")
    area, swept, gasket, gasket_volume = bore_area(bore) * _PER_MM, swept_volume(bore, stroke), 0.0, 0.0
    if inputs.gasket_thickness.magnitude != 0:
        gasket = _read(inputs.gasket_thickness, inputs.depth_error, "mm")
        within = bore if inputs.gasket_bore is None else _read(inputs.gasket_bore, inputs.bore_error, "cm")
        gasket_volume = bore_area(within) * _PER_MM * gasket
    cylinders = []
    readings = zip(inputs.chamber, inputs.deck, inputs.crown, inputs.barrel_length, strict=True)
    for number, (chamber, deck, crown, length) in enumerate(readings, 1):
        depth = _read(deck, inputs.depth_error, "mm")
        dish = 0.0 if crown is None or crown.magnitude == 0 else _read(crown, inputs.volume_error, "cm³")
        clearance = clearance_volume(_read(chamber, inputs.volume_error, "cm³"), area, depth, dish, gasket_volume)
        cylinders.append(
            Cylinder(
                depth=depth,
                clearance=clearance,
                room=bare(clearance)[0],
                gap=bare(depth)[0] + bare(gasket)[0],
                length=None if length is None else magnitude_in(length, "mm"),
                domed=bare(dish)[0] < 0,
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
        area=area,
        gasket=gasket,
        displaced=bare(swept)[0],
        per_mm=bare(area)[0],
        least_gap=magnitude_in(inputs.least_deck, "mm"),
        spacers=tuple(
            replace(spacer, stamp=figures(size, places)) for spacer, size in zip(spacers, stamped, strict=True)
        ),
        unit=symbol,
        places=places,
        wanted=inputs,
    )


def _read(value: Any, limit: Any, symbol: str) -> Any:
    """Return a reading in a unit; unless it was typed with an error limit of its own, it takes the common one."""
    number = number_in(value, symbol)
    return number if isinstance(number, UFloat) else reading(number, number_in(limit, symbol))


def _sorted_drawer(inputs: SimpleNamespace) -> list[Spacer]:
    """Put spacers of one thickness together, thinnest first."""
    drawer: dict[float, Spacer] = {}
    for row, (thickness, pieces) in enumerate(zip(inputs.thickness, inputs.pieces, strict=True), 1):
        size = round(magnitude_in(thickness, "mm"), 6)
        known = drawer.setdefault(size, Spacer(thickness=thickness, size=size, pieces=0, row=row))
        drawer[size] = replace(known, pieces=known.pieces + pieces)
    return sorted((spacer for spacer in drawer.values() if spacer.pieces), key=lambda spacer: spacer.size)
