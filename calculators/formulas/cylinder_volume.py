"""Volumes of one cylinder, and the compression ratio that follows from them."""

from __future__ import annotations

import math
from typing import Any


def bore_area(bore: Any) -> Any:
    r"""Return the area of the bore.

    Parameters
    ----------
    bore : Quantity, float or ufloat, [length]
        Diameter.

    Returns
    -------
    Quantity, float or ufloat, [length²]

    Notes
    -----
    .. math:: A = \frac{\pi}{4} d^2

    Examples
    --------
    >>> round(bore_area(80.0), 2)
    5026.55
    """
    return math.pi / 4 * bore**2


def swept_volume(bore: Any, stroke: Any) -> Any:
    r"""Return what the piston sweeps from one dead centre to the other.

    Parameters
    ----------
    bore, stroke : Quantity, float or ufloat, [length]

    Returns
    -------
    Quantity, float or ufloat, [volume]

    Notes
    -----
    .. math:: V_h = \frac{\pi}{4} d^2 s

    The rod's length has no say, as long as the bore's axis meets the crankshaft's.
    An offset bore or pin lengthens the travel a little beyond twice the crank's throw;
    ``stroke`` is then the travel itself.

    Examples
    --------
    >>> round(swept_volume(8.0, 7.4), 2)
    371.96
    """
    return bore_area(bore) * stroke


def deck_clearance(deck_height: Any, stack: Any, gasket: Any) -> Any:
    """Return the gap between the piston's crown and the face of the head, at top dead centre.

    Parameters
    ----------
    deck_height : Quantity, float or ufloat, [length]
        From the barrel's top down to the crown's edge, without spacer; negative
        where the piston stands proud.
    stack : Quantity, float or ufloat, [length]
        Spacers under the barrel.
    gasket : Quantity, float or ufloat, [length]
        Compressed gasket or ring between barrel and head.

    Examples
    --------
    >>> round(deck_clearance(0.4, 1.0, 0.1), 3)
    1.5
    """
    return deck_height + (stack + gasket)


def clearance_volume(chamber: Any, area: Any, depth: Any, crown: Any, gasket: Any) -> Any:
    r"""Return the room above the piston at top dead centre.

    Parameters
    ----------
    chamber : Quantity, float or ufloat, [volume]
        In the head, to its sealing face, plug and valves in place.
    area : Quantity, float or ufloat, [length²]
        Of the bore.
    depth : Quantity, float or ufloat, [length]
        From the barrel's top down to the crown's edge, spacers included.
    crown : Quantity, float or ufloat, [volume]
        Dish positive, dome negative.
    gasket : Quantity, float or ufloat, [volume]
        Inside the compressed gasket or ring.

    Returns
    -------
    Quantity, float or ufloat, [volume]

    Notes
    -----
    .. math:: V_c = V_{chamber} + V_{gasket} + A \, z + V_{crown}

    Leaves out the ring of gas beside the piston above its top ring, some tenths of a
    cubic centimetre, as the trade does.

    Examples
    --------
    >>> round(clearance_volume(49.5, 50.265, 0.14, 0.0, 0.0), 2)
    56.54
    """
    return chamber + area * depth + (gasket + crown)


def compression_ratio(swept: Any, clearance: Any) -> Any:
    r"""Return the geometric compression ratio.

    Parameters
    ----------
    swept, clearance : Quantity, float or ufloat, [volume]
        ``clearance`` above nought.

    Returns
    -------
    Quantity, float or ufloat, [1]

    Notes
    -----
    .. math:: \varepsilon = \frac{V_h + V_c}{V_c}

    Of the whole stroke; what the valves let the engine use is less.

    Examples
    --------
    >>> compression_ratio(500.0, 100.0)
    6.0
    """
    return 1 + swept / clearance


def clearance_for_ratio(swept: Any, ratio: Any) -> Any:
    r"""Return the clearance volume that gives a ratio.

    Parameters
    ----------
    swept : Quantity, float or ufloat, [volume]
    ratio : float
        Above 1.

    Returns
    -------
    Quantity, float or ufloat, [volume]

    Notes
    -----
    .. math:: V_c = \frac{V_h}{\varepsilon - 1}

    Examples
    --------
    >>> clearance_for_ratio(500.0, 6.0)
    100.0
    """
    return swept / (ratio - 1)
