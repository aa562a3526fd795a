"""The times that a product's sheet names."""

from __future__ import annotations

from calculators.bench import measure

_SEALERS = "sealers for engines"

open_time = measure("Open time", "min", 0.5, 1440, why=_SEALERS, exact=True, said="open {}")

setting = measure("Setting time", "min", 0, 10080, why=_SEALERS, exact=True, said="sets in {}")

cure = measure("Cure before oil", "h", 0, 336, why=_SEALERS, exact=True, said="cures in {}")
