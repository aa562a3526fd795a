"""The plane that lies best through readings taken at equal steps round a circle: mean depth and tilt."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Plane:
    """A plane over a circle, [the readings' unit].

    Parameters
    ----------
    middle : float
        Depth at the centre: the mean of the readings.
    along, across : float
        How much deeper it is at the first point than at the centre, and at a quarter turn past it.
    residuals : tuple of float
        Each reading less the plane.
    """

    middle: float
    along: float
    across: float
    residuals: tuple[float, ...]

    @property
    def rise(self) -> float:
        """How much deeper the deepest place of the circle is than its centre."""
        return math.hypot(self.along, self.across)

    @property
    def deepest(self) -> float:
        """Where the deepest place is, in degrees from the first point, in the order of the readings; 0 where level."""
        return math.degrees(math.atan2(self.across, self.along)) % 360 if self.rise else 0.0


def best_plane(readings: Sequence[float]) -> Plane:
    r"""Fit a plane by least squares.

    Parameters
    ----------
    readings : sequence of float, [any]
        Depths at three points or more, equally spaced round a circle, in order.

    Returns
    -------
    Plane

    Notes
    -----
    .. math::
        z_k = m + a \cos\theta_k + b \sin\theta_k \qquad \theta_k = 2 \pi k / n

        m = \frac{1}{n} \sum z_k \quad a = \frac{2}{n} \sum z_k \cos\theta_k
        \quad b = \frac{2}{n} \sum z_k \sin\theta_k

    At equal steps the three columns stand square to each other, so that these sums are the least-squares
    answer. With scatter s of one reading, u(m) = s/√n and u(a) = u(b) = s·√(2/n). Three points
    leave no residual.

    Examples
    --------
    >>> plane = best_plane((0.45, 0.42, 0.39, 0.42))
    >>> round(plane.middle, 4), round(plane.along, 4), round(abs(plane.across), 4)
    (0.42, 0.03, 0.0)

    References
    ----------
    Normal equations of linear least squares; JCGM 100:2008 (GUM), 4.2.4 and H.3 for a fit's scatter.
    """
    count = len(readings)
    turns = [2 * math.pi * step / count for step in range(count)]
    middle = math.fsum(readings) / count
    along = 2 / count * math.fsum(depth * math.cos(turn) for depth, turn in zip(readings, turns, strict=True))
    across = 2 / count * math.fsum(depth * math.sin(turn) for depth, turn in zip(readings, turns, strict=True))
    residuals = tuple(
        depth - middle - along * math.cos(turn) - across * math.sin(turn)
        for depth, turn in zip(readings, turns, strict=True)
    )
    return Plane(middle, along, across, residuals)
