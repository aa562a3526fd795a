"""The engine on the spacers of a drawer: what is weighed, and each cylinder on its stack."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from calculators._compression.fitted_barrels import Barrel
from calculators._compression.measured_engine import Cylinder, Engine, Spacer
from calculators._units import bare, figures, unit
from calculators._verdict import best_of, verdict_on
from calculators.bench import (
    FieldError,
    InputErrors,
    Quantity,
    expanded,
    magnitude_in,
    printed,
    quantity,
    read_by_instrument,
    symbol_of,
)
from calculators.compression import measured
from calculators.formulas.cylinder_volume import compression_ratio, deck_clearance
from calculators.formulas.spacer_choice import HEIGHT_GRAIN, Question, Stack, stacks_of


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
        errors.append(FieldError("most_deck", f"Most deck clearance must be no less than the least, {at_least}"))
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


def fit(engine: Engine, stacks: Sequence[Stack]) -> list[Barrel]:
    """Put each cylinder on its stack, with the uncertainties of the readings."""
    low, high = engine.band
    heights = {stack: engine.height(stack) for stack in stacks}
    found = []
    for cylinder, stack in zip(engine.cylinders, stacks, strict=True):
        clearance = cylinder.clearance + engine.area * heights[stack]
        ratio = expanded(compression_ratio(engine.swept, clearance)).value
        gap = expanded(deck_clearance(cylinder.depth, heights[stack], engine.gasket)).value
        found.append(
            Barrel(
                stack=stack,
                height=quantity(heights[stack], "mm"),
                clearance=quantity(clearance, "cm³"),
                gap=quantity(gap, "mm"),
                gap_estimate=bare(gap)[0],
                gap_expanded=bare(gap)[1] or 0.0,
                ratio=ratio,
                best=bare(ratio)[0],
                expanded=bare(ratio)[1] or 0.0,
                verdict=verdict_on(ratio, low, high),
            )
        )
    return found
