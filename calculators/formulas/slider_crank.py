"""Where the piston is at a crank angle, and what of the compression is left once the inlet valve has shut."""

from __future__ import annotations

import math
from typing import Any

from uncertainties import umath


def piston_travel(angle: Any, stroke: Any, rod: Any) -> Any:
    r"""Return how far the piston has come down from top dead centre.

    Parameters
    ----------
    angle : float or ufloat, [°]
        Of the crank, from top dead centre; both senses are alike.
    stroke, rod : float or ufloat, [length]
        Stroke, and rod between the middles of its two eyes, in one unit; ``rod`` above half the stroke.

    Returns
    -------
    float or ufloat, [the same unit]

    Notes
    -----
    .. math:: x = r + l - r \cos\theta - \sqrt{l^2 - r^2 \sin^2\theta} \qquad r = s / 2

    The bore's axis meets the crankshaft's; pin and bore are not offset.

    Examples
    --------
    >>> round(piston_travel(90, 86.0, 143.0), 6)
    49.618183

    References
    ----------
    J. B. Heywood, Internal Combustion Engine Fundamentals (1988), equation 2.6 (from memory).
    """
    turned, crank = angle * (math.pi / 180), stroke / 2
    return crank + rod - crank * umath.cos(turned) - umath.sqrt(rod**2 - (crank * umath.sin(turned)) ** 2)


def share_left(after_bottom: Any, stroke: Any, rod: Any) -> Any:
    """Return the share of the stroke that the piston still has to go up, some degrees after bottom dead centre.

    Parameters
    ----------
    after_bottom : float or ufloat, [°]
        When the inlet valve shuts.
    stroke, rod : float or ufloat, [length]
        As for ``piston_travel``.

    Returns
    -------
    float or ufloat, [1]

    Examples
    --------
    >>> round(share_left(40, 86.0, 143.0), 4), round(share_left(0, 86.0, 143.0), 4)
    (0.9144, 1.0)
    """
    return piston_travel(180 - after_bottom, stroke, rod) / stroke


def effective_ratio(ratio: Any, share: Any) -> Any:
    r"""Return the compression ratio from the moment when the inlet valve has shut.

    Parameters
    ----------
    ratio : float or ufloat, [1]
        Of the whole stroke.
    share : float or ufloat, [1]
        Of the stroke that is left when the valve shuts.

    Returns
    -------
    float or ufloat, [1]

    Notes
    -----
    .. math:: \varepsilon' = 1 + k (\varepsilon - 1)

    Examples
    --------
    >>> round(effective_ratio(10.5, share_left(40, 86.0, 143.0)), 5)
    9.68659
    """
    return 1 + share * (ratio - 1)
