"""λ: the gases it comes from, and what it means on a carburettor."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.bench import COMMON_PRACTICE, Column, ResultTable, Source, TableRow
from calculators.bench.units import bare
from calculators.formulas.exhaust_gas import air_ratio

LAMBDA = Source("J. Brettschneider (1979), as in UNECE Regulation No. 83, 5.3.7.3, constants for petrol", "memory")
MOST_OXYGEN = 20.95
"""Oxygen in dry air, % by volume: CO₂, O₂ and half the CO cannot pass it together."""

BANDS = (
    (
        0.0,
        0.80,
        "under 0.80",
        "far too rich: fuel washes the oil off the barrels",
        "smoke, soot, a float or choke fault",
    ),
    (0.80, 0.92, "0.80 to 0.92", "rich, as at full throttle", "coolest running, most power"),
    (0.92, 1.00, "0.92 to 1.00", "slightly rich, as at idle", "smooth idle"),
    (1.00, 1.08, "1.00 to 1.08", "slightly lean, as on a steady road", "least fuel"),
    (1.08, 99.0, "over 1.08", "lean, or air gets in", "spits back, runs hot; look for a leak before any jet"),
)
"""λ from, to; in words; what it means; what it goes with."""


@dataclass(frozen=True, slots=True)
class Gas:
    """What the analyser read, % by volume, each with its uncertainty; None where it was not read."""

    monoxide: Any
    dioxide: Any
    oxygen: Any
    fuel: Any

    @property
    def ratio(self) -> Any:
        """λ, or None where one of the gases is missing."""
        if self.monoxide is None or self.dioxide is None or self.oxygen is None:
            return None
        return air_ratio(self.monoxide, self.dioxide, self.oxygen, self.fuel)


def band_of(ratio: float) -> tuple[float, float, str, str, str]:
    """Return the row of ``BANDS`` in which λ lies."""
    return next(band for band in BANDS if band[0] <= ratio < band[1])


def guide(gas: Gas) -> ResultTable:
    """Return what λ means for an engine of this kind."""
    best = None if gas.ratio is None else bare(gas.ratio)[0]
    return ResultTable(
        key="guide",
        title="What λ means on a carburettor",
        columns=(
            Column(key="ratio", label="λ", strong=True),
            Column(key="means", label="Mixture", wide=True),
            Column(key="sign", label="Goes with", wide=True),
        ),
        rows=tuple(
            TableRow(cells=(words, means, sign), chosen=best is not None and low <= best < high)
            for low, high, words, means, sign in BANDS
        ),
        formula="λ below 1 is rich, above 1 lean; petrol burns completely with about 14.7 times its weight of air",
        source=COMMON_PRACTICE,
        folded=best is None,
    )
