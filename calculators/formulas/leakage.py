"""Air that leaks from a cylinder: its share by two gauges, the flow through a hole, the hole it is worth."""

from __future__ import annotations

import math
from typing import Any

from uncertainties import UFloat, umath, wrap

from calculators.formulas.standard_atmosphere import GAS_CONSTANT

HEAT_RATIO = 1.4
"""Of air: specific heat at constant pressure over that at constant volume."""
CRITICAL = (2 / (HEAT_RATIO + 1)) ** (HEAT_RATIO / (HEAT_RATIO - 1))
"""Pressure behind a hole over that before it, below which the flow is at the speed of sound and rises no more."""


def leak_share(supply: Any, held: Any) -> Any:
    r"""Return what a leakage tester shows, in per cent.

    Parameters
    ----------
    supply, held : float or ufloat, [pressure]
        Gauge readings before and behind the tester's orifice.

    Notes
    -----
    .. math:: q = 100 \, (p_1 - p_2) / p_1

    Examples
    --------
    >>> leak_share(80.0, 60.0)
    25.0
    """
    return 100 * (supply - held) / supply


def flow_factor(ratio: Any) -> Any:
    r"""Return the flow through a hole without a unit.

    Parameters
    ----------
    ratio : float or ufloat, [1]
        Absolute pressure behind over that before, from nought to one.

    Returns
    -------
    float or ufloat, [1]
        .. math:: \psi = \dot m \sqrt{R T} / (p A)

    Notes
    -----
    .. math::
        \psi = \sqrt{\frac{2 \gamma}{\gamma - 1} \left(r^{2/\gamma} - r^{(\gamma + 1)/\gamma}\right)}

    with r never below the critical ratio. Ideal gas, no friction, no heat.

    Examples
    --------
    >>> round(flow_factor(0.3), 6), flow_factor(1.0)
    (0.684731, 0.0)

    References
    ----------
    Aeronautical Engineer's Data Book, p. 255: compressible flow (the critical ratio and the choked flow).
    """
    best = ratio.nominal_value if isinstance(ratio, UFloat) else ratio
    if best >= 1:
        return 0.0
    r = ratio if best > CRITICAL else CRITICAL
    inside = r ** (2 / HEAT_RATIO) - r ** ((HEAT_RATIO + 1) / HEAT_RATIO)
    return umath.sqrt(2 * HEAT_RATIO / (HEAT_RATIO - 1) * inside)


def mass_flow(before: Any, behind: Any, kelvin: float, area: Any) -> Any:
    """Return the flow of air through a hole.

    Parameters
    ----------
    before, behind : float or ufloat, [Pa]
        Absolute.
    kelvin : float, [K]
        Of the air before the hole.
    area : float or ufloat, [m²]
        Of the jet: the hole's by its discharge coefficient.

    Returns
    -------
    float or ufloat, [kg/s]

    Examples
    --------
    >>> round(1000 * mass_flow(101325 + 551581, 101325, 293.15, 3.14159265 / 4e6), 4)
    1.2104
    """
    return flow_factor(behind / before) * before * area / math.sqrt(GAS_CONSTANT * kelvin)


def hole_share(supply: Any, held: Any, ambient: Any) -> Any:
    r"""Return the area of the leak over the area of the tester's orifice.

    Parameters
    ----------
    supply, held, ambient : float or ufloat, [pressure]
        Absolute, in one unit; before the orifice, in the cylinder, outside.

    Returns
    -------
    float or ufloat, [1]

    Notes
    -----
    What comes through the orifice leaves by the leak, at one temperature:

    .. math:: A_2 / A_1 = \frac{p_1 \psi(p_2 / p_1)}{p_2 \psi(p_0 / p_2)}

    Examples
    --------
    >>> round(hole_share(7.0, 6.9, 1.0), 3), hole_share(7.0, 7.0, 1.0)
    (0.249, 0.0)
    """
    return supply * flow_factor(held / supply) / (held * flow_factor(ambient / held))


def _ratio_of(factor: float) -> float:
    low: float = CRITICAL
    high = 1.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if flow_factor(middle) > factor else (low, middle)
    return (low + high) / 2


held_ratio = wrap(_ratio_of)
"""Return the pressure ratio across a hole from its flow factor, between the critical one and nought."""
