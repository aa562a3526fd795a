"""Each cylinder on its spacers, with the uncertainties of the readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import Quantity, expanded, quantity
from calculators.bench.units import bare
from calculators.bench.verdict import verdict_on
from calculators.compression.engine import Engine
from calculators.formulas.cylinder_volume import compression_ratio, deck_clearance
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.spacer_choice import Stack


@dataclass(frozen=True, kw_only=True, slots=True)
class Barrel:
    """One cylinder on its stack; quantities and the ratio carry the readings' uncertainties."""

    stack: Stack
    height: Quantity
    clearance: Quantity  # volume
    gap: Quantity  # deck clearance
    gap_estimate: float
    gap_expanded: float  # uncertainty, k = 2
    ratio: Any
    best: float  # estimate of the ratio
    expanded: float  # uncertainty of it, k = 2
    verdict: Verdict  # on the ratio

    @property
    def least_gap(self) -> float:
        """The lower end of the deck clearance's interval, mm."""
        return self.gap_estimate - self.gap_expanded


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
