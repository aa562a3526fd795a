"""A fit: what was found of one part, the limits it is held against, the verdict, and what is said of many."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators._report import Given
from calculators._units import figures
from calculators._verdict import best_of, expanded_of, verdict_on
from calculators._words import listed, word
from calculators.bench import (
    COMMON_PRACTICE,
    Caution,
    Column,
    ResultTable,
    Source,
    TableRow,
    Value,
    quantity,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.formulas.decision_rule import Verdict

DECISION = Source("ISO 14253-1, decision rules for conformity with specifications", "memory")
READ = "as read"
WORSE: tuple[Verdict | None, ...] = (None, "in", "too close to call", "out")
"""From no limit to the gravest verdict."""
SHORT_WORDS = {None: "no limit", "in": "in", "out": "out", "too close to call": "too close"}
"""A verdict where there is little room."""
_TOLD = 3


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
    """

    key: str
    noun: str
    formula: str = READ
    source: Source = COMMON_PRACTICE
    low: float | None = None
    high: float | None = None

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


def _verdict_of(fits: Iterable[Fit]) -> Verdict | None:
    return max((fit.verdict for fit in fits), key=WORSE.index)


def headline(fits: Sequence[Fit]) -> str:
    """Return which parts are out, which too close to call and which in; of one part or one verdict the number too."""
    parts = by_part(fits)
    verdicts = {part: _verdict_of(its) for part, its in parts.items()}
    said = set(verdicts.values())
    if said == {None}:
        return f"{_numbers(fits)}, no limit given"
    if len(parts) == 1:
        (verdict,) = said
        return f"{_numbers(fits)} · {word(verdict or '')}"
    if said == {"in"}:
        numbers = f": {_numbers(fits)}" if len({fit.kind.noun for fit in fits}) == 1 else ""
        return f"All {len(parts)} in{numbers}"
    for with_number in (True, False):
        told = " · ".join(_groups(parts, verdicts, with_number))
        if len(told) <= LONGEST_HEADLINE:
            return told[0].upper() + told[1:]
    counts = ((verdict, sum(its == verdict for its in verdicts.values())) for verdict in reversed(WORSE))
    return " · ".join(f"{count} {word(verdict or 'no limit')}" for verdict, count in counts if count)


def _groups(parts: dict[Part, list[Fit]], verdicts: dict[Part, Verdict | None], with_number: bool) -> Iterator[str]:
    """Yield the parts of each verdict, the gravest first; the number of the first where it is one."""
    first, said = True, set(verdicts.values())
    for verdict in reversed(WORSE):
        those = [part for part, its in verdicts.items() if its == verdict]
        if verdict == "in" and not first and len(those) > 1 and None not in said:
            yield f"the other {len(those)} {word(verdict)}"
        elif those:
            its = parts[those[0]]
            alone = with_number and first and len(those) == 1 and len({fit.kind.noun for fit in its}) == 1
            yield f"{SHORT_WORDS[verdict]}: {_named(those, first)}{f', {_numbers(its)}' if alone else ''}"
            first = False


def _named(parts: Sequence[Part], first: bool) -> str:
    """Return ``"cylinders 1, 3"`` or ``"inlet 2, exhaust 1, 3"``."""
    sides: dict[str, list[str]] = {}
    for part in parts:
        sides.setdefault(part.side, []).append(str(part.number))
    told = []
    for side, numbers in sides.items():
        noun = f"{word(parts[0].noun)}{'s' if len(numbers) > 1 else ''}" if first and not side else word(side)
        told.append(f"{noun} {', '.join(numbers)}".strip())
    return ", ".join(told)


def _numbers(fits: Sequence[Fit]) -> str:
    """Return the number, or from least to greatest; of several kinds that of the gravest."""
    if len({fit.kind.noun for fit in fits}) > 1:
        worst = max(worst_of_each(fits), key=lambda fit: (WORSE.index(fit.verdict), fit.excess))
        return f"{worst.kind.label} {figures(worst.best, 3)} mm"
    least, most = (figures(end(fit.best for fit in fits), 3) for end in (min, max))
    return f"{least} mm" if least == most else f"{least} to {most} mm"


