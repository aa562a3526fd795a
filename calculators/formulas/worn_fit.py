"""Wear of bores, gaps of rings and play of stems, from what a bore gauge, feelers and a dial read."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any


def taper_pair[T](across: Sequence[T], along: Sequence[T], size: Callable[[T], float]) -> tuple[T, T]:
    r"""Return the two readings whose difference is the taper of a bore.

    Parameters
    ----------
    across, along : sequence, [length]
        Diameters on two axes square to each other, at the same depths.
    size : callable
        Gives a reading's number; ``float`` for a plain one.

    Returns
    -------
    (greatest, least)
        Of the axis on which they differ more.

    Notes
    -----
    .. math:: t = \max_{axis}\left(\max_z d - \min_z d\right)

    A difference of diameters, as the trade reads it: the half angle's tangent is t divided by
    twice the distance between the depths.

    Examples
    --------
    >>> taper_pair((86.020, 86.000), (86.010, 86.000), float)
    (86.02, 86.0)
    """
    pairs = (
        (max(axis, key=size), min(reversed(axis), key=size)) for axis in (across, along)
    )  # alike: two all the same
    return max(pairs, key=lambda pair: size(pair[0]) - size(pair[1]))


def out_of_round_pair[T](across: Sequence[T], along: Sequence[T], size: Callable[[T], float]) -> tuple[T, T]:
    r"""Return the two readings at one depth whose difference is a bore's out-of-round.

    Parameters
    ----------
    across, along : sequence, [length]
        Diameters on two axes square to each other, at the same depths.
    size : callable
        Gives a reading's number; ``float`` for a plain one.

    Returns
    -------
    (greater, less)
        At the depth where they differ most.

    Notes
    -----
    .. math:: o = \max_z \left| d_{across} - d_{along} \right|

    A difference of diameters, twice what ISO 1101 calls roundness for an ellipse. A gauge with two
    points sees nothing of a bore with three lobes.

    Examples
    --------
    >>> out_of_round_pair((80.06, 80.04), (80.04, 80.05), float)
    (80.06, 80.04)
    """
    pairs = (
        (one, other) if size(one) >= size(other) else (other, one) for one, other in zip(across, along, strict=True)
    )
    return max(pairs, key=lambda pair: size(pair[0]) - size(pair[1]))


def closing_gap(bore: Any, ring: tuple[float, float], barrel: tuple[float, float]) -> Any:
    r"""Return how much of a ring's end gap closes between cold and hot.

    Parameters
    ----------
    bore : float or ufloat, [length]
        Diameter when cold.
    ring, barrel : (float, float)
        Linear coefficient, [1/K], and rise of temperature, [K], of each.

    Returns
    -------
    float or ufloat, [length]
        A ring with less gap than this when cold butts; negative where the barrel grows more.

    Notes
    -----
    .. math:: \Delta s = \pi d \left(\alpha_r \Delta T_r - \alpha_b \Delta T_b\right)

    Ring and barrel each at one temperature all round.

    Examples
    --------
    >>> round(closing_gap(86.0, (11.4e-6, 200.0), (11.4e-6, 0.0)), 3)
    0.616
    """
    return math.pi * bore * (ring[0] * ring[1] - barrel[0] * barrel[1])


def gap_of_wear(wear: Any) -> Any:
    r"""Return what a larger bore adds to a ring's end gap.

    Parameters
    ----------
    wear : float or ufloat, [length]
        Growth of the bore's diameter.

    Notes
    -----
    .. math:: \Delta s = \pi \, \Delta d

    Examples
    --------
    >>> round(gap_of_wear(0.1), 4)
    0.3142
    """
    return math.pi * wear


def rocked_clearance(rock: Any, guide: Any, overhang: Any) -> Any:
    r"""Return the clearance of a stem in its guide from how far the valve's head rocks.

    Parameters
    ----------
    rock : float or ufloat, [length]
        Whole movement from one side to the other.
    guide : float or ufloat, [length]
        Length of the guide's bore.
    overhang : float or ufloat, [length]
        From the guide's end to where the movement is read.

    Returns
    -------
    float or ufloat, [length]
        Guide's bore less stem's diameter.

    Notes
    -----
    .. math:: c = \frac{g \, l}{l + 2 a}

    The stem lies against opposite edges of the guide's two ends and turns about its middle. Holds
    for clearances that are small against the length; a guide worn like a trumpet reads as more.

    Examples
    --------
    >>> rocked_clearance(0.45, 46.0, 0.0)
    0.45
    >>> round(rocked_clearance(0.30, 40.0, 30.0), 3)
    0.12
    """
    return rock * guide / (guide + 2 * overhang)
