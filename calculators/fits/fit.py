"""A fit: what was found of one part, the limits it is held against, and the verdict."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from calculators.bench import COMMON_PRACTICE, Source, quantity
from calculators.bench.report import Given
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, expanded_of, verdict_on
from calculators.bench.words import word
from calculators.formulas.decision_rule import Verdict

READ = "as read"
WORSE: tuple[Verdict | None, ...] = (None, "in", "too close to call", "out")
"""From no limit to the gravest verdict."""
SHORT_WORDS = {None: "no limit", "in": "in", "out": "out", "too close to call": "too close"}
"""A verdict where there is little room."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part: ``Part("valve", 3, "exhaust")``."""

    noun: str
    number: int
    side: str = ""

    @property
    def name(self) -> str:
        """Return ``"exhaust valve 3"``."""
        return f"{word(self.side)} {word(self.noun)} {self.number}" if self.side else self.short

    @property
    def short(self) -> str:
        """Return ``"exhaust 3"``, or ``"cylinder 3"`` where there are no sides."""
        return f"{word(self.side or self.noun)} {self.number}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """One thing that is judged, and its limits in mm.

    Parameters
    ----------
    key : str
        In data.
    noun : str
        ``"bore taper"``.
    formula : str
    source : Source
    low, high : float, optional
    limits : tuple of str
        Keys of the entries from which these come.
    """

    key: str
    noun: str
    formula: str = READ
    source: Source = COMMON_PRACTICE
    low: float | None = None
    high: float | None = None
    limits: tuple[str, ...] = ()

    @property
    def label(self) -> str:
        """Return ``"Bore taper"``."""
        return self.noun[0].upper() + self.noun[1:]

    @property
    def bounds(self) -> str:
        """Return ``"at least 0.040, at most 0.170 mm"``."""
        told = [f"at least {figures(self.low, 3)}"] if self.low is not None else []
        told += [f"at most {figures(self.high, 3)}"] if self.high is not None else []
        return f"{', '.join(told)} mm" if told else "no limit given"


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """One thing found of one part, in mm, with its verdict; None where no limit is known."""

    kind: Kind
    part: Part
    number: Any
    verdict: Verdict | None
    given: Given = ()

    @property
    def best(self) -> float:
        return best_of(self.number)

    @property
    def expanded(self) -> float:
        return expanded_of(self.number)

    @property
    def excess(self) -> float:
        """How far it is beyond the nearer limit; negative where it keeps it."""
        beyond = [] if self.kind.high is None else [self.best - self.kind.high]
        beyond += [] if self.kind.low is None else [self.kind.low - self.best]
        return max(beyond, default=self.best)

    @property
    def said(self) -> str:
        """Return ``"bore taper 0.040 mm (at most 0.060 mm)"``."""
        return f"{self.kind.noun} {figures(self.best, 3)} mm ({self.kind.bounds})"


def found(kind: Kind, part: Part, number: Any, *given: tuple[str, Any]) -> Fit:
    """Return a fit with its verdict; what was put in is in mm."""
    known = kind.low is not None or kind.high is not None
    verdict = verdict_on(number, kind.low, kind.high) if known else None
    put_in = tuple((name, quantity(value, "mm")) for name, value in given)
    return Fit(kind=kind, part=part, number=number, verdict=verdict, given=put_in)


def worst_of_each(fits: Iterable[Fit]) -> tuple[Fit, ...]:
    """Return for each kind the fit that is farthest gone, in the order in which the kinds come."""
    worst: dict[str, Fit] = {}
    for fit in fits:
        other = worst.get(fit.kind.key)
        if other is None or fit.excess > other.excess:
            worst[fit.kind.key] = fit
    return tuple(worst.values())


def by_part(fits: Iterable[Fit]) -> dict[Part, list[Fit]]:
    """Return the fits of each part."""
    parts: dict[Part, list[Fit]] = {}
    for fit in fits:
        parts.setdefault(fit.part, []).append(fit)
    return parts


def worst_verdict(fits: Iterable[Fit]) -> Verdict | None:
    """Return the gravest verdict on several fits."""
    return max((fit.verdict for fit in fits), key=WORSE.index)
