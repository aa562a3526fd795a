"""Feeler blades put together to make a gap."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

MOST_BLADES = 3
"""A thicker pack springs apart, and its blades bend unlike one blade (common practice, no source)."""
_GRAIN = 1e-3  # of the gap: stacks nearer to each other are equally near
_ROUNDING = 1e-9  # of the gap: what a sum of decimals may be out by
_MAKES_IT, _WIDER, _CLOSER = range(3)  # what a stack is to a gap, the most welcome first


@dataclass(frozen=True, kw_only=True, slots=True)
class Stack:
    """Blades held together.

    Parameters
    ----------
    chosen : tuple of int
        Which blades of the set, thickest first.
    thickness : length
    error : length
        Thickness less the gap that was wanted: positive where the stack is too thick.
    near : bool
        The stack makes the gap, as nearly as was asked.
    """

    chosen: tuple[int, ...]
    thickness: Any
    error: Any
    near: bool


def nearest_stack(gap: Any, blades: Sequence[Any], within: Any, most: int = MOST_BLADES) -> Stack:
    """Return the blades that together make a gap, or come to it from the safe side.

    Parameters
    ----------
    gap : length, [any]
    blades : sequence of length, [the same dimension]
        The set, one entry a blade; each can be used once.
    within : length, [the same dimension]
        A stack that is off by no more makes the gap.
    most : int
        Blades at most in a stack.

    Returns
    -------
    Stack
        Of the stacks that make the gap the nearest; where none does, the nearest of the
        wider ones, since a valve set too close does not shut (common practice, no
        source); a closer one only where nothing is wider. Of stacks equally near, to a
        thousandth of the gap, the one of the fewest blades; of those the thicker one.

    Notes
    -----
    Every stack is tried: 1350 of them for twenty blades.

    Examples
    --------
    >>> nearest_stack(0.25, (0.05, 0.10, 0.15, 0.20), 0.01).chosen
    (3, 0)
    >>> nearest_stack(0.125, (0.05, 0.10, 0.15, 0.20), 0.01).chosen
    (2,)
    >>> nearest_stack(0.15, (0.13, 0.20), 0.01).chosen
    (1,)
    """
    reach, grain = within + _ROUNDING * gap, _GRAIN * gap

    def thickness(chosen: tuple[int, ...]) -> Any:
        return sum((blades[index] for index in chosen[1:]), blades[chosen[0]])

    def rank(chosen: tuple[int, ...]) -> tuple[int, int, int, int]:
        total = thickness(chosen)
        off = abs(total - gap)
        kind = _MAKES_IT if off <= reach else _WIDER if total > gap else _CLOSER
        return kind, round(float(off / grain)), len(chosen), -round(float(total / grain))

    counts = range(1, min(most, len(blades)) + 1)
    tried = itertools.chain.from_iterable(itertools.combinations(range(len(blades)), count) for count in counts)
    best = min(tried, key=rank)
    total = thickness(best)
    chosen = tuple(sorted(best, key=lambda index: blades[index], reverse=True))
    return Stack(chosen=chosen, thickness=total, error=total - gap, near=rank(best)[0] == _MAKES_IT)
