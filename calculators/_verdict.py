"""A reading and its instrument: the common error limit, and the verdict with all of the uncertainty."""

from __future__ import annotations

from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True)
class Instrument:
    """One instrument at work: its error limit is one unknown, common to all that it reads.

    Parameters
    ----------
    error : ufloat or float
        How far it is off, mean nought, in ``symbol``; the same in each reading.
    scatter : float
        How far one reading is off besides, at most; each has its own.
    symbol : str
        The unit it is taken in; empty for a bare number.

    References
    ----------
    JCGM 100:2008 (GUM), 5.2.4: one instrument makes its readings' errors alike.
    """

    error: Any
    scatter: float
    symbol: str

    def read(self, value: Any, name: str) -> Any:
        """Return a reading as a bare number; a ± typed with it wins over the instrument's.

        Examples
        --------
        >>> from calculators._units import quantity
        >>> gauge = instrument("Error limit of the gauge", 0.2, "bar")
        >>> one, other = (gauge.read(quantity(seen, "bar"), "Dry") for seen in (7.0, 6.5))
        >>> print(one, (one + other) / 2, one - other)
        7.00+/-0.12 6.75+/-0.12 0.5+/-0
        """
        number = number_in(value, self.symbol) if self.symbol else value
        if isinstance(number, UFloat):
            return number
        return number + self.error + reading(0.0, self.scatter, name)


def instrument(name: str, limit: Any, symbol: str = "", scatter: Any = 0.0) -> Instrument:
    """Take an instrument in hand.

    Parameters
    ----------
    name : str
        For the budget: what its limit is called.
    limit, scatter : Quantity or float
        How far off it is at most, always alike, and from one reading to the next; bare ones are in ``symbol``.
    symbol : str, optional
    """
    off, spread = (float(one) if isinstance(one, int | float) else number_in(one, symbol) for one in (limit, scatter))
    return Instrument(reading(0.0, off, name), spread, symbol)


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
