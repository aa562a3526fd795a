"""Where the crank stands when each cylinder fires, and what its pulley and its rotor show."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from typing import Any

from calculators.bench.words import listed

SAME_MARK = 1 / 1440
"""Marks closer than this share of a cycle, half a degree of crank, are one mark to the eye."""
ROUNDED = 0.1
"""By so many degrees of crank typed intervals may miss the cycle, for having been rounded."""
_CYCLE = 720.0


def even_intervals(count: int) -> tuple[float, ...]:
    """Return the crank angles from firing to firing of an engine that fires evenly.

    Examples
    --------
    >>> even_intervals(6)
    (120.0, 120.0, 120.0, 120.0, 120.0, 120.0)
    """
    return (_CYCLE / count,) * count


def uneven_intervals(typed: Sequence[float], count: int) -> tuple[float, ...]:
    """Return typed firing intervals drawn out to make one cycle, or even ones where none is typed.

    Parameters
    ----------
    typed : sequence of float, [°]
        From each cylinder of the firing order to the next, the last one back to the first; empty for even firing.
    count : int
        Cylinders.

    Examples
    --------
    >>> uneven_intervals((405.0, 315.0), 2), uneven_intervals((), 2)
    ((405.0, 315.0), (360.0, 360.0))
    """
    whole = sum(typed)
    return tuple(angle * _CYCLE / whole for angle in typed) if typed else even_intervals(count)


def unequal(typed: Sequence[float], count: int) -> str | None:
    """Say why typed firing intervals are not those of an engine; None where they are, or where none is typed.

    Examples
    --------
    >>> unequal((405.0, 315.0), 2), unequal((405.0, 300.0), 2)
    (None, 'must add up to 720°, not 705°')
    """
    if not typed:
        return None
    if len(typed) != count:
        entries = "entry" if count == 1 else "entries"
        return f"must have {count} {entries}, one a cylinder, not {len(typed)}, or be empty where it fires evenly"
    if abs(sum(typed) - _CYCLE) > ROUNDED + 1e-9:
        return f"must add up to 720°, not {round(sum(typed), 1):g}°"
    return None


def begun_at(first: int, order: Sequence[int], intervals: Sequence[Any]) -> tuple[tuple[int, ...], tuple[Any, ...]]:
    """Return the same firing order and its intervals, told from another cylinder on.

    Parameters
    ----------
    first : int
        The cylinder to begin with.
    order : sequence of int
        Cylinders as they fire, each once.
    intervals : sequence of angle, [any]
        From each cylinder of the order to the next, the last one back to the first.

    Examples
    --------
    >>> begun_at(1, (3, 1, 2), (200.0, 240.0, 280.0))
    ((1, 2, 3), (240.0, 280.0, 200.0))
    """
    start = order.index(first)
    return (*order[start:], *order[:start]), (*intervals[start:], *intervals[:start])


def firing_angles(order: Sequence[int], intervals: Sequence[Any]) -> dict[int, Any]:
    """Return the crank angle at which each cylinder is at its firing top dead centre, the first one's nought.

    Parameters
    ----------
    order : sequence of int
        Cylinders as they fire.
    intervals : sequence of angle, [any]
        From each cylinder of the order to the next, the last one back to the first.

    Examples
    --------
    >>> firing_angles((1, 2), (315.0, 405.0))
    {1: 0.0, 2: 315.0}
    """
    return dict(zip(order, itertools.accumulate(intervals[:-1], initial=0 * intervals[0]), strict=True))


def pulley_angle(crank: Any) -> Any:
    """Return how far after the first mark of the pulley the mark stands that is up at a crank angle.

    Parameters
    ----------
    crank : angle, [°]

    Returns
    -------
    angle
        From nought up to one turn, which is half a cycle, counted as the marks pass while
        the engine runs; within half a degree of a whole turn it is nought.

    Examples
    --------
    >>> pulley_angle(540.0), pulley_angle(360.0)
    (180.0, 0.0)
    """
    turn = _CYCLE / 2
    angle = crank % turn
    return 0 * turn if min(angle, turn - angle) < SAME_MARK * _CYCLE else angle


def rotor_angle(crank: Any) -> Any:
    """Return how far the camshaft, and the rotor that it drives, turns while the crank turns by an angle.

    Examples
    --------
    >>> rotor_angle(180.0)
    90.0
    """
    return crank / 2


def companion(cylinder: int, fires: Mapping[int, float]) -> int | None:
    """Return the cylinder that fires one whole turn from another, or None where none does.

    Parameters
    ----------
    cylinder : int
    fires : mapping of int to angle
        Crank angle at which each cylinder is at its firing top dead centre.

    Notes
    -----
    Each of the two is on its overlap top dead centre while the other is on its firing
    one, so that they share a mark of the pulley.

    Examples
    --------
    >>> companion(1, firing_angles((1, 4, 3, 2), even_intervals(4)))
    3
    """
    for other, angle in fires.items():
        if abs(abs(angle - fires[cylinder]) - _CYCLE / 2) < SAME_MARK * _CYCLE:
            return other
    return None


def misnamed(named: Sequence[int], count: int) -> str | None:
    """Say which cylinders a list leaves out, names again or invents; None where each is named once.

    Examples
    --------
    >>> misnamed((1, 4, 2, 2), 4)
    'must name each cylinder from 1 to 4 once; 3 is missing and 2 comes twice'
    """
    missing = [number for number in range(1, count + 1) if number not in named]
    again = [number for number in range(1, count + 1) if named.count(number) > 1]
    strange = sorted({number for number in named if number > count})
    faults = [
        f"{listed(numbers)} {one if len(numbers) == 1 else several}"
        for numbers, one, several in (
            (missing, "is missing", "are missing"),
            (again, "comes twice", "come twice"),
            (strange, "is not one of them", "are not among them"),
        )
        if numbers
    ]
    every = "cylinder 1" if count == 1 else f"each cylinder from 1 to {count}"
    return f"must name {every} once; {listed(faults)}" if faults else None
