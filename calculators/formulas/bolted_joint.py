"""What a torque does to a stud: its pull, its stress, and the thread that holds it."""

from __future__ import annotations

import math
from typing import Any

from calculators.formulas.threads import TAN_FLANK, minor_diameter, pitch_diameter

FLANK_RISE = 1 / math.cos(math.radians(30))
"""How much harder the flanks of a 60° thread press than its pull (ISO 16047 rounds it to 1.154)."""
SHEAR_SHARE = 0.6
"""Shear strength of a stud's steel as a share of its tensile strength (from memory: VDI 2230-1, 0.6 to 0.65)."""


def screw_arm(pitch: float, pitch_diameter: float, friction: Any) -> Any:
    r"""Return the torque that one unit of pull asks of the thread alone.

    Parameters
    ----------
    pitch, pitch_diameter : float, [length]
    friction : float or ufloat
        Between the threads.

    Returns
    -------
    float or ufloat, [length]

    Notes
    -----
    .. math:: \frac{1}{2} \cdot \frac{P + \pi \mu' d_2}{\pi - \mu' P / d_2}, \quad \mu' = \mu / \cos 30°

    which is :math:`\frac{d_2}{2} \tan(\varphi + \varrho')` written without angles.

    Examples
    --------
    >>> round(screw_arm(1.5, 9.026, 0.12), 4)
    0.8705

    References
    ----------
    ISO 16047, tightening torque; VDI 2230-1 (both from memory).
    """
    pressed = FLANK_RISE * friction
    return (pitch + math.pi * pressed * pitch_diameter) / (math.pi - pressed * pitch / pitch_diameter) / 2


def bearing_arm(face: float, hole: float, friction: Any) -> Any:
    r"""Return the torque that one unit of pull asks under the nut.

    Parameters
    ----------
    face, hole : float, [length]
        Outside and inside diameter of the ring on which the nut bears.
    friction : float or ufloat
        Under the nut.

    Returns
    -------
    float or ufloat, [length]

    Notes
    -----
    .. math:: \mu_b \frac{D_b}{2}, \quad D_b = \frac{D_o + d_h}{2}

    Examples
    --------
    >>> round(bearing_arm(14.6, 11, 0.12), 3)
    0.768

    References
    ----------
    ISO 16047, diameter of the bearing surface for friction (from memory).
    """
    return friction * (face + hole) / 4


def combined_stress(pull: float, screw_torque: float, area: float) -> float:
    r"""Return the stress in a stud while the nut turns, of pull and twist together.

    Parameters
    ----------
    pull : float, [N]
    screw_torque : float, [N·mm]
        What the thread takes of the torque.
    area : float, [mm²]
        Stress area.

    Returns
    -------
    float, [MPa]

    Notes
    -----
    .. math:: \sqrt{(F / A_s)^2 + 3 \tau^2}, \quad \tau = \frac{12 M}{\pi d_s^3}, \quad d_s = \sqrt{4 A_s / \pi}

    The twist is spread evenly over the section, as it is when the stud begins to yield.

    Examples
    --------
    >>> round(combined_stress(30000, 26000, 57.99))
    584

    References
    ----------
    VDI 2230-1, assembly preload from the equivalent stress (from memory).
    """
    diameter = math.sqrt(4 * area / math.pi)
    twist = 12 * screw_torque / (math.pi * diameter**3)
    return math.sqrt((pull / area) ** 2 + 3 * twist**2)


def internal_shear_area(major: float, pitch: float, length: Any) -> Any:
    r"""Return the area along which the thread of the case is torn out.

    Parameters
    ----------
    major, pitch : float, [length]
        Of the thread in the case.
    length : float or ufloat, [length]
        Of full threads in contact.

    Returns
    -------
    float or ufloat, [length²]

    Notes
    -----
    .. math:: A = \pi d \frac{L}{P} \left( \frac{P}{2} + (d - D_2) \tan 30° \right) = 0.875 \, \pi d L

    Of the basic sizes. A loose fit, a bell mouth or worn crests leave less.

    Examples
    --------
    >>> round(internal_shear_area(10, 1.5, 20), 1)
    549.8

    References
    ----------
    FED-STD-H28/2, shear area of the internal thread; VDI 2230-1, the same with its factors C1 and C3 left out
    (both from memory).
    """
    return math.pi * major * length * (0.5 + (major - pitch_diameter(major, pitch)) / pitch * TAN_FLANK)


def external_shear_area(major: float, pitch: float, length: Any) -> Any:
    r"""Return the area along which the thread of the stud is torn off.

    Parameters
    ----------
    major, pitch : float, [length]
        Of the stud.
    length : float or ufloat, [length]
        Of full threads in contact.

    Returns
    -------
    float or ufloat, [length²]

    Notes
    -----
    .. math:: A = \pi D_1 \frac{L}{P} \left( \frac{P}{2} + (d_2 - D_1) \tan 30° \right) = 0.75 \, \pi D_1 L

    Examples
    --------
    >>> round(external_shear_area(10, 1.5, 20), 1)
    394.7

    References
    ----------
    As for ``internal_shear_area``.
    """
    bore = minor_diameter(major, pitch)
    return math.pi * bore * length * (0.5 + (pitch_diameter(major, pitch) - bore) / pitch * TAN_FLANK)


LUBRICANTS: dict[str, tuple[float, float]] = {"dry": (0.14, 0.24), "oiled": (0.08, 0.16), "anti-seize": (0.04, 0.10)}
"""Friction of thread and underhead alike, least and most: VDI 2230-1, classes C, B and A (a supplier's copy)."""

HANDBOOK_K: dict[str, float] = {"dry": 0.20, "oiled": 0.18, "anti-seize": 0.12}
"""Torque factor by condition: Shigley's Mechanical Engineering Design, 10th edition, table 8-15 (from memory)."""
