"""What the leakage tester tells, in words: cylinder by cylinder, before the job and after it."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench.units import figures
from calculators.bench.verdict import best_of
from calculators.bench.words import listed
from calculators.cylinders.heard import TELLS
from calculators.cylinders.leak import Leak
from calculators.cylinders.telling import counted, sentences_of

UNHEARD = "leaks, but where is not heard yet"
AGAIN = "too close to call: test it again"
_UNSURE = ("out", "too close to call")


def suspect(leak: Leak | None, heard: str) -> str:
    """Return what a cylinder points to by the leakage tester alone."""
    if leak is None:
        return "not tested"
    if leak.verdict == "in":
        return "nothing"
    if heard in TELLS:
        return TELLS[heard]
    return UNHEARD if leak.verdict == "out" else AGAIN


def told(found: Sequence[Leak | None], suspects: dict[int, str]) -> tuple[str, str]:
    """Return headline and sentence of what leaks before the job; empty where nothing was read."""
    known = [leak for leak in found if leak]
    if not known:
        return "", ""
    leaking, close = ([n for n, leak in enumerate(found, 1) if leak and leak.verdict == of] for of in _UNSURE)
    most = figures(max(best_of(leak.share) for leak in known), 0)
    pointed = " ".join(sentences_of(suspects))
    if leaking:
        return f"Leaking: {counted(leaking)}", f"Leaking: {listed(leaking)}. {pointed}"
    if close:
        return f"Too close to call: {counted(close)}", pointed
    return f"All hold: {most}% at most", f"All tested hold; the worst leaks {most}%."


def told_after(after: Sequence[Leak | None]) -> tuple[str, str]:
    """Return the same of what leaks after it."""
    if not any(after):
        return "", ""
    leaking, close = ([n for n, leak in enumerate(after, 1) if leak and leak.verdict == of] for of in _UNSURE)
    if leaking:
        return f"after: leaking, {counted(leaking)}", f"Still leaking after the job: {listed(leaking)}."
    if close:
        return "after: too close to call", f"Too close to call after the job: {listed(close)}."
    return "after: all hold", "After the job all tested hold."
