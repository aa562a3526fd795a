"""What moves when a head stands further out: pushrods, tubes, rockers, flanges."""

from __future__ import annotations

import math
from typing import Any

from uncertainties import UFloat, umath


def span_after(span: Any, slope: float, shift: Any) -> Any:
    r"""Return the distance between a point of the case and one of the head, after the head has moved out.

    Parameters
    ----------
    span : float or ufloat, [length]
        Before.
    slope : float, [°]
        Between the line from one point to the other and the cylinder's axis.
    shift : float or ufloat, [the same unit]
        Of the head along the cylinder's axis, outwards; negative inwards.

    Returns
    -------
    float or ufloat, [the same unit]

    Notes
    -----
    .. math:: l' = \sqrt{l^2 + 2 \, l \, s \cos\alpha + s^2}

    Law of cosines.

    Examples
    --------
    >>> round(span_after(276.0, 0, 1.0), 9), round(span_after(276.0, 60, 1.0), 4)
    (277.0, 276.5014)
    """
    return umath.sqrt(span**2 + 2 * span * shift * math.cos(math.radians(slope)) + shift**2)


def off_square(before: float, reach: float, arm: float) -> float | None:
    r"""Return how far from square a rocker's arm stands after its end had to follow by a reach.

    Parameters
    ----------
    before : float, [°]
        Off square until now.
    reach : float, [length]
        By which the end of the arm has moved square to it; positive the same way as the angle.
    arm : float, [the same unit]
        From the middle of the shaft to that end.

    Returns
    -------
    float, [°], or None
        None where the arm is too short for such a reach.

    Notes
    -----
    .. math:: \sin\delta' = \sin\delta + \frac{h}{a}

    Examples
    --------
    >>> round(off_square(0, 12, 24), 9), off_square(0, 25, 24)
    (30.0, None)
    """
    sine = math.sin(math.radians(before)) + reach / arm
    return math.degrees(math.asin(sine)) if abs(sine) <= 1 else None


def swing(lift: Any, arm: float) -> Any | None:
    r"""Return the angle that a rocker swings through for a lift at the end of an arm, half to each side of square.

    Parameters
    ----------
    lift : float or ufloat, [length]
    arm : float, [the same unit]

    Returns
    -------
    float or ufloat, [°], or None
        None where the arm is too short for such a lift.

    Notes
    -----
    .. math:: \theta = 2 \arcsin\frac{h}{2 a}

    Examples
    --------
    >>> round(swing(10, 10), 9), swing(21, 10)
    (60.0, None)
    """
    share = lift / (2 * arm)
    if _best(share) >= 1:  # no slope can be given there
        return 180.0 if _best(share) == 1 else None
    return 2 * umath.degrees(umath.asin(share))


def _best(number: Any) -> float:
    return float(number.nominal_value if isinstance(number, UFloat) else number)


def sweep(arm: float, off: float, turned: Any) -> Any:
    r"""Return how far the end of an arm wanders to and fro along the arm while the rocker swings.

    Parameters
    ----------
    arm : float, [length]
    off : float, [°]
        Off square at half lift.
    turned : float or ufloat, [°]
        The whole swing.

    Returns
    -------
    float or ufloat, [the same unit]

    Notes
    -----
    .. math:: w = a \left( \max \cos\varphi - \min \cos\varphi \right), \quad
              \delta - \tfrac{\theta}{2} \le \varphi \le \delta + \tfrac{\theta}{2}

    Least where the arm is square at half lift.

    Examples
    --------
    >>> round(sweep(10, 0, 120), 9), sweep(10, 0, 0)
    (5.0, 0.0)
    """
    ends = [umath.radians(off + side * turned / 2) for side in (-1, 1)]
    cosines = [umath.cos(end) for end in ends]
    first, last = (_best(end) for end in ends)
    highest = 1.0 if first <= 0 <= last else max(cosines, key=_best)
    return arm * (highest - min(cosines, key=_best))


def flange_offset(shift: Any, facing: float) -> tuple[Any, Any]:
    r"""Return by how much a flange slides along its face, and by how much the joint opens.

    Parameters
    ----------
    shift : float or ufloat, [length]
        Of the head along the cylinder's axis, outwards.
    facing : float, [°]
        Between the way that the flange faces and the cylinder's axis outwards.

    Returns
    -------
    tuple of float or ufloat, [the same unit]
        Along the face; away from the pipe, negative where the head comes nearer to it.

    Notes
    -----
    .. math:: u = s \sin\beta \qquad v = -s \cos\beta

    A pipe on a flange that faces outwards is pushed; one that faces inwards is left behind.

    Examples
    --------
    >>> [round(part, 9) for part in flange_offset(2.0, 90)], [round(part, 9) for part in flange_offset(2.0, 180)]
    ([2.0, -0.0], [0.0, 2.0])
    """
    turned = math.radians(facing)
    return shift * math.sin(turned), -shift * math.cos(turned)
