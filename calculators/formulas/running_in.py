"""Running an engine in: ceilings that rise with the distance, oil pressure between two speeds, and when what is due."""

from __future__ import annotations

import math
from calendar import monthrange
from dataclasses import dataclass
from datetime import date, timedelta

WEEK = 7


@dataclass(frozen=True, slots=True)
class Ceiling:
    """The highest engine speed over one stretch of distance, [r/min]; ``until`` is None on the last."""

    begin: int
    until: int | None
    share: float
    speed: float


def ceilings(highest: float, share: float, first: int, end: int, rises: int, mark: float) -> tuple[Ceiling, ...]:
    r"""Return the speed ceilings, stretch by stretch, up to the highest speed.

    Parameters
    ----------
    highest, mark : float, [r/min]
        Ceilings are taken down to whole marks of the revolution counter; the last is the highest speed.
    share : float
        Of the highest speed, on the first stretch.
    first, end : int, [any]
        Distance at the first rise and at the last, which reaches the highest speed.
    rises : int
        Two or more, evenly spread.

    Notes
    -----
    .. math::
        s_k = s_0 + (1 - s_0) \frac{k}{r} \qquad d_k = first + (k - 1) \frac{end - first}{r - 1}

    A rise that falls between two whole distances waits for the next. Where two fall
    on one distance, the higher counts.

    Examples
    --------
    >>> [(one.until, one.speed) for one in ceilings(4000, 0.6, 200, 400, 2, 50)]
    [(200, 2400), (400, 3200), (None, 4000)]

    References
    ----------
    The rise in even steps: common practice, no source.
    """
    begins = [0, *(first + math.ceil((end - first) * step / (rises - 1) - 1e-9) for step in range(rises))]
    shares = [share + (1 - share) * step / rises for step in range(rises + 1)]
    found = []
    for step, (begin, part) in enumerate(zip(begins, shares, strict=True)):
        until = begins[step + 1] if step < rises else None
        if until != begin:
            speed = highest if until is None else mark * math.floor(highest * part / mark + 1e-9)
            found.append(Ceiling(begin, until, part, speed))
    return tuple(found)


def least_pressure(speed: float, low: tuple[float, float], high: tuple[float, float]) -> float:
    r"""Return the least oil pressure at a speed between two at which the maker gives it.

    Parameters
    ----------
    speed : float, [r/min]
    low, high : tuple of float, [r/min] and [any]
        Speed and pressure; beyond them the nearer one's pressure holds.

    Notes
    -----
    .. math::
        p = p_1 + (p_2 - p_1) \frac{n - n_1}{n_2 - n_1}

    A straight line: a worn pump sags below it before the ends do, and cold oil stands above.

    Examples
    --------
    >>> least_pressure(1500, (1000, 1.0), (2000, 3.0))
    2.0

    References
    ----------
    Linear interpolation; that pressure follows speed so: common practice, no source.
    """
    (slow, weak), (fast, strong) = low, high
    part = min(max((speed - slow) / (fast - slow), 0.0), 1.0)
    return weak + (strong - weak) * part


def day_reached(begin: date, distance: float, weekly: float) -> date:
    """Return the day on which a distance is full, driven evenly.

    Parameters
    ----------
    begin : date
    distance, weekly : float, [any]
        Both in one unit.

    Examples
    --------
    >>> print(day_reached(date(2026, 11, 26), 500, 250))
    2026-12-10
    """
    return begin + timedelta(days=math.floor(WEEK * distance / weekly + 1e-9))


def months_later(day: date, months: int) -> date:
    """Return the same day so many months later, or the last of that month where it has no such day.

    Examples
    --------
    >>> print(months_later(date(2026, 11, 30), 3))
    2027-02-28
    """
    years, month = divmod(day.month - 1 + months, 12)
    year = day.year + years
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
