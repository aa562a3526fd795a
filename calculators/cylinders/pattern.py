"""What the compressions show of the engine as a whole, before the job and after it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench.units import figures
from calculators.bench.verdict import best_of, verdict_on
from calculators.bench.words import listed, word
from calculators.cylinders.telling import counted
from calculators.cylinders.wet_and_dry import Lift, spread_of, suspect
from calculators.formulas.decision_rule import Verdict

ALL_LOW = "all equally low: check throttle, starter, gauge, lash and cam timing before the cylinders"
_WANTED = {True: "the dry pressures", False: "the maker's least pressure, or the most difference between cylinders"}


NOTHING_TO_JUDGE_BY = "nothing to judge by"


@dataclass(frozen=True, kw_only=True, slots=True)
class Read:
    """One cylinder, bar; None where it was not read."""

    number: int
    dry: Any | None
    wet: Any | None
    after: Any | None
    verdict: Verdict | None
    verdict_after: Verdict | None
    share: Any | None  # of what it lacks that oil gives back, %
    lift: Lift | None

    @property
    def rise(self) -> Any | None:
        return None if self.dry is None or self.wet is None else self.wet - self.dry

    @property
    def suspect(self) -> str:
        return suspect(self.verdict, self.lift)


def pattern(found: Sequence[Read], least: Any | None, most: Any | None) -> tuple[str, str]:
    """Return what the engine shows before the job: short, and as sentences.

    Parameters
    ----------
    found : sequence of Read
    least, most : float or ufloat, optional, [bar]
        The least pressure, and the most difference between cylinders, both for this air.
    """
    if all(of.dry is None and of.wet is None for of in found):
        return "", ""
    tested = [of for of in found if of.verdict]
    low = [of.number for of in tested if of.verdict == "out"]
    close = [of.number for of in tested if of.verdict == "too close to call"]
    spread = spread_of([of.dry for of in found])
    apart = _apart("Dry readings are", spread, most)
    alike = spread is not None and most is not None and verdict_on(spread, high=most) == "in"
    if not tested:
        limits = least is not None or most is not None
        words = f"{NOTHING_TO_JUDGE_BY.capitalize()}. Enter {_WANTED[limits]}."
        return NOTHING_TO_JUDGE_BY.capitalize(), f"{words} {apart}".rstrip()
    if least is not None and len(low) == len(tested) > 1 and alike:
        return "All equally low: look elsewhere", f"{ALL_LOW.capitalize()}. {apart}"
    if low:
        return f"Low: {counted(low)}", f"Low: {listed(low)}. {apart}".rstrip()
    if close:
        return f"Too close to call: {counted(close)}", f"Too close to call: {listed(close)}. {apart}".rstrip()
    short = f"Good, {figures(best_of(spread), 1)} bar apart" if spread is not None else "Good"
    return short, f"{'Even' if len(tested) > 1 else 'Good'}. {apart}".rstrip()


def pattern_after(found: Sequence[Read], least: Any | None, most: Any | None) -> tuple[str, str]:
    """Return the same after the job; empty where nothing was read then."""
    readings = [of.after for of in found]
    if all(reading is None for reading in readings):
        return "", ""
    low = [of.number for of in found if of.verdict_after == "out"]
    under = [
        of.number
        for of in found
        if of.after is not None and least is not None and verdict_on(of.after, low=least) == "out"
    ]
    close = [of.number for of in found if of.verdict_after == "too close to call"]
    spread = spread_of(readings)
    told = _apart("After the job they are", spread, most)
    if under:
        told = f"{told} Still below the least pressure after the job: {listed(under)}.".lstrip()
    elif low:
        told = f"{told} Still low after the job: {listed(low)}.".lstrip()
    elif close:
        told = f"{told} Too close to call after the job: {listed(close)}.".lstrip()
    if low:
        return f"after: low, {counted(low)}", told
    if close:
        return "after: too close to call", told
    if not any(of.verdict_after for of in found):
        return "after: nothing to judge by", told or "After the job there is nothing to judge by."
    return "after: good", told or "After the job it is good."


def _apart(words: str, spread: Any | None, limit: Any | None) -> str:
    if spread is None:
        return ""
    verdict = f": {word(verdict_on(spread, high=limit))}" if limit is not None else ""
    return f"{words} {figures(best_of(spread), 1)} bar apart{verdict}."
