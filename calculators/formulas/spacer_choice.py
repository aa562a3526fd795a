"""The best spacers under the barrels: one stack a barrel, barrel tops level, and no more than the drawer holds."""

from __future__ import annotations

import bisect
import heapq
import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from operator import mul
from typing import NamedTuple

GRAIN = 1e-9
"""Deviations nearer to each other than this are equal."""
HEIGHT_GRAIN = 1e-6
"""Heights nearer to each other than this, in the caller's unit, are equal: a nanometre in mm."""
WORK = 15000
"""So many part-choices are weighed at most in the two searches together: some 35 ms of a desk computer."""
_PARTS = 1000  # weighs a deviation's grain against parts; more than all the spacers of an engine


class TooManyChoices(Exception):
    """The best choice cannot be proved within ``WORK`` part-choices."""


Weight = tuple[int, int, int, tuple[int, ...]]
"""What stacks are ranked by: worst deviation, sum of deviations, pieces, stacks."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Spacers one on the other.

    ``pieces`` are indices into the thicknesses, thickest first; ``height`` their sum in
    the same unit; ``grains`` that height in whole ``HEIGHT_GRAIN``.
    """

    pieces: tuple[int, ...]
    height: float
    grains: int


@dataclass(frozen=True)
class Question:
    """What is asked.

    Parameters
    ----------
    heads : tuple of tuple of int
        The cylinders under each head, each cylinder once, counted from nought.
    stacks : tuple of Stack
    stock : tuple of int
        How many pieces of each thickness the drawer has.
    deviations : tuple of tuple of float
        By cylinder and stack: how far from the target.
    allowed : tuple of tuple of bool
        By cylinder and stack: whether the stack may go under that cylinder at all.
    lengths : tuple of float, [unit of the stacks' height]
        Of the barrels, shoulder to top.
    level : float, [the same unit]
        Barrel tops under one head allowed difference so much.
    """

    heads: tuple[tuple[int, ...], ...]
    stacks: tuple[Stack, ...]
    stock: tuple[int, ...]
    deviations: tuple[tuple[float, ...], ...]
    allowed: tuple[tuple[bool, ...], ...]
    lengths: tuple[float, ...]
    level: float

    def top(self, cylinder: int, stack: int) -> int:
        """Return the height of a barrel's top on a stack, in grains."""
        return round(self.lengths[cylinder] / HEIGHT_GRAIN) + self.stacks[stack].grains

    def step(self, head: Sequence[int], stacks: Sequence[int]) -> float:
        """Return how far apart the barrel tops of a head stand on these stacks, in the heights' unit."""
        tops = [self.top(cylinder, stack) for cylinder, stack in zip(head, stacks, strict=True)]
        return (max(tops) - min(tops)) * HEIGHT_GRAIN

    def shortages(self, stacks: Sequence[int]) -> list[tuple[int, int]]:
        """Return each size of which the drawer has too few for these stacks, and how many they need."""
        needs: dict[int, int] = {}
        for stack in stacks:
            for size in self.stacks[stack].pieces:
                needs[size] = needs.get(size, 0) + 1
        return [(size, need) for size, need in sorted(needs.items()) if need > self.stock[size]]

    def thicknesses(self) -> list[int]:
        """Return the thickness of each size, in grains."""
        single = {stack.pieces[0]: stack.grains for stack in self.stacks if len(stack.pieces) == 1}
        return [single[size] for size in range(len(self.stock))]

    @cached_property
    def off(self) -> tuple[tuple[int, ...], ...]:
        """The deviations in whole ``GRAIN``."""
        return tuple(tuple(round(deviation / GRAIN) for deviation in deviations) for deviations in self.deviations)

    @cached_property
    def unstinted(self) -> tuple[int, ...] | None:
        """What would be chosen if the drawer held any number of each size."""
        return _unstinted_choice(self)

    def costs(self) -> list[dict[int, int]]:
        """Return for each cylinder the deviation, in grains, of every stack that it is allowed."""
        return [
            {stack: cost for stack, cost in enumerate(costs) if allowed[stack]}
            for costs, allowed in zip(self.off, self.allowed, strict=True)
        ]

    def worst(self, choice: Sequence[int]) -> int:
        """Return the cylinder that is farthest from the target on its stack of a choice for all."""
        return max(range(len(choice)), key=lambda cylinder: self.deviations[cylinder][choice[cylinder]])

    def weighed(self, head: Sequence[int], stacks: Sequence[int]) -> Weight:
        """Return what one head's stacks are ranked by: worst deviation, sum of them, pieces, stacks."""
        costs = [self.off[cylinder][stack] for cylinder, stack in zip(head, stacks, strict=True)]
        return max(costs), sum(costs), sum(len(self.stacks[stack].pieces) for stack in stacks), tuple(stacks)


