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


def verdict_on(number: Any, low: Any = None, high: Any = None) -> Verdict:
    """Judge a number by its limits with all of its uncertainty, and that of a limit which has one of its own.

    Examples
    --------
    >>> from uncertainties import ufloat
    >>> verdict_on(6.9, low=6.5), verdict_on(ufloat(6.6, 0.1), low=6.5)
    ('in', 'too close to call')
    >>> verdict_on(6.9, low=ufloat(6.5, 0.1)), verdict_on(6.6, low=ufloat(6.5, 0.1))
    ('in', 'too close to call')
    """
    if isinstance(low, UFloat) or isinstance(high, UFloat):
        sides: set[Verdict] = set()
        if low is not None:
            sides.add(verdict_on(number - low, low=0.0))
        if high is not None:
            sides.add(verdict_on(number - high, high=0.0))
        return "out" if "out" in sides else "in" if sides == {"in"} else "too close to call"
    return judged(best_of(number), expanded_of(number), low, high, grain=_GRAIN)
