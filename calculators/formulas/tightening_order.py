"""The order in which to tighten a pattern of studs, so that the part stays square on its seat."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

Point = tuple[float, float]

EXACT_TO = 12
"""Up to so many studs every order is weighed; above, the best few hundred part-orders of each length."""
_BREADTH = 200
_GRAIN = 1e-6


def centroid(positions: Sequence[Point]) -> Point:
    """Return the middle of a pattern: the mean of its studs, in their own unit."""
    return (
        math.fsum(x for x, _ in positions) / len(positions),
        math.fsum(y for _, y in positions) / len(positions),
    )


def imbalances(positions: Sequence[Point], order: Sequence[int]) -> tuple[float, ...]:
    """Return how lopsided the clamping is after each stud of an order.

    Parameters
    ----------
    positions : sequence of (x, y), [any length unit]
    order : sequence of int
        Indices into ``positions``, each once.

    Returns
    -------
    tuple of float, [the same unit]
        After k studs, the length of Σ(r − c) over the tightened ones, where c is the
        pattern's centroid: the tilting moment for one unit of clamp a stud.

    Notes
    -----
    The last entry is nought by definition. All studs are taken to clamp alike.

    Examples
    --------
    >>> square = [(-1, 1), (1, 1), (-1, -1), (1, -1)]
    >>> [round(value, 3) for value in imbalances(square, [0, 3, 1, 2])]
    [1.414, 0.0, 1.414, 0.0]
    """
    middle_x, middle_y = centroid(positions)
    x = y = 0.0
    result = []
    for index in order:
        x += positions[index][0] - middle_x
        y += positions[index][1] - middle_y
        result.append(math.hypot(x, y))
    return tuple(result)


@lru_cache(maxsize=64)
def tightening_order(positions: tuple[Point, ...]) -> tuple[int, ...]:
    """Return the order with the least imbalance summed over all steps.

    Parameters
    ----------
    positions : tuple of (x, y), [any length unit]
        Two or more, no two in one place.

    Returns
    -------
    tuple of int
        Indices into ``positions``. Of orders that are equally square, the one that
        works outward from the middle; of those, the one first in the alphabet of indices.

    Notes
    -----
    The imbalance after k studs depends on which they are, not on how they were reached,
    so the best order is a shortest path through the sets of studs (dynamic programming
    over subsets, as for the travelling salesman). To ``EXACT_TO`` studs the search is
    exact; above, each length keeps its most promising sets only, and the answer is
    never worse than the edge order.

    References
    ----------
    M. Held, R. M. Karp, A dynamic programming approach to sequencing problems,
    J. SIAM 10 (1962) 196-210 (the method).
    """
    middle_x, middle_y = centroid(positions)
    arms = [(x - middle_x, y - middle_y) for x, y in positions]
    reach = max(math.hypot(x, y) for x, y in arms) or 1.0
    count = len(arms)
    breadth = math.inf if count <= EXACT_TO else _BREADTH
    # set of studs → (imbalance so far, outwardness so far, order); whole numbers, so that equals are equal
    layer: dict[int, tuple[int, int, tuple[int, ...]]] = {0: (0, 0, ())}
    sums: dict[int, Point] = {0: (0.0, 0.0)}
    for step in range(count):
        reached: dict[int, tuple[int, int, tuple[int, ...]]] = {}
        for studs, (cost, outward, order) in layer.items():
            x, y = sums[studs]
            for index, (arm_x, arm_y) in enumerate(arms):
                if studs >> index & 1:
                    continue
                wider = studs | 1 << index
                if wider not in sums:
                    sums[wider] = (x + arm_x, y + arm_y)
                lopsided = math.hypot(*sums[wider]) / reach
                found = (
                    cost + round(lopsided / _GRAIN),
                    outward + (count - step) * round(math.hypot(arm_x, arm_y) / reach / _GRAIN),
                    (*order, index),
                )
                if wider not in reached or found < reached[wider]:
                    reached[wider] = found
        if len(reached) > breadth:
            kept = sorted(reached, key=reached.__getitem__)[: int(breadth)]
            reached = {studs: reached[studs] for studs in kept}
        layer = reached
    order = layer[(1 << count) - 1][2]
    if count > EXACT_TO:  # a bounded search alone would promise nothing
        return min(order, edge_order(positions), key=lambda found: math.fsum(imbalances(positions, found)))
    return order


def edge_order(positions: Sequence[Point]) -> tuple[int, ...]:
    """Return the order that goes round the edge, from the starting stud that suits it best."""
    middle_x, middle_y = centroid(positions)
    ring = sorted(
        range(len(positions)),
        key=lambda index: -math.atan2(positions[index][1] - middle_y, positions[index][0] - middle_x),
    )
    starts = [tuple(ring[start:] + ring[:start]) for start in range(len(ring))]
    return min(starts, key=lambda order: math.fsum(imbalances(positions, order)))