@lru_cache(maxsize=64)
def stacks_of(thicknesses: tuple[float, ...], most: int) -> tuple[Stack, ...]:
    """Return every stack of so many pieces at most, none included.

    Parameters
    ----------
    thicknesses : tuple of float, [any length unit]
        No two alike.
    most : int
        Pieces in one stack.

    Returns
    -------
    tuple of Stack
        By height; of one height by the number of pieces, then by the thickest piece.

    Examples
    --------
    >>> [stack.pieces for stack in stacks_of((0.25, 0.5), 2)]
    [(), (0,), (1,), (0, 0), (1, 0), (1, 1)]
    """
    thickest_first = sorted(range(len(thicknesses)), key=lambda size: -thicknesses[size])
    found = []
    for count in range(most + 1):
        for pieces in itertools.combinations_with_replacement(thickest_first, count):
            height = sum(thicknesses[size] for size in pieces)
            found.append(Stack(pieces, height, round(height / HEIGHT_GRAIN)))
    return tuple(
        sorted(
            found,
            key=lambda stack: (stack.grains, len(stack.pieces), [-thicknesses[size] for size in stack.pieces]),
        )
    )


def best_choice(question: Question) -> tuple[int, ...] | None:
    """Return the best stack for each cylinder.

    Parameters
    ----------
    question : Question

    Returns
    -------
    tuple of int, or None
        Indices into ``question.stacks``, by cylinder: of all choices that are level under
        each head and that the drawer can serve, the one with the smallest worst
        deviation; then with the smallest sum of them, the fewest pieces, and the earliest
        stacks. None where there is no such choice.

    Raises
    ------
    TooManyChoices

    Notes
    -----
    What would be best if the drawer held any number of each size is worked out head by
    head; where the drawer has it, it is the answer. Else two best-first searches, each
    exact. The first finds the least worst deviation; the
    second, among stacks no worse than it, the least sum, then the fewest pieces: both
    only add up, so that part-choices which leave the same spacers in the drawer can be
    compared and all but the best dropped. The bound on what is still to come is the
    best that each remaining barrel could have if the drawer were full.

    Level tops are searched as windows: the lowest top under a head may be any, and the
    others lie at most ``level`` above it.

    References
    ----------
    P. E. Hart, N. J. Nilsson, B. Raphael, A formal basis for the heuristic determination
    of minimum cost paths, IEEE Trans. Syst. Sci. Cybern. 4 (1968) 100-107 (the method).
    """
    unstinted = question.unstinted
    if unstinted is None or not question.shortages(unstinted):
        return unstinted
    costs = question.costs()
    rough, work = _search(question, costs, max, WORK, depth_first=True)
    if rough is None:
        return None
    worst = max(costs[cylinder][stack] for cylinder, stack in enumerate(rough))
    return _search(question, _with_parts(question, costs, worst), int.__add__, WORK - work, depth_first=False)[0]


def _unstinted_choice(question: Question) -> tuple[int, ...] | None:
    """Return what ``best_choice`` would if the drawer held any number of each size: no heads vie for a piece."""
    costs = question.costs()
    plans = [list(windows(question, costs, head)) for head in question.heads]
    if not all(plans):
        return None
    worst = max(min(_rest(window, max)[0] for window in plan) for plan in plans)
    sums = _with_parts(question, costs, worst)
    choice: dict[int, int] = {}
    for head in question.heads:
        picks = [
            [min(options, key=lambda option: (option[1], option[0])) for options in window]
            for window in windows(question, sums, head)
        ]
        best = min(picks, key=lambda picked: (sum(cost for _, cost in picked), [stack for stack, _ in picked]))
        choice |= {cylinder: stack for cylinder, (stack, _) in zip(head, best, strict=True)}
    return tuple(choice[cylinder] for cylinder in sorted(choice))


Costs = Sequence[dict[int, int]]


def _with_parts(question: Question, costs: Costs, worst: int) -> Costs:
    """Return the costs up to the worst one, each with the number of pieces as its last digits."""
    return [
        {stack: cost * _PARTS + len(question.stacks[stack].pieces) for stack, cost in each.items() if cost <= worst}
        for each in costs
    ]


Window = list[list[tuple[int, int]]]
"""For each cylinder of a head, in its order: (stack, cost) of those that come level."""


