"""How fast the charge flows through a port and past a valve."""

from __future__ import annotations

import math
from typing import Any

GAMMA = 1.4
"""Ratio of the specific heats of air."""
GAS_CONSTANT = 287.05287
"""Of dry air, J/(kg·K)."""
ZERO_CELSIUS = 273.15
"""K."""


def piston_speed(stroke: Any, speed: float) -> Any:
    r"""Return the mean piston speed.

    Parameters
    ----------
    stroke : float or ufloat, [mm]
    speed : float, [r/min]

    Returns
    -------
    float or ufloat, [m/s]

    Notes
    -----
    .. math:: \bar S_p = 2 s n

    Examples
    --------
    >>> piston_speed(86.0, 6000.0)
    17.2
    """
    return 2 * stroke * speed / 60_000


def gas_speed(piston: Any, bore: Any, area: Any) -> Any:
    r"""Return the mean speed of the gas in a passage while the piston draws at its mean speed.

    Parameters
    ----------
    piston : float or ufloat, [m/s]
        Mean piston speed.
    bore : float or ufloat, [mm]
    area : float or ufloat, [mm²]
        Of the passage.

    Returns
    -------
    float or ufloat, [m/s]

    Notes
    -----
    .. math:: \bar w = \bar S_p \frac{\pi d^2}{4 A}

    Density taken as even; the highest speed in the stroke is 1.6 times as much and more.

    Examples
    --------
    >>> round(gas_speed(17.2, 86.0, math.pi / 4 * 33.0**2), 3)
    116.815
    """
    return piston * math.pi / 4 * bore**2 / area


def sound_speed(temperature: float) -> float:
    r"""Return the speed of sound in air as an ideal gas.

    Parameters
    ----------
    temperature : float, [°C]

    Returns
    -------
    float, [m/s]

    Notes
    -----
    .. math:: a = \sqrt{\gamma R T}

    Examples
    --------
    >>> round(sound_speed(20.0), 2)
    343.23
    """
    return math.sqrt(GAMMA * GAS_CONSTANT * (temperature + ZERO_CELSIUS))


def mach_index(bore: Any, valve: Any, piston: Any, flow_coefficient: float, sound: float) -> Any:
    r"""Return the inlet Mach index.

    Parameters
    ----------
    bore, valve : float or ufloat, [mm]
        Cylinder, and head of the inlet valve.
    piston : float or ufloat, [m/s]
        Mean piston speed.
    flow_coefficient : float
        Mean over the valve's opening, referred to the area of the valve's head.
    sound : float, [m/s]

    Notes
    -----
    .. math:: Z = \left(\frac{b}{D}\right)^2 \frac{\bar S_p}{C_i a}

    Examples
    --------
    >>> round(mach_index(86.0, 33.0, 17.2, 0.35, 343.2), 5)
    0.97248

    References
    ----------
    Taylor, The Internal Combustion Engine in Theory and Practice, volume 1, chapter 6 (from memory).
    """
    return (bore / valve) ** 2 * piston / (flow_coefficient * sound)


def curtain_area(valve: Any, lift: Any) -> Any:
    r"""Return the area of the curtain between valve and seat.

    Parameters
    ----------
    valve, lift : float or ufloat, [mm]
        Diameter of the head, and how far it is open.

    Returns
    -------
    float or ufloat, [mm²]

    Notes
    -----
    .. math:: A = \pi D L

    A plain cylinder; beside a seat at 45° the gap at low lift is narrower by up to three tenths.

    Examples
    --------
    >>> round(curtain_area(40.0, 10.0), 3)
    1256.637
    """
    return math.pi * valve * lift


def throat_area(throat: Any, stem: Any) -> Any:
    r"""Return the area of the throat under a seat, less the stem in it.

    Parameters
    ----------
    throat, stem : float or ufloat, [mm]
        Diameters.

    Returns
    -------
    float or ufloat, [mm²]

    Notes
    -----
    .. math:: A = \frac{\pi}{4} \left(D_t^2 - d^2\right)

    Examples
    --------
    >>> round(throat_area(40.0, 8.0), 3)
    1206.372
    """
    return math.pi / 4 * (throat**2 - stem**2)
