"""How much fuel a main jet must pass in thinner or denser air, and which jet comes nearest."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Literal

from uncertainties import umath

Numbered = Literal["diameter", "flow"]


def fuel_share(air: tuple[Any, Any], base: tuple[Any, Any]) -> Any:
    r"""Return the jet's flow at one pull, over its flow where the jets are right, that keeps the mixture.

    Parameters
    ----------
    air, base : tuple of two floats or ufloats, [kg/m³]
        Density of the air and of the dry air in it, here and where the jets are right.

    Returns
    -------
    float or ufloat, [-]

    Notes
    -----
    .. math:: \frac{\rho_d}{\rho_{d0}} \Big/ \sqrt{\rho / \rho_0}

    The engine draws the same volume, so the fuel wanted goes with the dry air in it. The pull
    of a fixed choke on the jet goes with the density of the air, the fuel with the root of the pull
    and with the jet's area. In dry air this is the root of the density.

    Examples
    --------
    >>> round(fuel_share((1.0, 1.0), (1.21, 1.21)), 4)
    0.9091

    References
    ----------
    Heywood, Internal Combustion Engine Fundamentals (1988), 7.3, flow through choke and jet (from memory).
    """
    return air[1] / base[1] / umath.sqrt(air[0] / base[0])


def number_for(share: Any, fitted: float, numbered: Numbered) -> Any:
    """Return the jet number whose flow is ``share`` times that of the one fitted.

    Examples
    --------
    >>> number_for(0.81, 100.0, "diameter"), number_for(0.81, 100.0, "flow")
    (90.0, 81.0)
    """
    return fitted * (umath.sqrt(share) if numbered == "diameter" else share)


def leaner(wanted: float, jet: float, numbered: Numbered) -> float:
    """Return how much leaner than right a jet runs, as a share: 0.05 is 5 % more air to the fuel, minus is richer.

    Examples
    --------
    >>> round(leaner(110.0, 100.0, "diameter"), 4), leaner(110.0, 125.0, "flow")
    (0.21, -0.12)
    """
    ratio = wanted / jet
    return (ratio**2 if numbered == "diameter" else ratio) - 1


def nearest(jets: Sequence[float], wanted: float) -> float:
    """Return the jet nearest to the one wanted, in proportion; of two as near, the larger.

    Examples
    --------
    >>> nearest((115.0, 120.0, 125.0), 121.0)
    120.0
    """
    return min(sorted(jets, reverse=True), key=lambda jet: round(abs(math.log(jet / wanted)), 9))
