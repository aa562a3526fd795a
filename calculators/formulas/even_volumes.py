"""How far chambers of unlike volume can be evened by taking metal out of the small ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Evened:
    """What one chamber gets: so much out, so much short of the largest after it."""

    out: float
    short: float


def even_volumes(volumes: Sequence[float], most_out: Sequence[float | None]) -> tuple[Evened, ...]:
    """Return what to take out of each chamber to bring all to the largest, and stop at each one's limit.

    Parameters
    ----------
    volumes : sequence of float, [volume]
        One at least.
    most_out : sequence of (float or None), [volume]
        What each may lose, nought or more; None where the wall was not measured, so that nothing may be taken.

    Notes
    -----
    Metal only goes out, never in. Nothing is taken beyond the largest chamber as found, since every
    cubic centimetre lowers the ratio of all.

    Examples
    --------
    >>> even_volumes((49.5, 48.5, 47.5), (1.0, 2.0, 1.5))
    (Evened(out=0.0, short=0.0), Evened(out=1.0, short=0.0), Evened(out=1.5, short=0.5))
    """
    largest = max(volumes)
    return tuple(
        Evened(out, largest - volume - out)
        for volume, most in zip(volumes, most_out, strict=True)
        for out in (min(largest - volume, most or 0.0),)
    )


def room_to_wall(area: float, wall: float, least: float) -> float:
    """Return the volume that may go before a wall is down to its least.

    Parameters
    ----------
    area : float, [cm²]
        Ground evenly.
    wall, least : float, [mm]
        As measured where it is thinnest, and what must be left.

    Returns
    -------
    float, [cm³]
        Not negative.

    Examples
    --------
    >>> room_to_wall(20.0, 5.0, 4.0)
    2.0
    """
    return max(0.0, area * (wall - least) / 10)
