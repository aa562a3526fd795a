"""Readings of one instrument: what it is off by is common to all of them, how finely it is read is each one's own."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from uncertainties import Variable, ufloat

from calculators._units import magnitude_in, number_in, uncertainty_in
from calculators.bench.entries import Quantity

_ROOT_3 = 3**0.5


def read_by_instrument(
    readings: Sequence[Quantity], symbol: str, *, instrument: str, limit: Quantity, read_to: Quantity | None = None
) -> tuple[Any, ...]:
    """Return readings as bare numbers, with what the instrument adds to their uncertainty.

    Parameters
    ----------
    readings : sequence of Quantity
        One that was typed with a ± of its own keeps that, and takes nothing of the instrument's.
    symbol : str
        The unit of the numbers, ``"cm³"``.
    instrument : str
        Which one (``"burette"``): all readings of it, in whatever question, share one error.
    limit : Quantity
        By how much it may be off, either way, the same for each reading.
    read_to : Quantity, optional
        By how much a single reading of its scale may be off, either way, each by itself.

    Returns
    -------
    tuple of float or AffineScalarFunc

    Notes
    -----
    Rectangular distributions, u = limit / √3. The common error drops out of a difference and adds up in a sum.

    References
    ----------
    JCGM 100:2008 (GUM), 4.3.7 (rectangular distribution), 5.2 and F.1.2.3 (correlated by one instrument).
    """
    common = common_error(instrument, magnitude_in(limit, symbol), symbol)
    own = magnitude_in(read_to, symbol) if read_to is not None else 0.0
    numbers = []
    for reading in readings:
        number = number_in(reading, symbol)
        if uncertainty_in(reading, symbol) is None:
            number = number + common + (ufloat(0, own / _ROOT_3, f"Reading the {instrument}") if own else 0.0)
        numbers.append(number)
    return tuple(numbers)


@lru_cache(maxsize=256)
def common_error(instrument: str, limit: float, symbol: str) -> Variable | float:
    """Return what one instrument is off by: nought, give or take its limit, the same object for all who ask."""
    return ufloat(0, limit / _ROOT_3, f"The {instrument}") if limit else 0.0
