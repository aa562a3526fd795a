"""How lengths, ratios and cylinders are named in the sentences about them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calculators.bench.units import figures, magnitude_in, unit
from calculators.bench.words import listed


def length(value: Any, symbol: str) -> str:
    """Return a length in words, without its uncertainty."""
    return f"{figures(magnitude_in(value, symbol), unit(symbol).places)} {symbol}"


def apart(value: float, limit: float, places: int = 2) -> tuple[str, str]:
    """Print two numbers with so many decimals that they do not look alike."""
    while places < 6 and figures(value, places) == figures(limit, places):
        places += 1
    return figures(value, places), figures(limit, places)


def named(cylinders: Sequence[int], noun: str) -> str:
    """Return "cylinder 1" or "cylinders 1, 2 and 3", from numbers counted from nought."""
    return f"{noun}{'s' if len(cylinders) > 1 else ''} {listed(cylinder + 1 for cylinder in cylinders)}"


def reached(ratios: Sequence[float]) -> str:
    """Return "7.58", or "7.53 to 7.61" where the cylinders differ."""
    low, high = figures(min(ratios), 2), figures(max(ratios), 2)
    return low if low == high else f"{low} to {high}"
