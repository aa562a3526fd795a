"""The pressure of the air at an altitude, for standard air and for air that is warmer or colder."""

from __future__ import annotations

from typing import Any

SEA_LEVEL = 101325.0
"""Pressure at altitude nought, Pa."""
LAPSE = 0.0065
"""So much colder for each metre up, K/m."""
GRAVITY = 9.80665
"""m/s²."""
GAS_CONSTANT = 287.05287
"""Of dry air, J/(kg·K)."""
ZERO_CELSIUS = 273.15
"""K."""


def air_pressure(altitude: float, temperature: Any) -> Any:
    r"""Return the pressure of the air at an altitude.

    Parameters
    ----------
    altitude : float, [m]
        Geopotential; below 11 000. In a valley or on a pass the difference from the height on the map is
        under a metre in a thousand.
    temperature : float or ufloat, [K]
        Of the air there.

    Returns
    -------
    float or ufloat, [Pa]

    Notes
    -----
    .. math:: p = p_0 \left( \frac{T}{T + \beta H} \right)^{g / (R \beta)}

    The air below the reader is taken to grow warmer downwards as standard air does, and to
    press with standard pressure at sea level. The weather moves that by some 2 % either way.

    Examples
    --------
    >>> round(air_pressure(1000, 281.65), 2)
    89874.56

    References
    ----------
    ISO 2533:1975, Standard atmosphere, clause 2 (constants and formula, from memory); with
    another temperature it is the same balance of weights, worked out for that air.
    """
    below = temperature + LAPSE * altitude
    return SEA_LEVEL * (temperature / below) ** (GRAVITY / (GAS_CONSTANT * LAPSE))
