"""Air over the air that the fuel wants, from what is in the exhaust."""

from __future__ import annotations

from typing import Any

HYDROGEN, OXYGEN = 1.7261, 0.0176
"""Atoms of each to one of carbon, in petrol."""
WATER_GAS = 3.5
"""CO · H₂O ÷ (CO₂ · H₂) as the exhaust leaves the cylinder."""
HEXANE = 6
"""Atoms of carbon for each part of fuel that the analyser shows, as hexane."""


def air_ratio(monoxide: Any, dioxide: Any, oxygen: Any, fuel: Any) -> Any:
    r"""Return λ, air over the air that burns the fuel outright.

    Parameters
    ----------
    monoxide, dioxide, oxygen, fuel : float or ufloat, [%]
        CO, CO₂, O₂ and unburnt fuel as hexane, by volume of the dry gas; CO₂ above nought.

    Returns
    -------
    float or ufloat, [-]

    Notes
    -----
    .. math:: \lambda = \frac{CO_2 + \tfrac{CO}{2} + O_2 + \left( \tfrac{H}{4} \cdot \tfrac{3.5}{3.5 + CO / CO_2}
        - \tfrac{O}{2} \right) (CO_2 + CO)}{\left( 1 + \tfrac{H}{4} - \tfrac{O}{2} \right) (CO_2 + CO + 6 \, HC)}

    The oxygen in the exhaust over the oxygen that its carbon and hydrogen want; nitric oxide is left out.
    Air drawn in by a leaking exhaust counts as oxygen, and λ comes out lean.

    Examples
    --------
    >>> round(air_ratio(2.0, 13.5, 0.5, 0.02), 3)
    0.958

    References
    ----------
    J. Brettschneider (1979), as in UNECE Regulation No. 83, 5.3.7.3, with its constants for petrol (from memory).
    """
    carbon = dioxide + monoxide
    water = HYDROGEN / 4 * WATER_GAS / (WATER_GAS + monoxide / dioxide)
    found = dioxide + monoxide / 2 + oxygen + (water - OXYGEN / 2) * carbon
    return found / ((1 + HYDROGEN / 4 - OXYGEN / 2) * (carbon + HEXANE * fuel))
