"""A number apart from its uncertainty, and the verdict with all of it."""

from __future__ import annotations

from typing import Any

from uncertainties import UFloat

from calculators.bench.units import bare
from calculators.formulas.decision_rule import Verdict, judged

_GRAIN = 1e-9


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
    >>> from uncertainties import ufloat
    >>> verdict_on(6.9, low=6.5), verdict_on(ufloat(6.6, 0.1), low=6.5)
    ('in', 'too close to call')
    """
    return judged(best_of(number), expanded_of(number), low, high, grain=_GRAIN)
