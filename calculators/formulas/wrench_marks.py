"""Torque stages and the marks of a wrench."""

from __future__ import annotations

import math
from typing import Any


def even_shares(passes: int) -> tuple[float, ...]:
    """Return the shares of the target for so many even passes, the last one whole.

    Examples
    --------
    >>> [round(share, 3) for share in even_shares(3)]
    [0.333, 0.667, 1.0]
    """
    return tuple(number / passes for number in range(1, passes + 1))


def nip_shares(passes: int, nip: float) -> tuple[float, ...]:
    """Return the shares of the target for a small first pass and even passes from there, two passes or more in all.

    Parameters
    ----------
    passes : int
    nip : float
        What the first pass is of the target, below 1.

    Examples
    --------
    >>> [round(share, 3) for share in nip_shares(3, 0.2)]
    [0.2, 0.6, 1.0]
    """
    return (*(nip + (1 - nip) * number / (passes - 1) for number in range(passes - 1)), 1.0)


def nearest_mark(setting: Any, graduation: Any) -> Any:
    """Return the mark of a wrench nearest to a wanted setting; a half goes down, to the safe side.

    Parameters
    ----------
    setting, graduation : Quantity or float, [torque]
        What is wanted, and what one mark of the scale is worth; bare numbers in one unit.

    Returns
    -------
    Quantity or float
        In the graduation's unit; never below one graduation.

    Examples
    --------
    >>> from calculators import quantity, magnitude_in
    >>> magnitude_in(nearest_mark(quantity(11.4, "N·m"), quantity(1, "N·m")), "N·m")
    11.0
    >>> nearest_mark(11.4, 0.5)
    11.5
    """
    marks = float(setting / graduation)
    return max(math.ceil(marks - 0.5 - 1e-9), 1) * graduation
