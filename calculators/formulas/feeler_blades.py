"""Feeler blades put together to make a gap."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

MOST_BLADES = 3
"""A thicker pack springs apart, and its blades bend unlike one blade (common practice, no source)."""
_GRAIN = 1e-3


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
    """

    chosen: tuple[int, ...]
    thickness: Any
    error: Any


def nearest_stack(gap: Any, blades: Sequence[Any], most: int = MOST_BLADES) -> Stack:
    """Return the blades that together come nearest to a gap.

    Parameters
    ----------
    gap : length, [any]
    blades : sequence of length, [the same dimension]
        The set, one entry a blade; each can be used once.
    most : int
        Blades at most in a stack.

    Returns
    -------
    Stack
        Of stacks equally near, to a thousandth of the gap, the one of the fewest blades;
        of those the thicker one, since a valve set too close does not shut.

    Notes
    -----
    Every stack is tried: 1350 of them for twenty blades.

    Examples
    --------
    >>> nearest_stack(0.25, (0.05, 0.10, 0.15, 0.20)).chosen
    (3, 0)
    >>> nearest_stack(0.125, (0.05, 0.10, 0.15, 0.20)).chosen
    (2,)
    """
    best: tuple[int, ...] = ()
    thickness = error = None
    margin = _GRAIN * gap
    for count in range(1, min(most, len(blades)) + 1):
        for tried in itertools.combinations(range(len(blades)), count):
            total = sum((blades[index] for index in tried[1:]), blades[tried[0]])
            off = abs(total - gap)
            if (
                error is None
                or off < error - margin
                or (off <= error + margin and count == len(best) and total > thickness + margin)
            ):
                best, thickness, error = tried, total, off
    chosen = tuple(sorted(best, key=lambda index: blades[index], reverse=True))
    return Stack(chosen=chosen, thickness=thickness, error=thickness - gap)
