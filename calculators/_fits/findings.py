"""What was found of each part, and whether it keeps its limits."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

from uncertainties import UFloat

from calculators._errors import FieldError, InputErrors
from calculators._fits.kinds import BARRELS, GEAR, GROUPS, HEADS, RINGS, VALVES, Group, Kind
from calculators._report import Given
from calculators._units import EXPANSION, magnitude_in, number_in, quantity, reading
from calculators._verdict import best_of, instrument, verdict_on
from calculators._words import word
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.worn_fit import closing_gap, out_of_round_pair, rocked_clearance, taper_pair

Standing = Verdict | None
"""None where no limit is known."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing read, in mm: with its uncertainty, its best estimate, and the half widths behind it.

    Parameters
    ----------
    half : float
        Its own: the ± typed with it, else the gauge's scatter.
    gauge : str
        Whose limit it shares with other readings; empty where a ± was typed.
    limit : float
        That limit.
    """

    number: Any
    best: float
    half: float
    gauge: str
    limit: float


Terms = tuple[tuple[float, Reading], ...]
Stated = tuple[tuple[str, Any], ...]
"""A reading, or a number in mm."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found of one part, in mm: a constant and readings, each with its factor."""

    group: Group
    number: int
    kind: Kind
    constant: float
    terms: Terms
    low: float | None
    high: float | None
    given: Stated
    best: float
    expanded: float
    verdict: Standing

    @property
    def part(self) -> str:
        """``"Cylinder 3"``."""
        return f"{self.group.part} {self.number}"

    @property
    def in_mm(self) -> Any:
        """The finding in mm, with its uncertainty."""
        return sum((factor * read.number for factor, read in self.terms), self.constant)

    @property
    def measured(self) -> Any:
        """The same as a quantity."""
        return quantity(self.in_mm, "mm")

    @property
    def excess(self) -> float:
        """How far the best estimate is beyond the nearer limit; negative where it keeps it."""
        beyond = [] if self.high is None else [self.best - self.high]
        beyond += [] if self.low is None else [self.low - self.best]
        return max(beyond, default=self.best)

    @property
    def given_quantities(self) -> Given:
        return tuple(
            (name, quantity(value.number if isinstance(value, Reading) else value, "mm")) for name, value in self.given
        )


def _expanded(terms: Terms) -> float:
    """Return the expanded uncertainty of a sum of rectangular readings (JCGM 100:2008, 4.3.7, 5.1.2, 5.2.4).

    What one gauge is off by is the same in all its readings, so there the factors add before the squares do.
    """
    shared: dict[str, float] = defaultdict(float)
    for factor, read in terms:
        shared[read.gauge] += factor * read.limit
    return EXPANSION * math.hypot(*shared.values(), *(factor * read.half for factor, read in terms)) / 3**0.5


@dataclass(frozen=True, slots=True)
class Found:
    """All that was found, and the bores besides."""

    findings: tuple[Finding, ...]
    bores: tuple[tuple[tuple[float, ...], tuple[float, ...]] | None, ...]
    """By cylinder: best estimates across the thrust and along the pin, top first."""
    mean_bore: Any
    """Of all readings of all cylinders, with its uncertainty; None where one was not measured."""
    closed: Any
    """The end gap that heat closes, of the narrowest bore, with its uncertainty; None where no bore is known."""


_GAUGES = (
    ("bore_error", "Error limit of the bore gauge", "bore_scatter"),
    ("micrometer_error", "Error limit of the micrometer", ""),
    ("guide_error", "Error limit of the small-bore gauge", ""),
    ("feeler_error", "Error limit of the feelers", ""),
    ("dial_error", "Error limit of the dial", ""),
    ("calliper_error", "Error limit of the calliper", ""),
)
"""Field of the limit, its name in a budget, field of the scatter where readings of one gauge are subtracted."""


