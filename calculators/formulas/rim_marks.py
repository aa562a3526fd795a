"""Marks on the rim of a pulley, and top dead centre from a positive stop met both ways."""

from __future__ import annotations

import math
from typing import Any

from uncertainties import UFloat, umath

TURN = 360.0
"""One turn, [°]."""


def unsigned(number: Any) -> Any:
    """Return a number without its sign, with its uncertainty if it carries one.

    Examples
    --------
    >>> unsigned(-3.5), unsigned(0.0)
    (3.5, 0.0)
    """
    best = number.nominal_value if isinstance(number, UFloat) else number
    return -number if best < 0 else number


def rim_distance(angle: Any, diameter: Any) -> Any:
    r"""Return how long an angle is along the rim.

    Parameters
    ----------
    angle : float or ufloat, [°]
    diameter : float or ufloat, [length]

    Returns
    -------
    float or ufloat, [the same unit]

    Notes
    -----
    .. math:: s = \pi d \, a / 360

    Examples
    --------
    >>> round(rim_distance(10, 140.0), 6)
    12.217305
    """
    return angle * (math.pi / TURN) * diameter


def rim_chord(angle: Any, diameter: Any) -> Any:
    r"""Return how far apart two points of the rim stand in a straight line, as dividers span it.

    Parameters
    ----------
    angle : float or ufloat, [°]
    diameter : float or ufloat, [length]

    Notes
    -----
    .. math:: c = d \left| \sin (a / 2) \right|

    Examples
    --------
    >>> round(rim_chord(60, 168.0), 6), round(rim_chord(-180, 168.0), 6)
    (84.0, 168.0)
    """
    return unsigned(umath.sin(angle * (math.pi / TURN))) * diameter


def rim_angle(distance: Any, diameter: Any) -> Any:
    """Return the angle that a distance along the rim is worth, in degrees.

    Examples
    --------
    >>> round(rim_angle(12.217305, 140.0), 6)
    10.0
    """
    return distance * TURN / (math.pi * diameter)


def nearest_turn(angle: Any) -> Any:
    """Return an angle in degrees with whole turns taken off, above −180 and up to 180.

    Examples
    --------
    >>> nearest_turn(325.0), nearest_turn(-180.0), nearest_turn(540.0)
    (-35.0, 180.0, 180.0)
    """
    best = angle.nominal_value if isinstance(angle, UFloat) else angle
    return angle - TURN * math.ceil((best - TURN / 2) / TURN)


def stop_middle(forwards: Any, backwards: Any) -> tuple[Any, Any]:
    r"""Return where top dead centre is, from where the piston meets a stop turned either way.

    Parameters
    ----------
    forwards, backwards : float or ufloat, [°]
        On the wheel, where the crank comes to rest turned the engine's own way and against it.

    Returns
    -------
    middle : float or ufloat, [°]
        On the wheel, above −180 and up to 180.
    half : float or ufloat, [°]
        From the middle to either reading.

    Notes
    -----
    .. math:: m = \frac{f + b}{2} \qquad h = \frac{|b - f|}{2}

    The piston comes down alike on both sides of the top, so that the top is midway. Of the two
    middles of a circle it is the one in the shorter arc: the stop must reach down less than half way.

    Examples
    --------
    >>> stop_middle(325.0, 35.0), stop_middle(-32.5, 38.5)
    ((0.0, 35.0), (3.0, 35.5))
    """
    between = nearest_turn(backwards - forwards)
    return nearest_turn(forwards + between / 2), unsigned(between) / 2


def crank_angle(travel: Any, stroke: Any, rod: Any) -> Any:
    r"""Return how far the crank stands from top dead centre when the piston has come down by ``travel``.

    Parameters
    ----------
    travel : float or ufloat, [length]
        From nought to the stroke.
    stroke, rod : float or ufloat, [the same unit]
        Stroke, and rod between the middles of its eyes; ``rod`` above half the stroke.

    Returns
    -------
    float or ufloat, [°]
        The same to either side.

    Notes
    -----
    .. math::
        \cos\theta = \frac{h^2 + r^2 - l^2}{2 h r} \qquad h = r + l - x \qquad r = s / 2

    The law of cosines in the triangle of crank, rod and their common axis.

    Examples
    --------
    >>> round(crank_angle(10.0, 86.0, 143.0), 5), round(crank_angle(20.0, 86.0, 143.0), 5)
    (35.14944, 51.14537)
    """
    crank = stroke / 2
    height = crank + rod - travel
    return umath.acos((height**2 + crank**2 - rod**2) / (2 * height * crank)) * (180 / math.pi)
