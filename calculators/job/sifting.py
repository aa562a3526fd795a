"""One bad entry of a job file does not cost the rest: it is left out, and named."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

from calculators.bench.errors import JobError
from calculators.job.jobs import faults_of

Place = tuple[str | int, ...]

_DEPTHS = {"about": 2, "readings": 2, "clocks": 2, "gone": 2, "card": 1, "ticks": 3}
"""How many keys below a job the smallest thing lies that can be left out; of a list it is the entry."""


def sifted(data: Any) -> tuple[list[dict[str, Any]], list[str]]:
    """Return the jobs of an exported file without what is wrong with them, and a sentence for each thing left out.

    Parameters
    ----------
    data : any
        The file's tree. It is left as it is.

    Raises
    ------
    JobError
        Nothing is left: one line a fault.
    """
    tree, told = copy.deepcopy(data), []
    while found := list(faults_of(tree)):
        out = {place for fault in found for place in _places(tree, fault)}
        if not all(any(_places(tree, fault)) for fault in found):
            raise JobError("\n".join(fault.message for fault in found))
        told += [f"left out: {fault.message}" for fault in found]
        for place in sorted(out, key=_from_behind, reverse=True):
            _take_out(tree, place)
    jobs: list[dict[str, Any]] = tree["jobs"]
    return jobs, told


def _from_behind(place: Place) -> tuple[tuple[bool, int, str], ...]:
    return tuple((isinstance(key, int), key if isinstance(key, int) else 0, str(key)) for key in place)


def _places(tree: Any, fault: Any) -> Iterator[Place]:
    """Yield the smallest places that a fault can be cured by leaving out; nothing where only the whole file can be."""
    place: Place = fault.place
    if len(place) < 2 or place[0] != "jobs" or fault.too_many:
        return
    if len(place) == 2:
        if fault.strange:
            yield from ((*place, key) for key in fault.strange)
        elif len(tree["jobs"]) > 1:
            yield place
        return
    if fault.strange and len(place) <= 4:
        yield from ((*place, key) for key in fault.strange)
        return
    section = place[2]
    if section in _DEPTHS:
        yield place[: 2 + _DEPTHS[str(section)]]
    elif section not in ("id", "made", "changed"):
        yield place[:4]
    elif len(tree["jobs"]) > 1:
        yield place[:2]


def _take_out(tree: Any, place: Place) -> None:
    *parents, last = place
    for key in parents:
        if isinstance(tree, dict) and key not in tree:  # it went with another
            return
        tree = tree[key]
    if isinstance(tree, list) and isinstance(last, int):
        del tree[last]
    else:
        tree.pop(last, None)
