"""Growth with heat: of one part, and of the gap between rocker and valve."""

from __future__ import annotations

from typing import Any


def growth(length: Any, coefficient: float, rise: Any) -> Any:
    r"""Return how much longer a part gets.

    Parameters
    ----------
    length : Quantity, float or ufloat, [length]
        When cold.
    coefficient : float, [1/K]
        Linear, mean over the rise.
    rise : float or ufloat, [K]
        Warmer by so much; negative where colder.

    Returns
    -------
    Quantity, float or ufloat, [length]

    Notes
    -----
    .. math:: \Delta l = \alpha \, l \, \Delta T

    Room-temperature coefficients rise with heat: real parts grow up to a tenth more at 300 K of rise.

    Examples
    --------
    >>> round(growth(100.0, 23.6e-6, 80.0), 4)
    0.1888

    References
    ----------
    Callister, Fundamentals of Materials Science and Engineering, 3rd edition, Table B.6.
    """
    return coefficient * length * rise


def gap_growth(ratio: float, shaft: Any, pushrod: Any, stem_tip: Any) -> Any:
    r"""Return how much the gap between rocker and valve widens when the parts around it move.

    Parameters
    ----------
    ratio : float
        Rocker ratio: valve arm over pushrod arm.
    shaft, pushrod, stem_tip : Quantity, float or ufloat, [length]
        How far the rocker's shaft, the pushrod's outer end and the valve's stem tip move
        away from the camshaft.

    Returns
    -------
    Quantity, float or ufloat, [length]
        Negative where the gap closes.

    Notes
    -----
    .. math:: \Delta s = (1 + i) \, \delta_{shaft} - i \, \delta_{pushrod} - \delta_{tip}

    Pushrod, valve and barrel are taken as parallel, the rocker's arms as square to them.
    A valve that leans by 20° changes its own share by 6 %.

    Examples
    --------
    >>> gap_growth(1.0, 0.5, 0.5, 0.5)
    0.0
    >>> round(gap_growth(1.25, 0.4, 0.0, 0.0), 3)
    0.9

    References
    ----------
    Plane geometry: similar triangles.
    """
    return (1 + ratio) * shaft - ratio * pushrod - stem_tip
