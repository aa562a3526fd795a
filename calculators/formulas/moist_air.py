"""What air weighs, and how much of it is dry, by its pressure, temperature and humidity."""

from __future__ import annotations

from typing import Any

from uncertainties import umath

from calculators.formulas.standard_atmosphere import GAS_CONSTANT, ZERO_CELSIUS

WATER_TO_AIR = 0.621945
"""Molar mass of water over that of dry air."""


def vapour_pressure_saturated(temperature: Any, pressure: Any) -> Any:
    r"""Return the pressure of water vapour in saturated air.

    Parameters
    ----------
    temperature : float or ufloat, [K]
        From 228 to 333; below freezing over water that has not frozen, as humidity is counted.
    pressure : float or ufloat, [Pa]
        Of the air.

    Returns
    -------
    float or ufloat, [Pa]

    Notes
    -----
    .. math:: e = 611.2 \, f \, e^{17.62 t / (243.12 + t)} \quad
        f = 1.0016 + 3.15 \times 10^{-6} p - 0.074 / p \quad (t \text{ in °C}, p \text{ in hPa})

    Examples
    --------
    >>> round(vapour_pressure_saturated(293.15, 101325.0))
    2344

    References
    ----------
    WMO-No. 8, Guide to Instruments and Methods of Observation, Part I, Annex 4.B (from memory).
    """
    celsius, hectopascals = temperature - ZERO_CELSIUS, pressure / 100
    enhancement = 1.0016 + 3.15e-6 * hectopascals - 0.074 / hectopascals
    return 611.2 * enhancement * umath.exp(17.62 * celsius / (243.12 + celsius))


def densities(pressure: Any, temperature: Any, humidity: Any) -> tuple[Any, Any]:
    r"""Return the density of moist air, and of the dry air in it.

    Parameters
    ----------
    pressure : float or ufloat, [Pa]
    temperature : float or ufloat, [K]
    humidity : float or ufloat, [-]
        Relative, 0 to 1.

    Returns
    -------
    tuple of two floats or ufloats, [kg/m³]

    Notes
    -----
    .. math:: \rho = \frac{p - e}{R T} + \frac{0.621945 \, e}{R T}

    A mixture of ideal gases. Real air weighs 0.04 % more.

    Examples
    --------
    >>> [round(density, 4) for density in densities(101325.0, 293.15, 0.5)]
    [1.1988, 1.1902]

    References
    ----------
    ISO 2533:1975 for R; ASHRAE Handbook, Fundamentals (2017), chapter 1, for the mixture (from memory).
    """
    vapour = humidity * vapour_pressure_saturated(temperature, pressure)
    whole = 1 / (GAS_CONSTANT * temperature)
    dry = (pressure - vapour) * whole
    return dry + WATER_TO_AIR * vapour * whole, dry