class _Reader:
    """Turns what was typed into numbers in mm, and gathers what is wrong."""

    def __init__(self, inputs: SimpleNamespace) -> None:
        self.inputs = inputs
        self.errors: list[FieldError] = []
        self._gauges = {
            gauge: instrument(name, getattr(inputs, gauge), "mm", getattr(inputs, scatter) if scatter else 0.0)
            for gauge, name, scatter in _GAUGES
        }
        self._limits_of = {gauge: magnitude_in(getattr(inputs, gauge), "mm") for gauge, _, _ in _GAUGES}
        self._limits = {
            key: self.number(key) for group in GROUPS for kind in group.kinds for key in (kind.low, kind.high) if key
        }

    def number(self, key: str) -> float | None:
        typed = getattr(self.inputs, key)
        return None if typed is None else magnitude_in(typed, "mm")

    def one(self, value: Any, gauge: str, name: str) -> Reading:
        number, used = number_in(value, "mm"), self._gauges[gauge]
        if isinstance(number, UFloat):
            return Reading(number, best_of(number), number.std_dev * 3**0.5, "", 0.0)
        number = used.read(value, name)
        return Reading(number, best_of(number), used.scatter, gauge, self._limits_of[gauge])

    def all(self, values: Sequence[Any], gauge: str, name: str) -> tuple[Reading, ...]:
        return tuple(self.one(value, gauge, name) for value in values)

    def limit(self, key: str | None) -> float | None:
        return self._limits[key] if key else None

    def finding(
        self,
        group: Group,
        number: int,
        which: int,
        *terms: tuple[float, Reading],
        constant: float = 0.0,
        given: Stated = (),
    ) -> Finding:
        """Put together a finding."""
        kind = group.kinds[which]
        least, most = self.limit(kind.low), self.limit(kind.high)
        best = sum((factor * read.best for factor, read in terms), constant)
        expanded = _expanded(terms)
        known = least is not None or most is not None
        verdict = judged(best, expanded, least, most, grain=1e-9) if known else None
        return Finding(group, number, kind, constant, terms, least, most, given, best, expanded, verdict)

    def fits_inside(self, key: str, number: int, inner: float, outer: float, words: str) -> bool:
        """Refuse a shaft that is thicker than its hole."""
        if inner <= outer:
            return True
        self.errors.append(FieldError(f"{key}.{number}", words))
        return False


def find(inputs: SimpleNamespace) -> Found:
    """Judge all that was measured.

    Raises
    ------
    InputErrors
        Readings that cannot be true together, least limits above greatest ones, or nothing measured.
    """
    reader = _Reader(inputs)
    _refuse_crossed_limits(reader)
    bores = [_bore(reader, row) for row in range(inputs.cylinders)]
    new = reader.number("bore_new")
    means = [sum(map(_best, across + along)) / len(across + along) for across, along in filter(None, bores)]
    smallest = min(means, default=new)
    closed = None if smallest is None else _closed(inputs, smallest)
    findings = [finding for row, bore in enumerate(bores) for finding in _barrel(reader, row, bore, new)]
    findings += (finding for row in range(inputs.cylinders) for finding in _rings(reader, row, closed))
    for kind in ("inlet", "exhaust"):
        findings += (finding for row in range(inputs.cylinders) for finding in _valve(reader, row, kind))
    for kind in ("inlet", "exhaust"):
        findings += (finding for row in range(inputs.cylinders) for finding in _gear(reader, row, kind))
    for number, gaps in enumerate(inputs.face_gaps, 1):
        widest = max(reader.all(gaps, "feeler_error", f"Straight edge on head {number}"), key=_best)
        findings.append(reader.finding(HEADS, number, 0, (1, widest)))
    if reader.errors:
        raise InputErrors(*reader.errors)
    if not findings:
        message = "Enter the bore across the thrust of cylinder 1, in millimetres, or any other reading"
        raise InputErrors(FieldError("bore_across.1", message))
    best = tuple(
        None if bore is None else (tuple(read.best for read in bore[0]), tuple(read.best for read in bore[1]))
        for bore in bores
    )
    return Found(tuple(findings), best, _mean_of_all(bores), closed)


def _best(read: Reading) -> float:
    return read.best


def _mean_of_all(bores: Sequence[_Bore | None]) -> Any:
    readings = [read for bore in bores if bore for axis in bore for read in axis]
    if not all(bores):
        return None
    return sum(read.number for read in readings) / len(readings)


