"""Volumes of the plain shapes that a chamber or a crown is made of, and of what a burette fills."""

from __future__ import annotations

import math
from typing import Any


def cap_volume(diameter: Any, height: Any) -> Any:
    r"""Return the volume of a spherical cap: a dome, or a dish.

    Parameters
    ----------
    diameter : Quantity, float or ufloat, [length]
        Of the round edge.
    height : Quantity, float or ufloat, [length]
        From the edge's plane to the highest place; up to half the diameter is a dome, beyond it overhangs.

    Returns
    -------
    Quantity, float or ufloat, [volume]
        Of the sign of ``height``.

    Notes
    -----
    .. math:: V = \frac{\pi h}{6} \left( 3 a^2 + h^2 \right) \qquad a = d / 2

    Examples
    --------
    >>> round(cap_volume(2.0, 1.0) / math.pi, 6)
    0.666667
    """
    return math.pi / 6 * height * (0.75 * diameter**2 + height**2)


def frustum_volume(wide: Any, narrow: Any, height: Any) -> Any:
    r"""Return the volume of a cone cut off square: a cone where ``narrow`` is 0, a cylinder where both are alike.

    Parameters
    ----------
    wide, narrow : Quantity, float or ufloat, [length]
        Diameters of the two ends, in any order.
    height : Quantity, float or ufloat, [length]
        Between the ends, square to them.

    Returns
    -------
    Quantity, float or ufloat, [volume]

    Notes
    -----
    .. math:: V = \frac{\pi h}{12} \left( D^2 + D d + d^2 \right)

    Examples
    --------
    >>> round(frustum_volume(2.0, 2.0, 1.0) / math.pi, 6), round(frustum_volume(2.0, 0.0, 1.0) / math.pi, 6)
    (1.0, 0.333333)
    """
    return math.pi / 12 * height * (wide**2 + wide * narrow + narrow**2)


def poured_volume(read: Any, expansion: float, warmer: Any) -> Any:
    r"""Return the room that a volume read off a burette takes once it has the head's temperature.

    Parameters
    ----------
    read : Quantity, float or ufloat, [volume]
    expansion : float, [1/K]
        Cubic expansion of the liquid.
    warmer : float or ufloat, [K]
        How much warmer the liquid in the burette is than the head.

    Returns
    -------
    Quantity, float or ufloat, [volume]

    Notes
    -----
    .. math:: V = V_{read} \left( 1 - \beta \, \Delta T \right)

    To the first order in βΔT; 0.02 % is missing at 15 K with spirit. The expansion of glass and head
    is left out: a hundredth and a tenth of the liquid's.

    Examples
    --------
    >>> round(poured_volume(50.0, 1.1e-3, 4.0), 3)
    49.78
    """
    return read * (1 - expansion * warmer)


def crown_volume(poured: Any, area: Any, depth: Any) -> Any:
    r"""Return what a crown adds to the room above it, from the liquid that stands on it.

    Parameters
    ----------
    poured : Quantity, float or ufloat, [volume]
        Liquid between the crown and the plate on the barrel's top.
    area : Quantity, float or ufloat, [length²]
        Of the bore.
    depth : Quantity, float or ufloat, [length]
        From the barrel's top down to the crown's edge.

    Returns
    -------
    Quantity, float or ufloat, [volume]
        Dish positive, dome negative.

    Notes
    -----
    .. math:: V_{crown} = V_{poured} - A \, h

    Examples
    --------
    >>> round(crown_volume(48.2, 50.265, 1.0), 3)
    -2.065
    """
    return poured - area * depth