def sentence(fits: Sequence[Fit]) -> str:
    """Return the verdicts in words: what is out and by what, what cannot be told, and the rest."""
    judged = [fit for fit in fits if fit.verdict]
    told: list[str] = []
    if not judged:
        worst = (f"{fit.part.name}, {fit.kind.noun} {figures(fit.best, 3)} mm" for fit in worst_of_each(fits)[:_TOLD])
        return f"There is no limit to judge by: {'; '.join(worst)}."
    for verdict, words in (("out", "Out"), ("too close to call", "Too close to call")):
        those = [fit for fit in judged if fit.verdict == verdict]
        names = [f"{fit.part.name}, {fit.said}" for fit in those[:_TOLD]]
        more = [f"{len(those) - _TOLD} more"] if len(those) > _TOLD else []
        told += [f"{words}: {'; '.join(names + more)}."] if those else []
    if not told:
        worst = (f"{fit.part.name}, {fit.said}" for fit in worst_of_each(judged)[:_TOLD])
        return f"All that is judged is in: {'; '.join(worst)}."
    if any(fit.verdict == "in" for fit in judged):
        told.append("The others are in.")
    return " ".join(told)


def values(fits: Sequence[Fit]) -> tuple[Value, ...]:
    """Return the worst of each kind with its working."""
    return tuple(
        Value(
            key=fit.kind.key,
            label=f"{fit.part.name[0].upper()}{fit.part.name[1:]}: {fit.kind.noun}",
            quantity=quantity(fit.number, "mm"),
            units=("mm",),
            places=3,
            formula=fit.kind.formula,
            source=fit.kind.source,
            given=(*fit.given, *_limits_given(fit.kind)),
        )
        for fit in worst_of_each(fits)
    )


def _limits_given(kind: Kind) -> Given:
    bounds = (("least allowed", kind.low), ("greatest allowed", kind.high))
    return tuple((name, quantity(limit, "mm")) for name, limit in bounds if limit is not None)


def table(fits: Sequence[Fit], heading: str) -> ResultTable:
    """Return part by part what was found, under the limits that all parts have in common."""
    kinds = {fit.kind.noun: fit.kind for fit in fits}
    rows = [
        TableRow(
            cells=(
                part.name[0].upper() + part.name[1:],
                *(_cell(its, noun) for noun in kinds),
                _told(its),
            ),
            chosen=_verdict_of(its) == "out",
        )
        for part, its in by_part(fits).items()
    ]
    return ResultTable(
        key="parts",
        title=f"{heading}, one by one, in mm",
        columns=(
            Column(key="part", label="Part"),
            *(Column(key=kind.key, label=kind.label, places=3) for kind in kinds.values()),
            Column(key="verdict", label="Verdict", wide=True),
        ),
        rows=tuple(rows),
        formula="in or out only where the reading with all of its uncertainty is; else too close to call. "
        + "; ".join(f"{kind.noun}: {kind.formula}" for kind in kinds.values()),
        source=DECISION,
    )


def _cell(fits: Iterable[Fit], noun: str) -> Any:
    return next((fit.number for fit in fits if fit.kind.noun == noun), None)


def _told(fits: Sequence[Fit]) -> str:
    told = []
    for verdict in ("out", "too close to call"):
        its = [fit for fit in fits if fit.verdict == verdict]
        told += [f"{word(verdict)}: {listed(f'{fit.kind.noun}, {fit.kind.bounds}' for fit in its)}"] if its else []
    unjudged = [fit.kind.noun for fit in fits if fit.verdict is None]
    if not told and len(unjudged) < len(fits):
        told = [word("in")]
    if unjudged:
        told.append(f"no limit: {listed(unjudged)}")
    return "; ".join(told)


NOT_AS_IT_IS = Caution(
    "caution",
    "What is out does not go back as it is. Fit a new part, or ask a machine shop what can be made good: it "
    "bores barrels, fits guides, cuts seats and faces heads. Measure again afterwards.",
)
NO_PASS = Caution(
    "notice",
    "Too close to call is not a pass. Measure again with a finer gauge, or count the part as worn.",
)


def cautions(fits: Sequence[Fit], told: Sequence[Fit] = ()) -> tuple[Caution, ...]:
    """Return what the verdicts warn of; of those ``told`` the question itself has spoken."""
    worn = any(fit.verdict == "out" and fit not in told for fit in fits)
    close = any(fit.verdict == "too close to call" and fit not in told for fit in fits)
    return (*((NOT_AS_IT_IS,) if worn else ()), *((NO_PASS,) if close else ()))


def names_of(fits: Iterable[Fit]) -> str:
    """Return ``"Cylinder 1 and cylinder 3"``."""
    names = listed(dict.fromkeys(fit.part.name for fit in fits))
    return names[0].upper() + names[1:]
