"""How far apart the barrel tops under a head stand on their spacers, and whether that is level."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from uncertainties import UFloat, ufloat

from calculators.bench import magnitude_in, number_in
from calculators.bench.units import bare
from calculators.bench.verdict import best_of
from calculators.compression.engine import Engine
from calculators.compression.fitted import Barrel
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.spacer_choice import HEIGHT_GRAIN


@dataclass(frozen=True, slots=True)
class Step:
    """The step under one head: its cylinders, how far the two tops farthest apart stand apart, and the verdict."""

    head: tuple[int, ...]
    apart: Any  # mm
    verdict: Verdict


def steps(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[Step]:
    """Yield the step under each head of more than one barrel, on stacks of spacers."""
    yield from steps_between(engine, [_top(engine, cylinder, barrel) for cylinder, barrel in enumerate(fitted)])


def steps_between(engine: Engine, tops: Sequence[Any]) -> Iterator[Step]:
    """Yield the step under each head of more than one barrel, from the height of every top in mm.

    Two tops that stand apart by less, but are known worse, count where their step may be the wider one.
    """
    level = magnitude_in(engine.wanted.height_tolerance, "mm")
    for head in engine.heads:
        if len(head) < 2:
            continue
        pairs = [
            one - other if best_of(one) >= best_of(other) else other - one
            for one, other in itertools.combinations([tops[cylinder] for cylinder in head], 2)
        ]
        apart = max(pairs, key=lambda step: sum(_interval(step)))
        best, expanded = _interval(apart)
        yield Step(head, apart, judged(best, expanded, high=level, grain=HEIGHT_GRAIN))


def _interval(step: Any) -> tuple[float, float]:
    best, expanded = bare(step)
    return best, expanded or 0.0


def _top(engine: Engine, cylinder: int, barrel: Barrel) -> Any:
    """Return the height of a barrel's top, mm; two pieces of one thickness are off each on its own."""
    pieces = [number_in(engine.spacers[size].thickness, "mm") for size in barrel.stack.pieces]
    each = (
        ufloat(piece.nominal_value, piece.std_dev, f"Thickness under cylinder {cylinder + 1}")
        if isinstance(piece, UFloat)
        else piece
        for piece in pieces
    )
    return sum(each, start=engine.cylinders[cylinder].top)
