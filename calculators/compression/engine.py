"""The engine as measured, beside a drawer of spacers: what the search for the best stacks weighs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from calculators.bench import (
    FieldError,
    InputErrors,
    Quantity,
    magnitude_in,
    number_in,
    printed,
    quantity,
    read_by_instrument,
    symbol_of,
)
from calculators.bench.units import figures, unit
from calculators.bench.verdict import best_of
from calculators.bench.words import word
from calculators.compression import measured
from calculators.formulas.cylinder_volume import compression_ratio
from calculators.formulas.spacer_choice import GRAIN, HEIGHT_GRAIN, Question, Stack, stacks_of


@dataclass(frozen=True, kw_only=True, slots=True)
class Wanted:
    """What is wanted of the spacers."""

    target: float
    tolerance: float
    least_deck: Quantity
    most_deck: Quantity | None
    height_tolerance: Quantity
    most_pieces: int
    thickness: tuple[Quantity, ...]


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

    thickness: Quantity
    size: float  # mm
    pieces: int
    row: int  # of the drawer, the first that has them
    stamp: str = ""  # thickness in words, without unit


@dataclass(frozen=True, kw_only=True, slots=True)
class Engine:
    """The engine as measured, the drawer sorted, and what is wanted."""

    heads: tuple[tuple[int, ...], ...]
    cylinders: tuple[Cylinder, ...]
    swept: Any  # volume, cm³, with its uncertainty
    swept_volume: Quantity
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
    wanted: Wanted

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


def engine_of(
    without: measured.Measured,
    rows: Sequence[measured.Barrel],
    heads: tuple[tuple[int, ...], ...],
    drawer: Sequence[tuple[Quantity, int]],
    wanted: Wanted,
    depth_error: Quantity,
) -> Engine:
    """Return the engine as the search takes it.

    Raises
    ------
    InputErrors
        For what only the entries together can tell.
    """
    least = magnitude_in(wanted.least_deck, "mm")
    most = math.inf if wanted.most_deck is None else magnitude_in(wanted.most_deck, "mm")
    errors = []
    if most < least:
        at_least = printed(wanted.least_deck, symbol_of(wanted.least_deck))
        errors.append(FieldError("most_deck", f"Most deck clearance must be at least the least, {at_least}"))
    errors += _lengths_lacking(rows, heads)
    if errors:
        raise InputErrors(*errors)
    spacers = _sorted(drawer)
    symbol = symbol_of(spacers[0].thickness) if spacers else "mm"
    stamped = [magnitude_in(spacer.thickness, symbol) for spacer in spacers]
    places = max([unit(symbol).places, *(len(f"{size:.4f}".rstrip("0").partition(".")[2]) for size in stamped)])
    return Engine(
        heads=heads,
        cylinders=tuple(
            _cylinder(of, row, without.gasket, depth_error) for of, row in zip(without.cylinders, rows, strict=True)
        ),
        swept=without.swept,
        swept_volume=quantity(without.swept, "cm³"),
        area=without.area,
        gasket=without.gasket,
        displaced=best_of(without.swept),
        per_mm=best_of(without.area),
        least_gap=least,
        most_gap=most,
        spacers=tuple(
            replace(spacer, stamp=figures(size, places)) for spacer, size in zip(spacers, stamped, strict=True)
        ),
        unit=symbol,
        per_unit=magnitude_in(quantity(1.0, "mm"), symbol),
        places=places,
        wanted=wanted,
    )


def _cylinder(of: measured.Bare, row: measured.Barrel, gasket: Any, depth_error: Quantity) -> Cylinder:
    top: Any = 0.0
    if row.barrel_length is not None:  # each length is a setting of the calliper of its own
        top = read_by_instrument([row.barrel_length], "mm", instrument="calliper", limit=depth_error, one=False)[0]
    return Cylinder(
        depth=of.depth,
        clearance=of.clearance,
        room=best_of(of.clearance),
        gap=best_of(of.depth) + best_of(gasket),
        length=None if row.barrel_length is None else magnitude_in(row.barrel_length, "mm"),
        top=top,
        domed=of.domed,
    )


def _lengths_lacking(rows: Sequence[measured.Barrel], heads: Sequence[Sequence[int]]) -> Iterator[FieldError]:
    for head in heads:
        blank = [cylinder for cylinder in head if rows[cylinder].barrel_length is None]
        known = next((rows[cylinder].barrel_length for cylinder in head if cylinder not in blank), None)
        for cylinder in blank if known is not None else ():
            yield FieldError(
                f"barrel_length.{cylinder + 1}",
                f"Enter the barrel length of cylinder {cylinder + 1}, in {unit(symbol_of(known)).words}, "
                "or leave it empty for every cylinder under that head",
            )


def _sorted(drawer: Sequence[tuple[Quantity, int]]) -> list[Spacer]:
    """Put spacers of one thickness together, thinnest first."""
    found: dict[float, Spacer] = {}
    for row, (thickness, pieces) in enumerate(drawer, 1):
        size = round(magnitude_in(thickness, "mm"), 6)
        known = found.setdefault(size, Spacer(thickness=thickness, size=size, pieces=0, row=row))
        found[size] = replace(known, pieces=known.pieces + pieces)
    return sorted((spacer for spacer in found.values() if spacer.pieces), key=lambda spacer: spacer.size)


def question_of(engine: Engine, wanted: Wanted) -> Question:
    """Return what the search is to weigh."""
    stacks = stacks_of(tuple(spacer.size for spacer in engine.spacers), wanted.most_pieces)
    least, most = engine.least_gap - HEIGHT_GRAIN, engine.most_gap + HEIGHT_GRAIN
    return Question(
        heads=engine.heads,
        stacks=stacks,
        stock=tuple(spacer.pieces for spacer in engine.spacers),
        deviations=tuple(
            tuple(abs(engine.ratio(cylinder, stack.height) - wanted.target) for stack in stacks)
            for cylinder in range(len(engine.cylinders))
        ),
        allowed=tuple(
            tuple(least <= cylinder.gap + stack.height <= most for stack in stacks) for cylinder in engine.cylinders
        ),
        lengths=tuple(cylinder.length or 0.0 for cylinder in engine.cylinders),
        level=magnitude_in(wanted.height_tolerance, "mm"),
    )
