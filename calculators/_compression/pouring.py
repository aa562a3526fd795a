"""Volumes poured from one burette: its error limit is one error, the same in all of them."""

from __future__ import annotations

import math
from typing import Any

from uncertainties import UFloat, ufloat

from calculators._units import number_in
from calculators._verdict import best_of

COMMON = "Burette, common to all volumes"
"""What the error that the volumes share is called in a budget."""
_SQRT3 = math.sqrt(3)


class Pouring:
    """What all volumes of one bench share, and what each has of its own.

    Parameters
    ----------
    from_one : bool
        One burette filled them all.
    limit : Quantity, [volume]
        How far off a volume is at most that was typed without a ± of its own.
    own : Quantity, [volume]
        Of any volume's ±, so much at most is its own: the reading of the scale, the scatter of the fills.

    Notes
    -----
    A volume's standard uncertainty u is split into its own part w, and √(u² − w²), which is the burette's and moves
    all volumes the same way (JCGM 100:2008, 5.2.2, Note 1, and F.1.2.3). It adds up in chamber and crown of one
    cylinder, and drops out of the difference between two.
    """

    def __init__(self, from_one: bool, limit: Any, own: Any) -> None:
        self._limit = number_in(limit, "cm³")
        self._own = number_in(own, "cm³") / _SQRT3 if from_one else math.inf
        self._burette = ufloat(0.0, 1.0, COMMON)

    def volume(self, typed: Any, name: str) -> Any:
        """Return a volume in cm³ with its uncertainty: that typed with it, else the common limit's.

        Examples
        --------
        >>> from calculators._units import quantity
        >>> bench = Pouring(True, quantity(0.4, "cm³"), quantity(0.02, "cm³"))
        >>> one, other = (bench.volume(quantity(size, "cm³"), "Chamber") for size in (50.0, 50.5))
        >>> print(other - one, one + other)
        0.500+/-0.016 100.5+/-0.5
        """
        number = number_in(typed, "cm³")
        whole = float(number.std_dev) if isinstance(number, UFloat) else self._limit / _SQRT3
        own = min(whole, self._own)
        if isinstance(number, UFloat) and own == whole:
            return number
        shared = math.sqrt(max(whole**2 - own**2, 0.0))
        alone = ufloat(best_of(number), own, name) if own else best_of(number)
        return alone + shared * self._burette if shared else alone
