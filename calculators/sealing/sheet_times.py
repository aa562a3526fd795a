"""The times that a product's sheet names."""

from __future__ import annotations

from typing import Any

from calculators.bench import Entry, Quantity, measure

_SEALERS = "sealers for engines"


def open_time(**facts: Any) -> Entry[Quantity]:
    """Ask how long the bead stays open; ``facts`` as ``Facts`` has them."""
    return measure("Open time", "min", 0.5, 1440, why=_SEALERS, exact=True, said="open {}", **facts)


def setting(**facts: Any) -> Entry[Quantity]:
    """Ask how long it sets, from the last bolt."""
    return measure("Setting time", "min", 0, 10080, why=_SEALERS, exact=True, said="sets in {}", **facts)


def cure(**facts: Any) -> Entry[Quantity]:
    """Ask how long it cures before oil, from the last bolt."""
    return measure("Cure before oil", "h", 0, 336, why=_SEALERS, exact=True, said="cures in {}", **facts)