def windows(question: Question, costs: Costs, head: Sequence[int]) -> Iterator[Window]:
    """Yield the widest sets of stacks whose barrel tops are level under a head, lowest first."""
    level = round(question.level / HEIGHT_GRAIN)
    if len(head) == 1:  # a barrel alone is always level
        if costs[head[0]]:
            yield [list(costs[head[0]].items())]
        return
    tops = [sorted((question.top(cylinder, stack), stack) for stack in costs[cylinder]) for cylinder in head]
    reached = None
    for lowest in sorted({top for options in tops for top, _ in options}):
        spans = [
            options[bisect.bisect_left(options, (lowest, -1)) : bisect.bisect_left(options, (lowest + level + 1, -1))]
            for options in tops
        ]
        if not all(spans):
            continue
        highest = max(span[-1][0] for span in spans)
        if highest == reached:  # all of these stood in the window before
            continue
        reached = highest
        yield [
            [(stack, costs[cylinder][stack]) for _, stack in span] for cylinder, span in zip(head, spans, strict=True)
        ]


def least_step(question: Question, head: Sequence[int]) -> float:
    """Return how far apart the barrel tops under a head remain at best, drawer full, in the heights' unit.

    Every cylinder of the head must have a stack that may go under it.
    """
    tops = [
        sorted(question.top(cylinder, stack) for stack, allowed in enumerate(question.allowed[cylinder]) if allowed)
        for cylinder in head
    ]
    steps = []
    for lowest in {top for options in tops for top in options}:
        above = [bisect.bisect_left(options, lowest) for options in tops]
        if all(place < len(options) for place, options in zip(above, tops, strict=True)):
            highest = max(options[place] for place, options in zip(above, tops, strict=True))
            steps.append(highest - lowest)
    return min(steps) * HEIGHT_GRAIN


class _Part(NamedTuple):
    """A part-choice: stacks of the first cylinders, what they cost, what they leave."""

    chosen: tuple[int, ...]
    cost: int
    head: int
    window: int  # -1 where the head is not begun
    drawer: tuple[int, ...]


def _search(
    question: Question, costs: Costs, join: Callable[[int, int], int], most_work: int, *, depth_first: bool
) -> tuple[tuple[int, ...] | None, int]:
    """Return the choice whose costs, joined, are least, and how many part-choices were weighed.

    Of equals it is the one with the earliest stacks; ``depth_first`` instead takes
    whichever of them is complete soonest. A part-choice's successors are put in line one
    by one, the most promising first, each when the one before it has been looked into.
    """
    plans = [list(windows(question, costs, head)) for head in question.heads]
    if not all(plans):
        return None, 0
    cylinders = [cylinder for head in question.heads for cylinder in head]
    starts = list(itertools.accumulate((len(head) for head in question.heads), initial=0))
    last = len(cylinders)
    # rests[head][window][n]: the least cost of the head's n-th and later cylinders
    rests = [[_rest(window, join) for window in plan] for plan in plans]
    by_promise = [
        sorted(range(len(plan)), key=lambda window: rest[window][0]) for plan, rest in zip(plans, rests, strict=True)
    ]
    to_come = [0] * (len(plans) + 1)
    for head in reversed(range(len(plans))):
        to_come[head] = join(rests[head][by_promise[head][0]][0], to_come[head + 1])
    pieces = [stack.pieces for stack in question.stacks]
    most_pieces = max(map(len, pieces))
    # what the barrels still to come take at least, in height and in pieces: a drawer with less leads nowhere
    least_height, least_pieces = [0], [0]
    for cylinder in reversed(cylinders):
        least_height.append(least_height[-1] + min(question.stacks[stack].grains for stack in costs[cylinder]))
        least_pieces.append(least_pieces[-1] + min(len(pieces[stack]) for stack in costs[cylinder]))
    thicknesses = question.thicknesses()
    ordered: dict[tuple[int, int, int], list[tuple[int, int]]] = {}
    work = 0

    def successors(part: _Part) -> Iterator[tuple[int, _Part]]:
        """Yield what may follow, with the least that the whole can then cost: a window, or one stack more."""
        nonlocal work
        head, window, place = part.head, part.window, len(part.chosen)
        if window < 0:
            for window in by_promise[head]:
                work += 1
                bound = join(part.cost, join(rests[head][window][0], to_come[head + 1]))
                yield bound, part._replace(window=window)
            return
        nth, ends = place - starts[head], place + 1 == starts[head + 1]
        rest = join(rests[head][window][nth + 1], to_come[head + 1])
        later = most_pieces * (last - place - 1)
        needed, height = least_pieces[last - place - 1], least_height[last - place - 1]
        if (head, window, nth) not in ordered:
            ordered[head, window, nth] = sorted((cost, stack) for stack, cost in plans[head][window][nth])
        for cost, stack in ordered[head, window, nth]:
            work += 1
            drawer = _without(part.drawer, pieces[stack])
            if drawer is None or sum(drawer) < needed or sum(map(mul, drawer, thicknesses)) < height:
                continue
            total = join(part.cost, cost)
            # more than can still be used is as good as just that: fewer drawers to tell apart
            left = tuple([count if count < later else later for count in drawer])
            follower = _Part((*part.chosen, stack), total, head + ends, -1 if ends else window, left)
            yield join(total, rest), follower

    heap: list[tuple[int, int, tuple[int, ...], int, _Part, Iterator[tuple[int, _Part]]]] = []
    serial = itertools.count()

    def put_next(line: Iterator[tuple[int, _Part]]) -> None:
        for bound, part in line:
            tie = -len(part.chosen) if depth_first else 0
            heapq.heappush(heap, (bound, tie, part.chosen, next(serial), part, line))
            return

    put_next(successors(_Part((), 0, 0, -1, tuple(min(count, most_pieces * last) for count in question.stock))))
    seen = set()
    while heap:
        _, _, chosen, _, part, line = heapq.heappop(heap)
        if work > most_work:
            raise TooManyChoices
        if len(chosen) == last:
            by_cylinder = dict(zip(cylinders, chosen, strict=True))
            return tuple(by_cylinder[cylinder] for cylinder in range(last)), work
        put_next(line)
        state = (len(chosen), part.window, part.drawer)
        if state not in seen:
            seen.add(state)
            put_next(successors(part))
    return None, work


