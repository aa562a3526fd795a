"""The smallest set of crank positions at which every valve is once on its base circle."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from calculators.formulas.base_circle import CYCLE, Window, depth, inside

HAIR = 1e-6
"""Degrees of crank by which two angles may differ and be one."""
_FINEST = 0.5  # degrees of crank to which the deepest stops are sought


def deepest_stops(windows: Sequence[Window], places: Sequence[float] | None = None) -> tuple[float, ...] | None:
    """Return the fewest stops, and of all such sets one whose shallowest valve lies deepest.

    Parameters
    ----------
    windows : sequence of Window, [°]
    places : sequence of float, optional, [°]
        The only angles allowed, of sets equally deep one with the first of them; without
        them any angle is allowed.

    Returns
    -------
    tuple of float or None
        Rising; None where a window holds none of the places.

    Notes
    -----
    Windows drawn in at both ends by as much as still lets the same number of stops do:
    found by halving, to half a degree. Then each stop moves to the middle of what its
    valves share, unless places bind it.

    Examples
    --------
    >>> deepest_stops([Window(0.0, 100.0), Window(20.0, 100.0)])
    (60.0,)
    """
    needed = _needed(windows)
    best = _fewest(needed, places)
    if best is None:
        return None
    drawn_in, too_far = 0.0, min(length for _, length in needed) / 2 + _FINEST
    while too_far - drawn_in > _FINEST:
        middle = (drawn_in + too_far) / 2
        found = _fewest(_drawn_in(needed, middle), places, len(best))
        if found:
            drawn_in, best = middle, found
        else:
            too_far = middle
    if places is None:
        return _centred(needed, best)
    return _swept(_drawn_in(needed, drawn_in), sorted(places), places[0], len(best)) or best


def _drawn_in(windows: Sequence[Window], by: float) -> list[Window]:
    return [Window(start + by, length - 2 * by) for start, length in windows]


def _fewest(
    windows: Sequence[Window], places: Sequence[float] | None, most: int | None = None
) -> tuple[float, ...] | None:
    """Return the fewest stops, or None where there are none or they are more than ``most``."""
    if min(length for _, length in windows) < 0:
        return None
    ends = sorted((start + length) % CYCLE for start, length in windows)
    allowed = sorted({place % CYCLE for place in places}) if places is not None else ends
    start, length = min(windows, key=lambda window: window.length)
    best: tuple[float, ...] | None = None
    limit = len(windows) if most is None else most
    for cut in allowed:
        if (cut - start) % CYCLE > length + HAIR and CYCLE - (cut - start) % CYCLE > HAIR:
            continue
        found = _swept(windows, allowed, cut, limit)
        if found is not None:
            best, limit = found, len(found) - 1
    return best


def _swept(windows: Sequence[Window], allowed: Sequence[float], cut: float, most: int) -> tuple[float, ...] | None:
    """Return the fewest stops of which one stands at ``cut``, or None where they are more than ``most``."""
    left = []  # the windows that the cut leaves, as they lie on the line from it on: end and start
    for start, length in windows:
        begins = (start - cut) % CYCLE
        if begins > HAIR and begins + length < CYCLE - HAIR:
            left.append((begins + length, begins))
    left.sort()
    line = sorted((place - cut) % CYCLE for place in allowed)
    stops = [0.0]
    for end, begins in left:
        if stops[-1] >= begins - HAIR:
            continue
        last = line[bisect_right(line, end + HAIR) - 1]
        if last < begins - HAIR or len(stops) == most:
            return None
        stops.append(last)
    return tuple(sorted((stop + cut) % CYCLE for stop in stops)) if len(stops) <= most else None


def _needed(windows: Sequence[Window]) -> list[Window]:
    """Drop each window that holds another whole: what meets the inner one meets it too."""
    kept: list[Window] = []
    for start, length in sorted(set(windows), key=lambda window: window.length):
        if not any((inner.start - start) % CYCLE + inner.length <= length + HAIR for inner in kept):
            kept.append(Window(start, length))
    return kept


def _centred(windows: Sequence[Window], stops: Sequence[float]) -> tuple[float, ...]:
    """Move each stop to the middle of what the windows share that lie deepest at it."""
    shared: dict[float, list[Window]] = {stop: [] for stop in stops}
    for window in windows:
        shared[max(stops, key=lambda stop: depth(window, stop))].append(window)
    moved = []
    for stop, held in shared.items():
        room = [inside(window, stop) for window in held] or [(0.0, 0.0)]
        behind, ahead = (min(side) for side in zip(*room, strict=True))
        moved.append((stop + (ahead - behind) / 2) % CYCLE)
    return tuple(sorted(moved))
