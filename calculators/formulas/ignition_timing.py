"""Dwell of contact breaker points, and an advance curve with what a timing light reads beside it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Any


def lobe_angle(lobes: int) -> float:
    """Return how far the distributor turns from one lobe to the next, in degrees.

    Examples
    --------
    >>> lobe_angle(4), lobe_angle(6)
    (90.0, 60.0)
    """
    return 360 / lobes


def dwell_share(dwell: Any, lobes: int) -> Any:
    r"""Return for what share of the time the points are closed, in per cent.

    Parameters
    ----------
    dwell : float or ufloat, [°]
        Of the distributor, points closed, lobe by lobe.
    lobes : int

    Notes
    -----
    .. math:: q = 100 \, \delta \, n / 360

    Examples
    --------
    >>> dwell_share(54.0, 4), dwell_share(36.0, 6)
    (60.0, 60.0)
    """
    return 100 * dwell / lobe_angle(lobes)


def dwell_angle(share: Any, lobes: int) -> Any:
    """Return the dwell of a share in per cent, in degrees of the distributor.

    Examples
    --------
    >>> [dwell_angle(60.0, lobes) for lobes in (4, 6, 8)]
    [54.0, 36.0, 27.0]
    """
    return share * lobe_angle(lobes) / 100


def spark_later(dwell_change: Any) -> Any:
    """Return by how many degrees of the crank the spark comes later when the dwell grows.

    Notes
    -----
    A lobe that is alike on both sides gives half of the change to the opening side, and the
    distributor of a four-stroke engine turns at half the crank's speed: the two halves cancel.

    Examples
    --------
    >>> spark_later(3.0)
    3.0
    """
    return dwell_change / 2 * 2


def gap_for(wanted: Any, first: tuple[Any, Any], second: tuple[Any, Any]) -> Any:
    r"""Return the gap that gives a dwell, from two gaps whose dwells were read.

    Parameters
    ----------
    wanted : float or ufloat, [°]
    first, second : (gap, dwell), [length], [°]
        The two dwells differ.

    Returns
    -------
    float or ufloat, [the gaps' unit]

    Notes
    -----
    .. math:: g = g_1 + (g_2 - g_1) \frac{\delta - \delta_1}{\delta_2 - \delta_1}

    Straight between the two: good for a few degrees, no farther.

    Examples
    --------
    >>> round(gap_for(50.0, (0.35, 53.0), (0.45, 48.0)), 6)
    0.41
    """
    (gap_1, dwell_1), (gap_2, dwell_2) = first, second
    return gap_1 + (gap_2 - gap_1) * ((wanted - dwell_1) / (dwell_2 - dwell_1))


def advance_at(speed: float, curve: Sequence[tuple[float, float]]) -> float:
    """Return the advance that a curve asks for at a speed.

    Parameters
    ----------
    speed : float, [any]
    curve : sequence of (speed, advance)
        Speeds rising; level before the first point and behind the last, straight between.

    Examples
    --------
    >>> curve = ((1000, 7.0), (3200, 30.0))
    >>> advance_at(850, curve), advance_at(2100, curve), advance_at(4000, curve)
    (7.0, 18.5, 30.0)
    """
    if speed <= curve[0][0]:
        return curve[0][1]
    for (low, early), (high, late) in itertools.pairwise(curve):
        if speed <= high:
            return early + (late - early) * (speed - low) / (high - low)
    return curve[-1][1]


def evening_shift(deviations: Sequence[float]) -> tuple[float, float]:
    """Return what to take off all deviations so that the largest left is as small as can be, and that largest.

    Notes
    -----
    Midway between the greatest and the least: any other shift leaves one of the two larger.

    Examples
    --------
    >>> evening_shift((1.0, 4.0, 2.5))
    (2.5, 1.5)
    """
    greatest, least = max(deviations), min(deviations)
    return (greatest + least) / 2, (greatest - least) / 2


def guarded_shift(deviations: Sequence[float], at_full: Sequence[float], tolerance: float) -> float:
    """Return what to take off all deviations to even them out, full advance never brought too early for it.

    Parameters
    ----------
    deviations : sequence of float, [°]
        All of them, read less wanted: plus is early.
    at_full : sequence of float, [°]
        Those among them at full advance; empty where it was not read.
    tolerance : float, [°]
        So much earlier than wanted, full advance is still right.

    Returns
    -------
    float, [°]
        A minus advances. It advances by no more than the earliest reading at full advance lacks, and takes off
        what that is too early.

    Notes
    -----
    Common practice, no source: where standing still and full advance cannot both be right, full advance
    guards the pistons.

    Examples
    --------
    >>> [guarded_shift((-6.0, full), (full,), 2.0) for full in (0.0, -1.0, -4.0, 3.0)]
    [0.0, -1.0, -4.0, 3.0]
    """
    even, _ = evening_shift(deviations)
    if not at_full:
        return even
    earliest = max(at_full)
    return max(even, 0.0 if 0 <= earliest <= tolerance else earliest)