def worst_of_each(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return for each kind the finding that is farthest gone, in the order of the tables."""
    found: dict[str, Finding] = {}
    for finding in findings:
        other = found.get(finding.kind.key)
        if other is None or finding.excess > other.excess:
            found[finding.kind.key] = finding
    return tuple(found[kind.key] for group in GROUPS for kind in group.kinds if kind.key in found)


_PAIRS = (
    ("gap_least", "gap_most"),
    *((kind.low, kind.high) for group in GROUPS for kind in group.kinds if kind.low and kind.high),
)


def _refuse_crossed_limits(reader: _Reader) -> None:
    for low, high in _PAIRS:
        least, most = reader.limit(low), reader.limit(high)
        if least is not None and most is not None and least > most:
            name = _LIMIT_NAMES[low]
            reader.errors.append(FieldError(low, f"Least {name} must be at most the greatest {name}"))
    if reader.errors:
        raise InputErrors(*reader.errors)


_LIMIT_NAMES = {
    "clearance_least": "piston clearance",
    "gap_least": "ring end gap",
    "inlet_width_least": "inlet seat width",
    "exhaust_width_least": "exhaust seat width",
}

_Bore = tuple[tuple[Reading, ...], tuple[Reading, ...]]


def _bore(reader: _Reader, row: int) -> _Bore | None:
    across, along = reader.inputs.bore_across[row], reader.inputs.bore_along[row]
    number = row + 1
    if across is None and along is None:
        if reader.inputs.piston[row] is not None:
            message = f"Enter the bore across the thrust of cylinder {number}, in millimetres"
            reader.errors.append(FieldError(f"bore_across.{number}", message))
        return None
    if across is None or along is None:
        key, words = ("bore_across", "across the thrust") if across is None else ("bore_along", "along the pin")
        reader.errors.append(
            FieldError(f"{key}.{number}", f"Enter the bore {words} of cylinder {number}, in millimetres")
        )
        return None
    if len(across) != len(along):
        message = f"Bore along the pin of cylinder {number} must have {len(across)} entries, as across the thrust"
        reader.errors.append(FieldError(f"bore_along.{number}", message))
        return None
    return (
        reader.all(across, "bore_error", f"Bore across the thrust, cylinder {number}"),
        reader.all(along, "bore_error", f"Bore along the pin, cylinder {number}"),
    )


def _barrel(reader: _Reader, row: int, bore: _Bore | None, new: float | None) -> Iterator[Finding]:
    if bore is None:
        return
    number, (across, along) = row + 1, bore
    if new is not None:
        widest = max(across + along, key=_best)
        given: Stated = ("greatest reading", widest), ("bore when new", new)
        yield reader.finding(BARRELS, number, 0, (1, widest), constant=-new, given=given)
    for which, pair in ((1, taper_pair), (2, out_of_round_pair)):
        if pair is taper_pair and len(across) == 1:
            continue  # one depth says nothing of another
        more, less = pair(across, along, _best)
        given = ("greater reading", more), ("lesser reading", less)
        yield reader.finding(BARRELS, number, which, (1, more), (-1, less), given=given)
    if reader.inputs.piston[row] is None:
        return
    piston = reader.one(reader.inputs.piston[row], "micrometer_error", f"Piston diameter, cylinder {number}")
    mean = sum(map(_best, across)) / len(across)
    words = f"Piston diameter of cylinder {number} must be at most its bore"
    if reader.fits_inside("piston", number, piston.best, mean, words):
        share = 1 / len(across)
        given = ("mean bore across the thrust", mean), ("piston", piston)
        yield reader.finding(BARRELS, number, 3, *((share, read) for read in across), (-1, piston), given=given)


def _closed(inputs: SimpleNamespace, bore: float) -> Any:
    """Return what heat closes, with what temperatures and expansions leave uncertain: each is a guess of its own."""
    ring = _growth(inputs, "ring", "Expansion of the ring", "Temperature of the ring")
    barrel = _growth(inputs, "barrel", "Expansion of the barrel", "Temperature of the barrel")
    closed = closing_gap(bore, ring, barrel)
    return closed if best_of(closed) > 0 else 0.0


def _growth(inputs: SimpleNamespace, part: str, expands: str, heats: str) -> tuple[Any, Any]:
    expansion = getattr(inputs, f"{part}_expansion") * 1e-6
    rise = magnitude_in(getattr(inputs, f"{part}_temperature"), "°C") - magnitude_in(inputs.cold_temperature, "°C")
    share = magnitude_in(inputs.expansion_error, "%") / 100
    return (
        reading(expansion, share * expansion, expands),
        reading(rise, inputs.temperature_error, heats),
    )


def _rings(reader: _Reader, row: int, closed: Any) -> Iterator[Finding]:
    number = row + 1
    if (typed := reader.inputs.end_gap[row]) is not None:
        gaps = reader.all(typed, "feeler_error", f"Ring end gap, cylinder {number}")
        narrow = min(gaps, key=_best)
        found = reader.finding(RINGS, number, 0, (1, narrow))
        yield found if closed is None else _held_against_heat(found, narrow, closed)
        yield reader.finding(RINGS, number, 1, (1, max(gaps, key=_best)))
    if (typed := reader.inputs.side_gap[row]) is not None:
        gaps = reader.all(typed, "feeler_error", f"Ring side clearance, cylinder {number}")
        yield reader.finding(RINGS, number, 2, (1, max(gaps, key=_best)))


_WORSE: tuple[Standing, ...] = (None, "in", "too close to call", "out")


def _held_against_heat(found: Finding, narrow: Reading, closed: Any) -> Finding:
    """Return a ring's narrowest gap with what heat closes for a limit too, which is itself not known exactly."""
    by_heat = verdict_on(narrow.number - closed, low=0.0)
    return replace(
        found,
        low=max(best_of(closed), best_of(closed) if found.low is None else found.low),
        given=(("closed by heat", closed),),
        verdict=max(found.verdict, by_heat, key=_WORSE.index),
    )


def _valve(reader: _Reader, row: int, kind: str) -> Iterator[Finding]:
    inputs, number, group = reader.inputs, row + 1, VALVES[kind]
    of = f"{word(kind)} valve {number}"

    def typed(key: str) -> Any:
        return getattr(inputs, f"{kind}_{key}")[row]

    def read(key: str, gauge: str, noun: str) -> Reading | None:
        return None if typed(key) is None else reader.one(typed(key), gauge, f"{noun} of {of}")

    yield from _stem_in_guide(reader, row, kind, typed("stem"), typed("guide"))
    if rock := read("rock", "dial_error", "Rock"):
        yield reader.finding(group, number, 1, (1, rock))
        length, overhang = reader.number("guide_length"), reader.number("overhang")
        if length is not None and overhang is not None:
            given: Stated = ("rock", rock), ("guide length", length), ("guide's end to dial", overhang)
            factor = rocked_clearance(1.0, length, overhang)
            yield reader.finding(group, number, 2, (factor, rock), given=given)
    if runout := read("stem_runout", "dial_error", "Run-out"):
        yield reader.finding(group, number, 3, (1, runout))
    if margin := read("margin", "calliper_error", "Margin"):
        yield reader.finding(group, number, 4, (1, margin))
    width = read("seat_width", "calliper_error", "Seat width")
    if width:
        yield reader.finding(group, number, 5, (1, width))
    if line := read("line", "calliper_error", "Line to outer edge"):
        yield reader.finding(group, number, 6, (1, line))
        face = reader.number(f"{kind}_face")
        if face is not None and width:
            given = ("width of the face", face), ("line to outer edge", line), ("seat width", width)
            yield reader.finding(group, number, 7, (-1, line), (-1, width), constant=face, given=given)


def _stem_in_guide(reader: _Reader, row: int, kind: str, stem: Any, guide: Any) -> Iterator[Finding]:
    number, of = row + 1, f"{word(kind)} valve {row + 1}"
    if stem is not None and guide is not None:
        narrow = min(reader.all(stem, "micrometer_error", f"Stem of {of}"), key=_best)
        wide = max(reader.all(guide, "guide_error", f"Guide of {of}"), key=_best)
        words = f"Stem readings of {of} must be at most its guide's"
        if reader.fits_inside(f"{kind}_stem", number, narrow.best, wide.best, words):
            given = ("guide", wide), ("stem", narrow)
            yield reader.finding(VALVES[kind], number, 0, (1, wide), (-1, narrow), given=given)
    elif stem is not None or guide is not None:
        missing = "stem" if stem is None else "guide"
        message = f"Enter the {missing} readings of {of}, in millimetres"
        reader.errors.append(FieldError(f"{kind}_{missing}.{number}", message))


_SHAFTS_IN_HOLES = (
    (0, "rocker_bush", "rocker_shaft", "rocker bush", "rocker shaft"),
    (1, "tappet_bore", "tappet", "tappet bore", "tappet diameter"),
)
_READ_OF_THE_GEAR = (
    (2, "tappet_gap", "feeler_error", "Tappet face hollow"),
    (3, "pushrod_runout", "dial_error", "Pushrod run-out"),
)


def _gear(reader: _Reader, row: int, kind: str) -> Iterator[Finding]:
    number, group, of = row + 1, GEAR[kind], f"of {word(kind)} gear {row + 1}"
    for which, hole_key, shaft_key, hole_name, shaft_name in _SHAFTS_IN_HOLES:
        hole, shaft = (getattr(reader.inputs, f"{kind}_{key}")[row] for key in (hole_key, shaft_key))
        if hole is not None and shaft is not None:
            wide = reader.one(hole, "guide_error", f"{hole_name.capitalize()} {of}")
            narrow = reader.one(shaft, "micrometer_error", f"{shaft_name.capitalize()} {of}")
            words = f"{shaft_name.capitalize()} {of} must be at most its {hole_name}"
            if reader.fits_inside(f"{kind}_{shaft_key}", number, narrow.best, wide.best, words):
                given = (hole_name, wide), (shaft_name, narrow)
                yield reader.finding(group, number, which, (1, wide), (-1, narrow), given=given)
        elif hole is not None or shaft is not None:
            key, noun = (hole_key, hole_name) if hole is None else (shaft_key, shaft_name)
            reader.errors.append(FieldError(f"{kind}_{key}.{number}", f"Enter the {noun} {of}, in millimetres"))
    for which, key, gauge, noun in _READ_OF_THE_GEAR:
        value = getattr(reader.inputs, f"{kind}_{key}")[row]
        if value is not None:
            yield reader.finding(group, number, which, (1, reader.one(value, gauge, f"{noun} {of}")))
