"""The advance wanted, and what the light shows of it."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Any

from calculators.bench.verdict import best_of
from calculators.formulas.decision_rule import Verdict

Curve = tuple[tuple[float, float], ...]
"""Points of the curve wanted: r/min and degrees before top."""


@dataclass(frozen=True, slots=True)
class Light:
    """One reading of the light against the curve."""

    speed: float
    advance: Any
    wanted: float
    verdict: Verdict

    @property
    def deviation(self) -> Any:
        return self.advance - self.wanted


@dataclass(frozen=True, slots=True)
class Timing:
    """The curve wanted, and all readings of the light, the slowest first."""

    curve: Curve
    tolerance: float
    full: float
    readings: tuple[Light, ...]
    shift: float | None  # to take off all readings, by turning the distributor
    rest: float | None  # largest deviation that is then left
    guarded: bool  # evening all readings out would bring full advance too early
    full_read: bool  # the light was read at full advance


def runs_back(timing: Timing) -> bool:
    """Tell whether the advance falls by more than the tolerance somewhere while the speed rises."""
    return any(
        best_of(later.advance) < best_of(earlier.advance) - timing.tolerance
        for earlier, later in itertools.pairwise(timing.readings)
    )
