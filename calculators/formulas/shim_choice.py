"""Shims under a set of springs: near to the height that is wanted, and all alike."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

MOST_SHIMS = 2
"""A thicker pile shifts and frets (common practice, no source)."""
EVEN = 0.05
"""Millimetres: sets whose spread of heights differs by less than this are equally even."""
_GRAIN = 1e-6  # millimetres: what a sum of decimals may be out by


def shim_stacks(shims: Sequence[float]) -> tuple[tuple[float, ...], ...]:
    """Return every pile of up to two shims, none first; of piles equally thick the one of fewest.

    A thickness can be used as often as is wanted.

    Examples
    --------
    >>> shim_stacks((0.5, 1.0))
    ((), (0.5,), (1.0,), (0.5, 1.0), (1.0, 1.0))
    """
    kinds = sorted(set(shims))
    piles = itertools.chain.from_iterable(
        itertools.combinations_with_replacement(kinds, count) for count in range(MOST_SHIMS + 1)
    )
    first: dict[float, tuple[float, ...]] = {}
    for pile in piles:  # of piles equally thick the one of the fewest shims
        first.setdefault(round(sum(pile), 6), pile)
    return tuple(first.values())


def even_shims(
    heights: Sequence[float], stacks: Sequence[tuple[float, ...]], wanted: float, within: float, least: float
) -> tuple[tuple[float, ...], ...]:
    """Return a pile of shims for each valve, so that the springs are fitted alike.

    Parameters
    ----------
    heights : sequence of float, [mm]
        Installed height of each valve without shims; one at least.
    stacks : sequence of tuple of float, [mm]
    wanted, within : float, [mm]
        The height wanted, and by how much it may be missed.
    least : float, [mm]
        A height that no spring may go below.

    Returns
    -------
    tuple of tuple of float
        The least spread of heights, in steps of 0.05 mm; among sets equally even the one nearest
        to the height wanted. A valve that no pile brings within the band takes the pile that
        comes nearest to it and stays above ``least``; where none does, no shim.

    Notes
    -----
    All heights that the valves can have are sorted; the narrowest stretch that holds one of
    each valve is found in one pass.

    Examples
    --------
    >>> even_shims((38.4, 38.9), ((), (0.5,), (1.0,)), 38.0, 0.5, 30.0)
    ((0.5,), (1.0,))
    """
    options = [_in_band(height, stacks, wanted, within, least) for height in heights]
    points = sorted((height, valve) for valve, piles in enumerate(options) for height in piles)
    low, high = _narrowest(points, {valve for valve, piles in enumerate(options) if piles}, wanted)
    chosen = []
    for height, piles in zip(heights, options, strict=True):
        fitting = [after for after in piles if low <= after <= high]
        if fitting:
            chosen.append(piles[min(fitting, key=lambda after: abs(after - wanted))])
        else:
            chosen.append(_nearest(height, stacks, wanted, least))
    return tuple(chosen)


def _in_band(
    height: float, stacks: Sequence[tuple[float, ...]], wanted: float, within: float, least: float
) -> dict[float, tuple[float, ...]]:
    """Return the heights that a valve can be brought to, each with its pile."""
    reached = {round(height - sum(pile), 6): pile for pile in stacks}
    return {after: pile for after, pile in reached.items() if after >= least and abs(after - wanted) <= within + _GRAIN}


def _narrowest(points: Sequence[tuple[float, int]], valves: set[int], wanted: float) -> tuple[float, float]:
    """Return the ends of the narrowest stretch that holds a height of each valve; nothing wide where there is none."""
    counts = dict.fromkeys(valves, 0)
    held, start = 0, 0
    best: tuple[tuple[int, float], tuple[float, float]] | None = None
    for height, valve in points:
        held += counts[valve] == 0
        counts[valve] += 1
        while held == len(valves):
            low, leaving = points[start]
            rank = round((height - low) / EVEN), abs((low + height) / 2 - wanted)
            if best is None or rank < best[0]:
                best = rank, (low, height)
            counts[leaving] -= 1
            held -= counts[leaving] == 0
            start += 1
    return best[1] if best else (wanted, wanted)


def _nearest(height: float, stacks: Sequence[tuple[float, ...]], wanted: float, least: float) -> tuple[float, ...]:
    allowed = [pile for pile in stacks if height - sum(pile) >= least]
    return min(allowed, key=lambda pile: abs(height - sum(pile) - wanted), default=())
