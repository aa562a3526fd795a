"""Which throttles to move so that all read alike, and which may stay."""

from __future__ import annotations

from collections.abc import Sequence


def staying(readings: Sequence[float], width: float, fixed: int | None = None) -> tuple[int, ...]:
    """Return the throttles that may stay as they are: the most that lie within one width of each other.

    Parameters
    ----------
    readings : sequence of float, [any]
    width : float, [the same]
        Greatest difference allowed.
    fixed : int, optional
        Place of one that must be among them.

    Returns
    -------
    tuple of int
        Places, from 0 up. Of several choices the one nearest to the mean of all.

    Examples
    --------
    >>> staying((6.0, 6.2, 7.1, 6.1), 0.3), staying((6.0, 6.2, 7.1, 6.1), 0.3, fixed=2)
    ((0, 1, 3), (2,))
    """
    mean = sum(readings) / len(readings)
    grain = 1e-9 * max(map(abs, readings))
    best: tuple[int, ...] = ()
    worth: tuple[int, float] = (0, 0.0)
    for low in sorted(set(readings)):
        within = tuple(place for place, one in enumerate(readings) if low <= one <= low + width + grain)
        if fixed is not None and fixed not in within:
            continue
        rank = (len(within), -abs(middle([readings[place] for place in within]) - mean))
        if not best or rank > worth:
            best, worth = within, rank
    return best


def middle(readings: Sequence[float]) -> float:
    """Return the value half-way between the least and the greatest.

    Examples
    --------
    >>> middle((6.0, 6.2, 6.1))
    6.1
    """
    return (min(readings) + max(readings)) / 2
