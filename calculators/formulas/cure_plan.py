"""In which order one pair of hands makes joints that cure by themselves, so that all have cured soonest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

DAY = 1440.0
"""Minutes."""
_LOOKS = 400
"""Part-orders weighed at the most; an answer must not keep a reader waiting."""
_GRAIN = 1e-6


@dataclass(frozen=True, slots=True)
class Task:
    """One joint, times in minutes.

    Parameters
    ----------
    work : float
        Of the hands, without a break.
    wait : float
        From the end of the work until a joint that builds on it may begin.
    cure : float
        From the end of the work until it may meet oil.
    after : int, optional
        Place of the joint that must be made before.
    """

    work: float
    wait: float
    cure: float
    after: int | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """An order, when each of its joints begins, and when the last has cured, in minutes from the first midnight.

    ``proved`` says that no order is sooner; else ``bound`` is what none can be before.
    """

    order: tuple[int, ...]
    begins: tuple[float, ...]
    done: float
    bound: float
    proved: bool


def cold_factor(shop: float, sheet: float, doubling: float) -> float:
    """Return how many times longer a sealer cures in the cold; never less than 1, as warmth is not relied on.

    Parameters
    ----------
    shop, sheet : float, [°C]
        Temperature where it cures, and that of the product's sheet.
    doubling : float, [K]
        So many degrees colder double the time.

    Examples
    --------
    >>> cold_factor(13.0, 23.0, 10.0), cold_factor(30.0, 23.0, 10.0)
    (2.0, 1.0)

    Notes
    -----
    Common practice, no source: reactions at room temperature run about half as fast ten degrees colder.
    """
    return float(max(1.0, 2.0 ** ((sheet - shop) / doubling)))


def warm_factor(shop: float, sheet: float, doubling: float) -> float:
    """Return the share of its open time that a sealer keeps in the warmth; never more than 1, as cold is not relied on.

    Parameters
    ----------
    shop, sheet : float, [°C]
        Temperature where the bead lies, and that of the product's sheet.
    doubling : float, [K]
        So many degrees warmer halve the time.

    Examples
    --------
    >>> warm_factor(33.0, 23.0, 10.0), warm_factor(13.0, 23.0, 10.0)
    (0.5, 1.0)

    Notes
    -----
    Common practice, no source: a bead skins by the reaction that cures it, so it follows the same law.
    """
    return float(min(1.0, 2.0 ** ((sheet - shop) / doubling)))


def _next_free(moment: float, work: float, opens: float, shuts: float) -> float:
    """Return when work that must not be broken off can begin, within the hours of the workshop.

    Examples
    --------
    >>> _next_free(1000.0, 30.0, 480.0, 1020.0), _next_free(200.0, 30.0, 480.0, 1020.0)
    (1920.0, 480.0)
    """
    if shuts - opens >= DAY:
        return moment
    day, minute = divmod(moment + _GRAIN, DAY)
    minute = max(minute - _GRAIN, opens)
    if minute + work > shuts + _GRAIN:
        return (day + 1) * DAY + opens
    return max(day * DAY + minute, moment)


def _tails(tasks: Sequence[Task]) -> list[float]:
    """Return for each joint the least time from the end of its work until all that hangs on it has cured."""
    found: list[float | None] = [None] * len(tasks)

    def tail(place: int) -> float:
        known = found[place]
        if known is None:
            one = tasks[place]
            later = (one.wait + each.work + tail(at) for at, each in enumerate(tasks) if each.after == place)
            known = found[place] = max((one.cure, *later))
        return known

    return [tail(place) for place in range(len(tasks))]


def circle(tasks: Sequence[Task]) -> int | None:
    """Return the place of a joint that waits for itself, or None.

    Examples
    --------
    >>> circle((Task(1, 0, 0, 1), Task(1, 0, 0, 0))), circle((Task(1, 0, 0), Task(1, 0, 0, 0)))
    (0, None)
    """
    for place in range(len(tasks)):
        at, steps = tasks[place].after, 0
        while at is not None and steps <= len(tasks):
            if at == place:
                return place
            at, steps = tasks[at].after, steps + 1
    return None


@lru_cache(maxsize=64)
def planned(tasks: tuple[Task, ...], start: float, opens: float, shuts: float) -> Plan:
    r"""Return the order in which all joints have cured soonest.

    Parameters
    ----------
    tasks : tuple of Task
        No work longer than the workshop is open, and none that waits for itself.
    start, opens, shuts : float, [min]
        From midnight.

    Notes
    -----
    Part-orders are weighed depth first, the joint with the longest time behind it first (with no ties and no
    closing hours that rule alone is the best: J. R. Jackson, 1955). A part-order is left where even
    its bound is no sooner than the best order so far.

    Examples
    --------
    >>> planned((Task(10, 0, 60), Task(20, 0, 300)), 480.0, 0.0, 1440.0).order
    (1, 0)
    """
    behind = _tails(tasks)
    first = sorted(range(len(tasks)), key=lambda place: (-behind[place], place))
    builds_on = [tuple(at for at, each in enumerate(tasks) if each.after == place) for place in range(len(tasks))]
    best: list[tuple[float, tuple[int, ...], tuple[float, ...]]] = []
    looks = 0

    def begin_of(place: int, now: float, ready: dict[int, float]) -> float:
        return _next_free(max(now, ready.get(place, now)), tasks[place].work, opens, shuts)

    def soonest(left: tuple[int, ...], now: float, ready: dict[int, float]) -> float:
        each = max(begin_of(place, now, ready) + tasks[place].work + behind[place] for place in left)
        return max(each, now + sum(tasks[place].work for place in left) + min(behind[place] for place in left))

    def look(
        order: tuple[int, ...], begins: tuple[float, ...], now: float, done: float, ready: dict[int, float]
    ) -> None:
        nonlocal looks
        left = tuple(place for place in first if place not in order)
        if not left:
            if not best or done < best[0][0] - _GRAIN:
                best[:] = [(done, order, begins)]
            return
        looks += 1
        if best and max(done, soonest(left, now, ready)) >= best[0][0] - _GRAIN:
            return
        for place in left:
            one = tasks[place]
            if one.after is not None and one.after not in order:
                continue
            if best and looks >= _LOOKS:
                cut.append(place)
                return
            begin = begin_of(place, now, ready)
            end = begin + one.work
            later = ready | dict.fromkeys(builds_on[place], end + one.wait) if builds_on[place] else ready
            look((*order, place), (*begins, begin), end, max(done, end + one.cure), later)

    cut: list[int] = []
    bound = soonest(tuple(first), start, {})
    look((), (), start, start, {})
    done, order, begins = best[0]
    proved = not cut or done <= bound + _GRAIN
    return Plan(order=order, begins=begins, done=done, bound=done if proved else bound, proved=proved)
