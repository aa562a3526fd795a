"""Ready-made stud patterns, for where nobody has measured the part."""

from __future__ import annotations

import math

PITCH = 80.0
"""From stud to stud, in mm (an even pattern; the true pitch changes the picture's scale only)."""


def two_rows(studs: int) -> tuple[tuple[float, float], ...]:
    """Return an even number of studs in two rows, left to right, the upper row first, [mm]; y upwards.

    Examples
    --------
    >>> two_rows(4)
    ((-40.0, 40.0), (40.0, 40.0), (-40.0, -40.0), (40.0, -40.0))
    """
    columns = in_line(studs // 2)
    return tuple((x, y) for y in (PITCH / 2, -PITCH / 2) for x, _ in columns)


def in_line(studs: int) -> tuple[tuple[float, float], ...]:
    """Return studs in one row about its middle, left to right, [mm].

    Examples
    --------
    >>> in_line(2)
    ((-40.0, 0.0), (40.0, 0.0))
    """
    return tuple(((place - (studs - 1) / 2) * PITCH, 0.0) for place in range(studs))


def ring(studs: int) -> tuple[tuple[float, float], ...]:
    """Return studs on a circle, from the top, clockwise, [mm].

    Examples
    --------
    >>> [(round(x), round(y)) for x, y in ring(3)]
    [(0, 46), (40, -23), (-40, -23)]
    """
    radius = PITCH / 2 / math.sin(math.pi / studs)
    turns = [2 * math.pi * place / studs for place in range(studs)]
    return tuple((radius * math.sin(turn), radius * math.cos(turn)) for turn in turns)
