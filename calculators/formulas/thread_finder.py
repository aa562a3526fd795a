"""Which threads a measured diameter and pitch can be, and which lie so near that they are taken for them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.threads import Thread, least_major

PITCH_BAND = 0.01
"""Share by which a thread's pitch and a gauge's blade that sits in it may differ (common practice, no source)."""
NEAR_PITCH, NEAR_DIAMETER = 0.07, 0.45
"""A share and [mm]: a nut of such a thread starts on the stud before it binds (common practice, no source)."""
_TAPER = 0.6
"""How far the outside diameter of a taper thread runs either way of the nominal one, [mm]; from 1 in 16."""

Fit = Literal["fits", "may fit", "near, but not it"]
_ORDER: tuple[Fit, ...] = ("fits", "may fit", "near, but not it")


@dataclass(frozen=True, slots=True)
class Candidate:
    """A thread and how it stands to what was measured."""

    thread: Thread
    fit: Fit


def candidates(
    threads: Iterable[Thread],
    diameter: float,
    diameter_error: float,
    pitch: float | None,
    pitch_error: float = 0.0,
    most: int = 6,
) -> tuple[Candidate, ...]:
    """Return the threads that fit, then those that lie near, the nearest first.

    Parameters
    ----------
    threads : iterable of Thread
    diameter, diameter_error : float, [mm]
        Outside diameter of the thread, and how far off it may be.
    pitch, pitch_error : float, optional, [mm]
        None where it was not measured; then the diameter alone speaks.
    most : int

    Notes
    -----
    An outside diameter lies between the nominal one and the least of the ordinary fit. It fits
    where the whole interval of the reading lies there, and may fit where a part of it does.

    Examples
    --------
    >>> from calculators.formulas.threads import FASTENERS
    >>> found = candidates(FASTENERS.values(), 9.88, 0.05, 1.5)
    >>> [(candidate.thread.name, candidate.fit) for candidate in found]
    [('M10 × 1.5', 'fits'), ('3/8-16', 'near, but not it')]
    """
    found = []
    for thread in threads:
        low, high = _diameters(thread)
        beyond = max(low - diameter, diameter - high, 0.0)
        off = abs(pitch - thread.pitch) / thread.pitch if pitch else 0.0
        if beyond > NEAR_DIAMETER + diameter_error or off > NEAR_PITCH + pitch_error / thread.pitch:
            continue
        verdicts: list[Verdict] = [judged(diameter, diameter_error, low, high, grain=1e-9)]
        if pitch:
            band = PITCH_BAND * thread.pitch
            verdicts.append(judged(pitch, pitch_error, thread.pitch - band, thread.pitch + band, grain=1e-9))
        fit: Fit = "fits" if set(verdicts) == {"in"} else "near, but not it" if "out" in verdicts else "may fit"
        distance = beyond / NEAR_DIAMETER + off / NEAR_PITCH
        found.append((_ORDER.index(fit), distance, Candidate(thread, fit)))
    found.sort(key=lambda entry: entry[:2])
    return tuple(candidate for _, _, candidate in found[:most])


def _diameters(thread: Thread) -> tuple[float, float]:
    """Return the least and the most outside diameter of a thread, [mm]."""
    if thread.series.startswith("taper"):
        return thread.major - _TAPER, thread.major + _TAPER
    return least_major(thread), thread.major
