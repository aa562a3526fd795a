"""Mean of repeated readings, their scatter, and how far few readings let the result be trusted."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

_FACTORS = (
    *((1, 13.97), (2, 4.53), (3, 3.31), (4, 2.87), (5, 2.65), (6, 2.52), (7, 2.43), (8, 2.37), (9, 2.32)),
    *((10, 2.28), (11, 2.25), (12, 2.23), (13, 2.21), (14, 2.20), (15, 2.18), (16, 2.17), (17, 2.16), (18, 2.15)),
    *((19, 2.14), (20, 2.13), (25, 2.11), (30, 2.09), (35, 2.07), (40, 2.06), (45, 2.06), (50, 2.05)),
)
_MANY = 100
_BEYOND = 2.5  # Table G.2 gives 2.025 at 100 and 2 for infinitely many: 2 + 2.5/ν between


def mean(readings: Sequence[float]) -> float:
    r"""Return the arithmetic mean of one reading or more.

    Parameters
    ----------
    readings : sequence of float, [any]

    Notes
    -----
    .. math:: \bar q = \frac{1}{n} \sum_k q_k

    Examples
    --------
    >>> mean((49.5, 49.6, 49.4))
    49.5

    References
    ----------
    JCGM 100:2008 (GUM), 4.2.1.
    """
    return math.fsum(readings) / len(readings)


def pooled_scatter(residuals: Iterable[Sequence[float]], fitted: int = 1) -> tuple[float, int]:
    r"""Return the scatter of one reading, from all series together, and its degrees of freedom.

    Parameters
    ----------
    residuals : iterable of sequence of float, [any]
        A sequence for each series: what is left of each reading less what was fitted.
    fitted : int
        How many numbers were fitted to each series: 1 for a mean, 3 for a plane.

    Returns
    -------
    tuple of (float, int)
        Standard deviation s of a single reading, and ν; (0, 0) where no series has more
        readings than fitted numbers.

    Notes
    -----
    .. math:: s_p^2 = \frac{\sum_i \sum_k r_{ik}^2}{\nu} \qquad \nu = \sum_i (n_i - m)

    Holds where one hand reads one instrument in one way, so that every series scatters alike.

    Examples
    --------
    >>> scatter, degrees = pooled_scatter([(0.0, 0.1, -0.1), (0.05, -0.05)])
    >>> round(scatter, 4), degrees
    (0.0913, 3)

    References
    ----------
    JCGM 100:2008 (GUM), 4.2.2, 4.2.4 and H.5.2.5.
    """
    squares, degrees = 0.0, 0
    for series in residuals:
        if len(series) > fitted:
            squares += math.fsum(residual**2 for residual in series)
            degrees += len(series) - fitted
    return (math.sqrt(squares / degrees), degrees) if degrees else (0.0, 0)


def effective_degrees(combined: float, parts: Iterable[tuple[float, float]]) -> float:
    r"""Return the effective degrees of freedom of a combined standard uncertainty.

    Parameters
    ----------
    combined : float, [any]
        Combined standard uncertainty u.
    parts : iterable of (float, float)
        The contributions that are known from few readings only: standard uncertainty, and its
        degrees of freedom, above nought. One known beyond doubt may be left out.

    Returns
    -------
    float
        ν_eff, infinite where no part has a limited number.

    Notes
    -----
    .. math:: \nu_{eff} = \frac{u_c^4}{\sum_i u_i^4 / \nu_i}

    The Welch–Satterthwaite formula. The parts must be independent of each other.

    Examples
    --------
    >>> round(effective_degrees(1.03, [(0.25, 9), (0.57, 4), (0.82, 14)]), 1)
    19.0

    References
    ----------
    JCGM 100:2008 (GUM), G.4.1, equation (G.2b) and its example.
    """
    if not combined:
        return math.inf
    weight = math.fsum((part / combined) ** 4 / degrees for part, degrees in parts)
    return 1 / weight if weight else math.inf


def coverage_factor(degrees: float) -> float:
    """Return the factor k that makes an expanded uncertainty of about 95 % (95.45 %).

    Parameters
    ----------
    degrees : float
        Effective degrees of freedom, 1 or more; a number between two of the table counts as the
        lower one, and beyond 100 the factor falls evenly with 1/ν.

    Returns
    -------
    float
        2 for very many.

    Examples
    --------
    >>> coverage_factor(2.9), coverage_factor(20), coverage_factor(100), coverage_factor(float("inf"))
    (4.53, 2.13, 2.025, 2.0)

    References
    ----------
    JCGM 100:2008 (GUM), Table G.2, column 95.45 %; G.4.1, Note 1 for what lies between.
    """
    if degrees >= _MANY:
        return 2 + _BEYOND / degrees
    return next((factor for most, factor in reversed(_FACTORS) if most <= degrees + 1e-9), _FACTORS[0][1])


def widened(value: Any, factor: float) -> Any:
    """Return a value whose uncertainty is so many times as wide, each reading's share of it unchanged.

    Parameters
    ----------
    value : ufloat, [any]
    factor : float

    Notes
    -----
    A result printed and passed on with k = 2 then has the expanded uncertainty that the few
    readings behind it allow: ``widened(value, coverage_factor(degrees) / 2)``.

    Examples
    --------
    >>> from uncertainties import ufloat
    >>> print(widened(ufloat(49.5, 0.1), 1.5))
    49.50+/-0.15
    """
    middle = value.nominal_value
    return middle + (value - middle) * factor