def _without(drawer: tuple[int, ...], pieces: tuple[int, ...]) -> list[int] | None:
    """Return what is left in the drawer without these pieces, or None where it lacks one."""
    left = list(drawer)
    for size in pieces:
        if not left[size]:
            return None
        left[size] -= 1
    return left


def _rest(window: Window, join: Callable[[int, int], int]) -> list[int]:
    rest = [0]
    for options in reversed(window):
        rest.append(join(min(cost for _, cost in options), rest[-1]))
    return rest[::-1]


def candidates(
    question: Question, head: Sequence[int], chosen: tuple[int, ...] | None, most: int
) -> tuple[list[tuple[int, ...]], int]:
    """Return what could go under one head, the nearest to the target first, whether allowed or not.

    Parameters
    ----------
    question : Question
    head : sequence of int
        Its cylinders.
    chosen : tuple of int, optional
        The stacks chosen for it; always among those returned.
    most : int
        How many to return.

    Returns
    -------
    list of tuple of int
        Stacks, one for each cylinder of the head.
    int
        How many there are in all: every stack under all barrels of a head whose barrels
        are alike; every combination of heights, each in the fewest pieces, where they are not.
    """

    def weight(stacks: tuple[int, ...]) -> Weight:
        return question.weighed(head, stacks)

    if len({question.top(cylinder, 0) for cylinder in head}) == 1:
        known = [(stack,) * len(head) for stack in range(len(question.stacks))]
        found = heapq.nsmallest(most, known, key=weight)
        count = len(known)
        counted = chosen is None or len(set(chosen)) == 1
    else:
        by_height: dict[int, int] = {}
        for stack, of in enumerate(question.stacks):  # of one height the fewest pieces come first
            by_height.setdefault(of.grains, stack)
        plainest = sorted(by_height.values())
        found = _nearest(question, head, plainest, most)
        count = len(plainest) ** len(head)
        counted = chosen is None or set(chosen) <= set(plainest)
    if chosen is not None and chosen not in found:
        found = sorted([*found[: most - 1], chosen], key=weight)
    return found, count if counted else count + 1


def _nearest(question: Question, head: Sequence[int], stacks: Sequence[int], most: int) -> list[tuple[int, ...]]:
    """Return the best combinations of these stacks, found by stepping outward from the best one."""
    columns = [
        sorted(stacks, key=lambda stack, cylinder=cylinder: question.weighed((cylinder,), (stack,)))  # type: ignore[misc]
        for cylinder in head
    ]

    def weighed(places: tuple[int, ...]) -> tuple[Weight, tuple[int, ...]]:
        picked = [column[place] for column, place in zip(columns, places, strict=True)]
        return question.weighed(head, picked), places

    first = (0,) * len(head)
    heap, seen = [weighed(first)], {first}
    found: list[tuple[int, ...]] = []
    while heap and len(found) < most:
        (*_, picked), places = heapq.heappop(heap)
        found.append(picked)
        for index, column in enumerate(columns):
            further = (*places[:index], places[index] + 1, *places[index + 1 :])
            if further[index] < len(column) and further not in seen:
                seen.add(further)
                heapq.heappush(heap, weighed(further))
    return found
