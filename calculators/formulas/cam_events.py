"""A camshaft from the four angles at which its valves open and shut."""

from __future__ import annotations

from typing import Any


def duration(opens_before: Any, closes_after: Any) -> Any:
    """Return for how long a valve is open, in degrees of the crank.

    Parameters
    ----------
    opens_before, closes_after : float or ufloat, [°]
        Before one dead centre and after the next, half a turn on; minus for the other side of it.

    Examples
    --------
    >>> duration(8.0, 40.0)
    228.0
    """
    return opens_before + 180 + closes_after


def lobe_centre(at_top: Any, open_for: Any) -> Any:
    r"""Return how far from overlap top dead centre the middle of a valve's opening lies.

    Parameters
    ----------
    at_top : float or ufloat, [°]
        The event near that dead centre: inlet opens before it, exhaust closes after it.
    open_for : float or ufloat, [°]
        Duration.

    Returns
    -------
    float or ufloat, [°]
        Of the crank: after it for the inlet, before it for the exhaust.

    Notes
    -----
    .. math:: c = \Delta / 2 - a

    It is where the lift is greatest on a lobe that is alike on both sides.

    Examples
    --------
    >>> lobe_centre(8.0, duration(8.0, 40.0))
    106.0
    """
    return open_for / 2 - at_top


def overlap(inlet_opens_before: Any, exhaust_closes_after: Any) -> Any:
    """Return for how long both valves are open; below nought is how long both are shut.

    Examples
    --------
    >>> overlap(8.0, 6.0), overlap(-5.0, 2.0)
    (14.0, -3.0)
    """
    return inlet_opens_before + exhaust_closes_after


def lobe_separation(inlet_centre: Any, exhaust_centre: Any) -> Any:
    """Return the angle between the two lobes on the camshaft, which turns at half the crank's speed.

    Examples
    --------
    >>> lobe_separation(106.0, 108.0)
    107.0
    """
    return (inlet_centre + exhaust_centre) / 2


def cam_late(inlet: Any | None, inlet_wanted: float, exhaust: Any | None, exhaust_wanted: float) -> Any | None:
    """Return by how much of the crank a camshaft stands late, from the lobe centres that were measured.

    Parameters
    ----------
    inlet, exhaust : float or ufloat, optional, [°]
        Measured lobe centres, after and before overlap top dead centre.
    inlet_wanted, exhaust_wanted : float, [°]

    Returns
    -------
    float, ufloat or None, [°]
        Minus where it is early; the mean where both were measured.

    Examples
    --------
    >>> cam_late(110.0, 106.0, 105.0, 108.0), cam_late(None, 106.0, None, 108.0) is None
    (3.5, True)
    """
    late = [] if inlet is None else [inlet - inlet_wanted]
    late += [] if exhaust is None else [exhaust_wanted - exhaust]
    return sum(late) / len(late) if late else None


def tooth(teeth: int) -> float:
    """Return what one tooth of the camshaft's gear or sprocket is worth at the crank, in degrees.

    Examples
    --------
    >>> tooth(48)
    15.0
    """
    return 720 / teeth
