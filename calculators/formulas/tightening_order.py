"""The order in which to tighten a pattern of studs, so that the part stays square on its seat."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

Point = tuple[float, float]

EXACT_TO = 11
"""Up to so many studs no set of them is ever passed over, so that the order found is the squarest there is."""
_GRID = 10**9
"""Places are rounded to this part of the reach, so that orders alike by symmetry come out equal."""
_OUTWARD = 10**6
"""Part of the arms' lengths that counts beside the imbalance: next to nothing, but it decides among equals."""
_FIRST_LOOK, _WIDTH, _WIDEST = 14, 100, math.comb(EXACT_TO, EXACT_TO // 2)
"""So many sets of each length are followed: at first; above 12 studs, which a phone does between two keys; to 12."""


@dataclass(frozen=True, slots=True)
class SquareOrder:
    """An order of studs, how lopsided it is, and how far that may be from the best.

    Parameters
    ----------
    order : tuple of int
        Indices into the positions.
    imbalance, least : float, [unit of the positions]
        Imbalance summed over all steps, and what no order at all can go below.
    proved : bool
        No order is squarer, by more than a ten-thousandth.
    """

    order: tuple[int, ...]
    imbalance: float
    least: float
    proved: bool


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
        pattern's centroid: the tilting moment for one unit of clamp per stud.

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
def square_order(positions: tuple[Point, ...]) -> SquareOrder:
    """Return the order with the least imbalance summed over all steps.

    Parameters
    ----------
    positions : tuple of (x, y), [any length unit]
        Two or more, no two in one place.

    Returns
    -------
    SquareOrder
        Of orders that are equally square, the one that works outward from the middle;
        of those, the one that begins farthest up, then farthest left.

    Notes
    -----
    The imbalance S after k studs depends on which they are, not on how they were reached,
    so the best order is a shortest path through the sets of studs (dynamic programming
    over subsets). Two neighbouring steps and the stud r between them make a triangle,
    |S| + |S'| ≥ |r|; so studs still to come cost (Σ|r| − |S|) / 2 at the least, and a
    set that cannot beat an order already known is dropped for good. The studs not in a
    set are as lopsided as those in it, so half the lengths tell what the others cost.
    To ``EXACT_TO`` studs nothing else is dropped. Above, each length keeps its most
    promising sets only; if one that was passed over might have been better, the order
    is not called proved, and ``least`` says how much better at the most.
    What the studs are called, and in which order they are listed, changes nothing.

    References
    ----------
    M. Held, R. M. Karp, A dynamic programming approach to sequencing problems,
    J. SIAM 10 (1962) 196-210 (the method).
    """
    listed = sorted(range(len(positions)), key=lambda index: (-positions[index][1], positions[index][0]))
    middle_x, middle_y = centroid([positions[index] for index in listed])
    arms = [complex(positions[index][0] - middle_x, positions[index][1] - middle_y) for index in listed]
    grid = _GRID / (max(map(abs, arms)) or 1.0)
    arms = [complex(round(arm.real * grid), round(arm.imag * grid)) for arm in arms]
    rounding = len(arms) * (2 + abs(sum(arms)) + sum(map(abs, arms)) / _OUTWARD)
    cost, places, _ = _search(arms, _FIRST_LOOK, math.inf, rounding)
    width = _WIDEST if len(arms) <= 12 else _WIDTH
    again, found, passed_over = _search(arms, width, cost + rounding, rounding)
    if again <= cost:
        cost, places = again, found
    order = tuple(listed[place] for place in places)
    imbalance = math.fsum(imbalances(positions, order))
    proved = passed_over + rounding >= cost
    least = imbalance if proved else min(imbalance, max(0.0, (passed_over - rounding) / grid))
    return SquareOrder(order, imbalance, least, proved)


def _search(arms: list[complex], width: int, limit: float, rounding: float) -> tuple[float, list[int], float]:
    """Look for the squarest order, from the whole set downwards, so that its first studs are settled last.

    Parameters
    ----------
    arms : list of complex
        From the centroid, in whole steps of the grid.
    width : int
        How many sets of each length are followed.
    limit : float
        What the order must not cost more than; one is known that does not.
    rounding : float
        What rounding to the grid, and the outwardness, may change a cost by.

    Returns
    -------
    tuple of (float, list of int, float)
        What the order costs, the order, and the least that any order through a set
        passed over for want of width might have cost. Where all that was followed
        turned out dearer than the limit, an endless cost and no order.
    """
    whole = (1 << len(arms)) - 1
    studs = [(1 << place, arm, abs(arm) / 2, int(abs(arm) / _OUTWARD)) for place, arm in enumerate(arms)]
    # of each set: cost of the studs after it, the set, its sum of arms, half its arms' lengths, outwardness, the way on
    layer: list[Any] = [(0, whole, 0j, sum(stud[2] for stud in studs), sum(stud[3] for stud in studs), None)]
    settled = {whole: 0}
    passed_over, sure = math.inf, False
    for size in reversed(range(len(arms))):
        sure = sure or (2 * size < len(arms) and passed_over == math.inf)  # all that counts of the others is settled
        reached: dict[int, Any] = {}
        for way in layer:  # the cheapest first, so that the first way to a set is its best
            cost, tight, lopsided, half, outward, _ = way
            for bit, arm, half_length, length in studs:
                if tight & bit and (left := tight ^ bit) not in reached:
                    here = lopsided - arm
                    imbalance = int(abs(here))
                    out = outward - length
                    dear = cost + imbalance + out
                    rest = half - half_length
                    others = settled.get(whole ^ left)
                    if others is not None:
                        bound = dear + others - imbalance - rounding
                        limit = min(limit, bound + 2 * rounding) if sure else limit
                    else:
                        bound = math.inf if sure else dear + rest - imbalance / 2
                    reached[left] = (bound, dear, left, here, rest, out, (bit, way)) if bound <= limit else None
        found = [entry for entry in reached.values() if entry and entry[0] <= limit]
        if len(found) > width:
            found.sort()
            passed_over = min(passed_over, found[width][0])
            del found[width:]
        if 2 * size > len(arms):
            settled |= {entry[2]: entry[1] for entry in found}
        if not found:
            return math.inf, [], passed_over
        layer = sorted([entry[1:] for entry in found])
    cost, *_, way_on = layer[0]
    order = []
    while way_on:
        bit, way = way_on
        order.append(bit.bit_length() - 1)
        way_on = way[-1]
    return cost, order, passed_over


def edge_order(positions: Sequence[Point]) -> tuple[int, ...]:
    """Return the order that goes round the edge, from the starting stud that suits it best."""
    middle_x, middle_y = centroid(positions)
    arms = [complex(x - middle_x, y - middle_y) for x, y in positions]
    ring = sorted(range(len(arms)), key=lambda index: -math.atan2(arms[index].imag, arms[index].real))
    # begun at another stud, every sum of arms is less by the sum of those now left to the end
    sums = [0j]
    for index in ring[:-1]:
        sums.append(sums[-1] + arms[index])
    totals = [sum(abs(reached - skipped) for reached in sums) for skipped in sums]
    start = totals.index(min(totals))
    return (*ring[start:], *ring[:start])
