"""A reading and its instrument: the common error limit, and the verdict with all of the uncertainty."""

from __future__ import annotations

from typing import Any

from uncertainties import UFloat

from calculators._units import bare, number_in, reading
from calculators.formulas.decision_rule import Verdict, judged

_GRAIN = 1e-9


def read_with(value: Any, limit: Any, symbol: str, name: str) -> Any:
    """Return a reading in a unit; unless it was typed with a ± of its own, it takes the instrument's.

    Parameters
    ----------
    value, limit : Quantity
        The reading, and how far off the instrument is at most.
    symbol : str
        As printed, ``"mm"``.
    name : str
        What was read, for the budget.

    Examples
    --------
    >>> from calculators._units import quantity
    >>> print(read_with(quantity(7.0, "bar"), quantity(0.2, "bar"), "bar", "Dry"))
    7.00+/-0.12
    """
    number = number_in(value, symbol)
    return number if isinstance(number, UFloat) else reading(number, number_in(limit, symbol), name)


def best_of(number: Any) -> float:
    """Return a number without its uncertainty."""
    return float(number.nominal_value if isinstance(number, UFloat) else number)


def expanded_of(number: Any) -> float:
    """Return the expanded uncertainty (k = 2) of a number, nought where it carries none."""
    return bare(number)[1] or 0.0


def verdict_on(number: Any, low: float | None = None, high: float | None = None) -> Verdict:
    """Judge a number by its limits with all of its uncertainty.

    Examples
    --------
    >>> verdict_on(6.9, low=6.5), verdict_on(reading(6.6, 0.2, "Dry"), low=6.5)
    ('in', 'too close to call')
    """
    return judged(best_of(number), expanded_of(number), low, high, grain=_GRAIN)
