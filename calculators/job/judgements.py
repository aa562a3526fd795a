"""What a job measured, beside its limits, in words for whoever owns the engine."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from calculators.bench.asking import may_rest_on
from calculators.bench.desk import Asked, Desk, Known, Origin
from calculators.bench.question import questions
from calculators.bench.report import Finding, Part
from calculators.bench.units import Unit, figures, magnitude_in, spelled, unit
from calculators.bench.verdict import best_of
from calculators.bench.words import listed
from calculators.job.readings import Read, as_read, asked_at
from calculators.job.replaced import fitted_since

MEASURES_OF_INCHES = frozenset({"in", "thou", "ft", "psi", "lbf", "lbf·ft", "lbf·in", "in³", "lbf/in"})
"""Whoever types one of these reads the others of it."""
_UNIT = re.compile(r"[^\d\s.,;±+\-−–/'’].*$")
"""What stands behind the last number of a text."""
_MOST_NAMED = 6
_MAKER = re.compile(r"\bmaker\b", re.IGNORECASE)
_ORDER = {Origin.CARD: 0, Origin.TYPED: 1, Origin.WORKED_OUT: 2, Origin.USUAL: 3}


@dataclass(frozen=True, slots=True)
class Stands:
    """How what was measured stands to its limit.

    Parameters
    ----------
    when : str
        ``before`` or ``after`` where it was measured twice.
    words : str
        ``beyond it (cylinder 3)``.
    is_good : bool
        Within its limit, all of it; never where no limit is known.
    is_replaced : bool
        All that is not within its limit is no longer in the engine.
    """

    when: str
    words: str
    is_good: bool
    is_replaced: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Judgement:
    """One kind of thing that was measured, as the owner reads it.

    Parameters
    ----------
    what : str
        ``bore taper``.
    found : tuple of (str, str)
        When, and from least to most: ``("before", "5.4 to 7.4 bar")``.
    gloss : str
        What it is, for who does not know the word.
    limit, whose : str
        ``at most 0.060 mm``, ``the maker’s``; empty where no limit is known.
    stands : tuple of Stands
        Before the job, after it; else one.
    last : str
        The instant of its last reading.
    of : str
        The question that it is from.
    """

    what: str
    gloss: str
    found: tuple[tuple[str, str], ...]
    limit: str
    whose: str
    stands: tuple[Stands, ...]
    last: str
    of: str

    @property
    def title(self) -> str:
        """Return ``Bore taper``."""
        return self.what[0].upper() + self.what[1:]

    @property
    def lacks_after(self) -> bool:
        """Tell whether it was measured before the job, and not after it."""
        return self.found[-1][0] == "before"

    @property
    def is_known(self) -> bool:
        """Tell whether there is a limit to judge it by."""
        return bool(self.limit)

    @property
    def is_plain(self) -> bool:
        """Tell whether it is soon told: measured once, and good."""
        return len(self.stands) == 1 and self.stands[0].is_good

    @property
    def is_good_now(self) -> bool:
        """Tell whether it was within its limit when it was last measured."""
        return self.stands[-1].is_good


@dataclass(frozen=True, slots=True)
class Judgements:
    """All of a job: those that want a line each, the good ones by whose limit it is, and those without a limit.

    ``of`` names the questions that they are from; ``is_converted``: some were typed in another unit than is shown.
    """

    telling: tuple[Judgement, ...]
    good: Mapping[str, tuple[Judgement, ...]]
    unknown: tuple[Judgement, ...]
    of: frozenset[str]
    is_converted: bool

    @property
    def doubtful(self) -> tuple[Judgement, ...]:
        """Those that were not within their limit when they were last measured, and are still in the engine."""
        return tuple(one for one in self.telling if not (one.is_good_now or one.stands[-1].is_replaced))

    def of_question(self, name: str) -> tuple[Judgement, ...]:
        """Return those that are from one question."""
        all_ = (*self.telling, *(one for good in self.good.values() for one in good), *self.unknown)
        return tuple(one for one in all_ if one.of == name)


@dataclass(frozen=True, slots=True)
class _Found:
    """A finding with the question that it is from, the readings of that, and the parts fitted to the engine."""

    finding: Finding
    asked: Asked
    in_inches: bool
    own: tuple[Read, ...]
    fitted: Sequence[Mapping[str, Any]] = field(repr=False)

    @property
    def last(self) -> str:
        return max(one.when for one in self.own)

    def measured(self, part: Part) -> str:
        """Return the instant at which a part was read last."""
        number = part.name.rpartition(" ")[2]
        side = next((side for side in ("inlet", "exhaust") if side in part.name), "")
        its = [one.when for one in self.own if one.path.endswith(f".{number}") and side in one.path]
        return max(its, default=self.last)


def judgements(job: Mapping[str, Any], desk: Desk) -> Judgements:
    """Return what was measured on a job, each kind with its limit and how it stands to it.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    desk : Desk
        On which its readings lie.
    """
    read = [one for one in as_read(job.get("readings", {})) if _is_measured(one.path)]
    system = _System(read)
    found: dict[str, list[_Found]] = {}
    for one in _findings(read, system, desk, job.get("parts", ())):
        found.setdefault(one.finding.key, []).append(one)
    all_ = [_judgement(sorted(alike, key=lambda one: one.finding.when == "after")) for alike in found.values()]
    good: dict[str, list[Judgement]] = {}
    for judged in all_:
        if judged.is_plain:
            good.setdefault(judged.whose, []).append(judged)
    return Judgements(
        tuple(sorted((one for one in all_ if one.is_known and not one.is_plain), key=lambda one: one.is_good_now)),
        {whose: tuple(those) for whose, those in good.items()},
        tuple(one for one in all_ if not one.is_known),
        frozenset(one.asked.of.name for alike in found.values() for one in alike),
        system.is_mixed,
    )


class _System:
    """In which units a job is read: of each kind in those that most of its readings have, metric or of inches."""

    def __init__(self, read: Iterable[Read]) -> None:
        typed = [one for reading in read if (one := _typed(reading.text))]
        self._all = Counter(one.symbol in MEASURES_OF_INCHES for one in typed)
        self._by_kind: dict[str, Counter[bool]] = {}
        for one in typed:
            self._by_kind.setdefault(one.kind, Counter())[one.symbol in MEASURES_OF_INCHES] += 1

    def in_inches(self, kind: str) -> bool:
        """Tell in which a kind is shown: as most of it was typed, else as most of the whole job was."""
        of_kind = self._by_kind.get(kind, Counter())
        votes = of_kind if of_kind[True] != of_kind[False] else self._all
        return votes[True] > votes[False]

    @property
    def is_mixed(self) -> bool:
        """Tell whether one kind was typed in both."""
        return any(len(of_kind) > 1 for of_kind in self._by_kind.values())


def _typed(text: str) -> Unit | None:
    """Return the unit that a reading was typed in.

    Examples
    --------
    >>> [_typed(text).symbol for text in ("3.3142 3.3135 in", '0.052"', "118psi ± 2 psi", "6 thou")]
    ['in', 'in', 'psi', 'thou']
    """
    last = _UNIT.search(text.rpartition("±")[2])
    return spelled(last[0].rpartition(" ")[2]) if last else None


def _findings(
    read: Sequence[Read], system: _System, desk: Desk, fitted: Sequence[Mapping[str, Any]]
) -> Iterator[_Found]:
    """Yield the findings of each question for which something was measured."""
    for of in questions().values() if read else ():
        own = tuple(one for one in read if may_rest_on(of, one.path)) if of.judges else ()
        if own and (asked := desk.ask(of.name)).answer:
            for finding in asked.answer.findings:
                kind = unit(finding.units[0]).kind if finding.units else ""
                yield _Found(finding, asked, system.in_inches(kind), own, fitted)


def _is_measured(path: str) -> bool:
    """Tell whether a path is a reading, of one part or by an instrument, and not a choice, a limit or an error."""
    if not (found := asked_at(path)):
        return False
    (_, entry, table), _ = found
    return table is not None or entry.facts.read_by is not None


def _judgement(alike: Sequence[_Found]) -> Judgement:
    last = alike[-1]
    twice = any(one.finding.when for one in alike)
    symbol = _symbol(last.finding, last.in_inches)
    return Judgement(
        what=last.finding.what,
        gloss=last.finding.gloss,
        found=tuple((one.finding.when if twice else "", _range(one.finding, symbol)) for one in alike),
        limit=_limit(alike[0].finding, symbol),
        whose=listed(names) if (names := dict.fromkeys(name for one in alike for name in _whose(one))) else "",
        stands=tuple(_stands(one) for one in alike),
        last=max(one.last for one in alike),
        of=last.asked.of.name,
    )


def _symbol(finding: Finding, in_inches: bool) -> str | None:
    wanted = [symbol for symbol in finding.units if (symbol in MEASURES_OF_INCHES) == in_inches]
    return next(iter((*wanted, *finding.units)), None)


def _number(finding: Finding, symbol: str | None, value: Any) -> str:
    if symbol is None:
        return figures(best_of(value), finding.places or 0)
    places = finding.places if symbol == finding.units[0] and finding.places is not None else unit(symbol).places
    return figures(magnitude_in(value, symbol), places)


def _with_unit(text: str, symbol: str | None) -> str:
    return f"{text}{'' if symbol in ('°', '%') else ' '}{symbol}" if symbol else text


def _range(finding: Finding, symbol: str | None) -> str:
    """Return ``5.4 to 7.4 bar``."""
    sizes = [part.found for part in finding.parts]
    ends = [end(sizes, key=lambda one: magnitude_in(one, symbol) if symbol else best_of(one)) for end in (min, max)]
    return _with_unit(" to ".join(dict.fromkeys(_number(finding, symbol, one) for one in ends)), symbol)


def _limit(finding: Finding, symbol: str | None) -> str:
    """Return ``at least 6.5 bar, at most 1.5 bar apart``; nothing where no limit is known."""

    def text(limit: Any) -> str:
        return _with_unit(_number(finding, symbol, limit), symbol)

    low, high, apart = finding.low, finding.high, finding.apart
    told = []
    if low is not None and high is not None:
        either_way = text(low).removeprefix("−") == text(high) != text(low)
        told.append(
            f"at most {text(high)} either way" if either_way else f"{_number(finding, symbol, low)} to {text(high)}"
        )
    elif low is not None:
        told.append(f"at least {text(low)}")
    elif high is not None:
        told.append(f"at most {text(high)}")
    if apart is not None:
        told.append(f"at most {text(apart)} apart")
    return ", ".join(told)


def _whose(one: _Found) -> Sequence[str]:
    """Return whose limit it is; nothing where none is known."""
    known = [found for key in one.finding.limits if (found := one.asked.known.get(key)) and found.value is not None]
    known.sort(key=lambda found: _ORDER.get(found.origin, 0))
    return [_name(found) for found in known] if one.finding.has_limit else []


def _name(limit: Known) -> str:
    if limit.origin is Origin.TYPED:
        return "the workshop’s own figure"
    if limit.origin is Origin.CARD:
        return "the maker’s" if _MAKER.search(limit.by) else f"the engine card’s, source: {limit.by}"
    return "common practice, no source" if limit.origin is Origin.USUAL else "worked out from other readings"


def _stands(found: _Found) -> Stands:
    finding = found.finding
    if all(part.verdict is None for part in finding.parts):
        return Stands(finding.when, "limit not known", False)
    by: dict[str | None, list[Part]] = {}
    placeless: dict[str, None] = {}
    for part in finding.parts:
        another, others = fitted_since(found.fitted, finding.key, part.name, len(finding.parts), found.measured(part))
        by.setdefault("replaced" if another and part.verdict else part.verdict, []).append(part)
        placeless |= dict.fromkeys(others if part.verdict != "in" else ())
    if finding.is_set and set(by) <= {"in", "too close to call"}:
        return Stands(finding.when, "as it should be", True)
    told = [
        f"{words}{_which(by[verdict], len(finding.parts))}"
        for verdict, words in (
            ("out", "beyond it"),
            ("too close to call", "too near it for the gauge to tell"),
            ("replaced", "replaced, the new one not measured"),
        )
        if verdict in by
    ]
    if not told:
        return Stands(finding.when, "within it", True)
    told += ["the others within it"] if "in" in by else []
    told += [f"fitted since, to which is not put down: {', '.join(placeless)}"] if placeless else []
    return Stands(finding.when, "; ".join(told), False, not {"out", "too close to call"} & set(by))


def _which(parts: Sequence[Part], of: int) -> str:
    """Return `` (cylinders 2 and 4)``; nothing where it is the only one."""
    if of == 1 and not parts[0].name:
        return ""
    if len(parts) > _MOST_NAMED:
        return f" ({len(parts)} of {of})"
    return f" ({names_of(part.name for part in parts)})"


def names_of(names: Iterable[str]) -> str:
    """Return names in a row, those that differ in their number together.

    Examples
    --------
    >>> names_of(["exhaust valve 3", "exhaust valve 5", "inlet valve 1"]), names_of(["cylinder 2"])
    ('exhaust valves 3 and 5, inlet valve 1', 'cylinder 2')
    """
    stems: dict[str, list[str]] = {}
    for name in names:
        stem, _, number = name.rpartition(" ")
        stems.setdefault(stem if number.isdigit() else "", []).append(number if number.isdigit() else name)
    told = []
    for stem, numbers in stems.items():
        if stem:
            told.append(f"{stem}{'s' if len(numbers) > 1 else ''} {listed(numbers)}")
        else:
            told.append(listed(numbers))
    return ", ".join(told)
