"""Helical compression springs of round wire: rate, load, stress, and how fast they can follow."""

from __future__ import annotations

import math
from typing import Any

SURELY_BORNE = 0.45
"""Share of its tensile strength that spring wire takes in shear without being pressed beforehand: Shigley, Mechanical
Engineering Design, 10th edition, table 10-6, music wire (from memory)."""


def tensile_strength(wire: float) -> float:
    r"""Return the tensile strength of the strongest common spring wire, which falls with its thickness.

    Parameters
    ----------
    wire : float, [mm]

    Returns
    -------
    float, [MPa]

    Notes
    -----
    .. math:: R_m = 2211 \, d^{-0.145}

    Music wire from 0.1 to 6.5 mm. Oil-tempered and alloyed valve spring wires are no stronger by more than a tenth.

    Examples
    --------
    >>> round(tensile_strength(4.2))
    1796

    References
    ----------
    Shigley, Mechanical Engineering Design, 10th edition, table 10-4 (from memory).
    """
    return float(2211 * wire**-0.145)


def rate_of_wire(wire: Any, mean: Any, active: Any, modulus: Any) -> Any:
    r"""Return the rate that a spring's dimensions give it.

    Parameters
    ----------
    wire, mean : float or ufloat, [mm]
        Diameter of the wire, and of the coil from middle to middle of the wire.
    active : float or ufloat
        Coils that move.
    modulus : float or ufloat, [MPa]
        Shear modulus of the wire.

    Returns
    -------
    float or ufloat, [N/mm]

    Notes
    -----
    .. math:: k = \frac{G d^4}{8 D^3 n}

    Coils that touch one after the other stop counting: a spring of uneven pitch gets stiffer.

    Examples
    --------
    >>> round(rate_of_wire(5.0, 40.0, 5, 81_370.0), 5)
    19.86572

    References
    ----------
    Shigley, Mechanical Engineering Design, 10th edition, eq. 10-9.
    """
    return modulus * wire**4 / (8 * mean**3 * active)


def rate_of_points(length_a: Any, load_a: Any, length_b: Any, load_b: Any) -> Any:
    """Return the rate between two loads at two lengths, [N/mm].

    Examples
    --------
    >>> rate_of_points(38.0, 265.0, 30.0, 489.0)
    28.0
    """
    return (load_b - load_a) / (length_a - length_b)


def wahl_factor(index: Any) -> Any:
    r"""Return by how much the curve of the coil raises the stress.

    Parameters
    ----------
    index : float or ufloat
        Mean coil diameter over wire diameter, above 1.

    Notes
    -----
    .. math:: K_W = \frac{4C - 1}{4C - 4} + \frac{0.615}{C}

    Examples
    --------
    >>> round(wahl_factor(8.0), 5)
    1.18402

    References
    ----------
    Mechanical Engineer's Data Handbook, p. 32.
    """
    return (4 * index - 1) / (4 * index - 4) + 0.615 / index


def shear_stress(load: Any, wire: Any, mean: Any) -> Any:
    r"""Return the greatest shear stress in the wire, corrected after Wahl.

    Parameters
    ----------
    load : float or ufloat, [N]
    wire, mean : float or ufloat, [mm]

    Returns
    -------
    float or ufloat, [MPa]

    Notes
    -----
    .. math:: \tau = K_W \frac{8 F D}{\pi d^3}

    Examples
    --------
    >>> round(shear_stress(100.0, 4.0, 32.0), 1)
    150.8

    References
    ----------
    Shigley, Mechanical Engineering Design, 10th edition, eq. 10-5 and 10-7 with Wahl's factor.
    """
    return wahl_factor(mean / wire) * 8 * load * mean / (math.pi * wire**3)


def moving_mass(wire: Any, mean: Any, active: Any, density: float) -> Any:
    r"""Return the mass of the coils that move.

    Parameters
    ----------
    wire, mean : float or ufloat, [mm]
    active : float or ufloat
    density : float, [kg/m³]

    Returns
    -------
    float or ufloat, [kg]

    Notes
    -----
    .. math:: m = \frac{\pi^2}{4} d^2 D n \rho

    Examples
    --------
    >>> round(moving_mass(4.0, 28.0, 6, 7850.0), 6)
    0.052064
    """
    return math.pi**2 / 4 * wire**2 * mean * active * density * 1e-9


def natural_frequency(rate: Any, mass: Any) -> Any:
    r"""Return the lowest frequency at which the coils surge between two seats.

    Parameters
    ----------
    rate : float or ufloat, [N/mm]
    mass : float or ufloat, [kg]
        Of the coils that move.

    Returns
    -------
    float or ufloat, [Hz]

    Notes
    -----
    .. math:: f = \frac{1}{2} \sqrt{\frac{k}{m}}

    Examples
    --------
    >>> round(natural_frequency(19.26628, 0.052064), 1)
    304.2

    References
    ----------
    Shigley, Mechanical Engineering Design, 10th edition, eq. 10-25.
    """
    return 0.5 * (1000 * rate / mass) ** 0.5


def follow_speed(load: Any, mass: Any, slowing: float) -> Any:
    r"""Return the engine speed at which a spring just keeps the valve gear on the cam.

    Parameters
    ----------
    load : float or ufloat, [N]
        Of the springs, where the valve is slowed most: at full lift.
    mass : float or ufloat, [kg]
        Moved by the springs, as felt at the valve.
    slowing : float, [mm/degree²]
        Greatest slowing of the valve, by degrees of the camshaft.

    Returns
    -------
    float or ufloat, [r/min]
        Of the crankshaft, which turns twice for each turn of the cam.

    Notes
    -----
    .. math:: F = m \, a \, \omega_c^2, \qquad n = 2 \frac{\omega_c}{2\pi}

    The valve gear is stiff, and nothing rubs: a real one leaves its cam earlier.

    Examples
    --------
    >>> round(follow_speed(500.0, 0.12, 0.008))
    7607

    References
    ----------
    Newton's second law.
    """
    per_radian = slowing * 1e-3 * (180 / math.pi) ** 2
    return 2 * (load / (mass * per_radian)) ** 0.5 * 60 / (2 * math.pi)
