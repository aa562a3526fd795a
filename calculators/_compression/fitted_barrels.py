"""Each cylinder on its spacers, worked out with the uncertainties of the readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators._compression.measured_engine import Engine
from calculators._units import bare, quantity
from calculators.formulas.cylinder_volume import compression_ratio, deck_clearance
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.spacer_choice import GRAIN, Stack


@dataclass(frozen=True, kw_only=True, slots=True)
class Barrel:
    """One cylinder on its stack; quantities and the ratio carry the readings' uncertainties."""

    stack: Stack
    height: Any  # Quantity
    clearance: Any  # volume, Quantity
    gap: Any  # deck clearance, Quantity
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
    """Put each cylinder on its stack."""
    low, high = engine.band
    heights = {stack: engine.height(stack) for stack in stacks}
    rooms = {stack: engine.area * height for stack, height in heights.items()}
    fitted = []
    for cylinder, stack in zip(engine.cylinders, stacks, strict=True):
        clearance = cylinder.clearance + rooms[stack]
        ratio = compression_ratio(engine.swept, clearance)
        best, expanded = bare(ratio)
        gap = deck_clearance(cylinder.depth, heights[stack], engine.gasket)
        gap_estimate, gap_expanded = bare(gap)
        fitted.append(
            Barrel(
                stack=stack,
                height=quantity(heights[stack], "mm"),
                clearance=quantity(clearance, "cm³"),
                gap=quantity(gap, "mm"),
                gap_estimate=gap_estimate,
                gap_expanded=gap_expanded or 0.0,
                ratio=ratio,
                best=best,
                expanded=expanded or 0.0,
                verdict=judged(best, expanded or 0.0, low, high, grain=GRAIN),
            )
        )
    return fitted
