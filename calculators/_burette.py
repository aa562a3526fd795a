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
        How far off it is at most, the same in each volume that was typed without a ± of its own.
    scatter : Quantity, [volume]
        How far each is off besides: the reading of the scale, from one fill to the next.

    Notes
    -----
    A ± typed with a volume is the whole of it. It is split into the scatter, which is the volume's own, and the rest,
    which is the burette's and moves all volumes the same way (JCGM 100:2008, 5.2.2, Note 1, and 5.2.4). That adds up
    in chamber and crown of one cylinder, and drops out of the difference between two.
    """

    def __init__(self, from_one: bool, limit: Any, scatter: Any) -> None:
        self._from_one = from_one
        self._limit = number_in(limit, "cm³") / _SQRT3
        self._scatter = number_in(scatter, "cm³") / _SQRT3
        self._burette = ufloat(0.0, 1.0, COMMON)

    def volume(self, typed: Any, name: str) -> Any:
        """Return a volume in cm³ with its uncertainty: that typed with it, else the burette's and its own.

        Examples
        --------
        >>> from calculators._units import quantity
        >>> bench = Pouring(True, quantity(0.4, "cm³"), quantity(0.02, "cm³"))
        >>> one, other = (bench.volume(quantity(size, "cm³"), "Chamber") for size in (50.0, 50.5))
        >>> print(other - one, one + other)
        0.500+/-0.016 100.5+/-0.5
        """
        number = number_in(typed, "cm³")
        shared, own = self._limit, self._scatter
        if isinstance(number, UFloat):
            whole = float(number.std_dev)
            if not self._from_one or whole <= own:
                return number
            shared = math.sqrt(whole**2 - own**2)
        if not self._from_one:
            shared, own = 0.0, math.hypot(shared, own)
        alone = ufloat(best_of(number), own, name) if own else best_of(number)
        return alone + shared * self._burette if shared else alone
