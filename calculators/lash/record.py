"""What the gaps did since last time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from calculators._errors import Lacking
from calculators._units import uncertainty_in
from calculators._words import listed, word
from calculators.bench import (
    Answer,
    Caution,
    Column,
    FieldError,
    Figure,
    Quantity,
    Question,
    ResultTable,
    Row,
    Source,
    Table,
    TableRow,
    Value,
    described,
    magnitude_in,
    printed,
    shared,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.formulas.base_circle import KINDS, Kind
from calculators.formulas.decision_rule import judged
from calculators.lash.asked import EXHAUST_FOUND, INLET_FOUND, TWO_VALVES, Gap, Readings, gap_error, gaps, read_gaps
from calculators.lash.feelers import GRAIN
from calculators.lash.gap_drawing import Bar, gap_bars

HALF = 0.5
"""A gap that has closed or opened by this share of itself is not only set again (common practice, no source)."""
RULE = Source("ISO 14253-1 (from memory); JCGM 100:2008 (GUM), 4.3.7 and 6.2", "memory")

Moved = Literal["closed", "opened", "not to be told"]
_MOVED: dict[Moved, str] = {
    "closed": "closed",
    "opened": "opened",
    "not to be told": "no change that the blades can tell",
}


class Twice(Row):
    """The gaps of one cylinder, last time and now."""

    inlet_last = gaps("Inlet gap left last time", "inlet_gap_last", "0.15; 0.16; 0.15; 0.16", TWO_VALVES)
    inlet_found = gaps("Inlet gap found", "inlet_gap_found", INLET_FOUND)
    exhaust_last = gaps("Exhaust gap left last time", "exhaust_gap_last", "0.20; 0.21; 0.20; 0.20")
    exhaust_found = gaps("Exhaust gap found", "exhaust_gap_found", EXHAUST_FOUND)


@dataclass(frozen=True, slots=True)
class Change:
    """One valve, last time and now: found less left, and the verdict on it.

    ``by_half``: it has moved by half of what it was or more, by the best estimates.
    """

    gap: Gap
    last: Quantity
    change: Quantity
    moved: Moved
    by_half: bool

    @property
    def said(self) -> str:
        change = -self.change if magnitude_in(self.change, "mm") < 0 else self.change
        return f"{self.gap.name}, by {printed(change, 'mm')}"


class GapRecord(Question):
    """Takes both gaps to be read with the engine equally cold; by other blades, perhaps, and by another hand.

    By half is judged by the best estimates, once the change is more than the blades can be off.
    """

    asks = "What did the gaps do since last time, and what does it say?"

    cylinders = shared.cylinders()
    gaps = Table(Twice, each="Cylinder {}", most=12, count="cylinders")
    gap_limit = described(
        gap_error(
            usual="0.02 mm", shared_as=None, hint="Plus or minus, then and now. A ± typed with a gap wins over it."
        )
    )

    def answer(self) -> Answer:
        changes, strange = self._changes()
        if not changes:
            message = "Enter the gap found and the gap left last time of one valve or more, in millimetres"
            raise Lacking(FieldError("inlet_found.1", message))
        closed, opened = ([one for one in changes if one.moved == moved] for moved in ("closed", "opened"))
        return Answer(
            headline=_headline(closed, opened, len(changes)),
            says=_says(closed, opened),
            drawing=_drawing(changes),
            values=(
                *(
                    Value(
                        key=key,
                        label=f"Valves whose gap has {key}",
                        quantity=len(found),
                        formula="found − left last time; counted only where the whole interval of the change lies on "
                        "one side of nought",
                        source=RULE,
                        given=(("both gaps read at", len(changes)),),
                    )
                    for key, found in (("closed", closed), ("opened", opened))
                ),
            ),
            warnings=(*_cautions(closed, opened), *_not_compared(strange)),
            tables=(self._table(changes),),
        )

    def _changes(self) -> tuple[list[Change], list[str]]:
        """Return each valve that was read both times, and the places where the gaps now are not those of last time."""
        last: Readings = [{"inlet": row.inlet_last, "exhaust": row.exhaust_last} for row in self.gaps]
        found: Readings = [{"inlet": row.inlet_found, "exhaust": row.exhaust_found} for row in self.gaps]
        strange = _miscounted(last, found)
        before = {gap.name: gap.reading for gap in read_gaps(last, self.gap_limit, "gap left last time")}
        now = [
            gap
            for gap in read_gaps(found, self.gap_limit, "gap found")
            if gap.name in before and (gap.cylinder, gap.kind) not in strange
        ]
        places = [f"{word(kind)} of cylinder {cylinder}" for cylinder, kind in strange]
        return [_changed(gap, before[gap.name]) for gap in now], places

    def _table(self, changes: Sequence[Change]) -> ResultTable:
        return ResultTable(
            key="record",
            title="Valve by valve",
            columns=(
                Column(key="valve", label="Valve", strong=True),
                Column(key="last", label="Left last time", unit="mm"),
                Column(key="found", label="Found", unit="mm"),
                Column(key="change", label="Change", unit="mm"),
                Column(key="moved", label="Since last time", wide=True),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        one.gap.name,
                        one.last,
                        one.gap.reading,
                        one.change,
                        _MOVED[one.moved] + (", by half or more" if one.by_half else ""),
                    ),
                    chosen=one.moved != "not to be told",
                )
                for one in changes
            ),
            formula="change = found − left last time; closed or opened only where the whole interval of the change "
            "lies on one side of nought",
            source=RULE,
            given=(("error limit of the gap readings, ±", self.gap_limit),),
        )


def _miscounted(last: Readings, found: Readings) -> list[tuple[int, Kind]]:
    """Return where a cylinder has more gaps of a kind now than last time, or fewer: which is which is not known."""
    return [
        (cylinder, kind)
        for cylinder, (then, now) in enumerate(zip(last, found, strict=True), 1)
        for kind in KINDS
        if len(then[kind] or now[kind] or ()) != len(now[kind] or then[kind] or ())
    ]


def _not_compared(places: Sequence[str]) -> tuple[Caution, ...]:
    if not places:
        return ()
    text = f"Not compared: {listed(places)}. Type one gap for each valve, last time and now."
    return (Caution("notice", text),)


def _changed(gap: Gap, last: Quantity) -> Change:
    change: Quantity = gap.reading - last
    best, expanded = magnitude_in(change, "mm"), uncertainty_in(change, "mm") or 0.0
    moved: Moved = "not to be told"
    if judged(best, expanded, low=0.0, grain=GRAIN) == "out":
        moved = "closed"
    elif judged(best, expanded, high=0.0, grain=GRAIN) == "out":
        moved = "opened"
    by_half = moved != "not to be told" and abs(best) >= HALF * magnitude_in(last, "mm") - GRAIN
    return Change(gap, last, change, moved, by_half)


def _headline(closed: Sequence[Change], opened: Sequence[Change], read: int) -> str:
    parts = [
        f"{deed} {', '.join(one.gap.name for one in found)}"
        for deed, found in (("Closed:", closed), ("opened:" if closed else "Opened:", opened))
        if found
    ]
    named = "; ".join(parts)
    if not named:
        return "No change that the blades can tell"
    return named if len(named) <= LONGEST_HEADLINE else f"Of {read}: {len(closed)} closed, {len(opened)} opened"


def _says(closed: Sequence[Change], opened: Sequence[Change]) -> str:
    said = [
        f"{deed} since last time: {listed(one.said for one in found)}."
        for deed, found in (("Closed", closed), ("Opened", opened))
        if found
    ]
    return " ".join(said) or "No gap has changed by more than the blades can tell."


def _drawing(changes: Sequence[Change]) -> Figure:
    short: dict[Moved, str] = {"closed": "closed", "opened": "opened", "not to be told": "no change"}
    bars = tuple(
        Bar(
            one.gap.short,
            magnitude_in(one.gap.reading, "mm"),
            uncertainty_in(one.gap.reading, "mm") or 0.0,
            short[one.moved] + (" by half" if one.by_half else ""),
            strong=one.moved != "not to be told",
            before=magnitude_in(one.last, "mm"),
        )
        for one in changes
    )
    return gap_bars("record", "Gaps since last time", bars, "ring: left last time; dot: found")


def _cautions(closed: Sequence[Change], opened: Sequence[Change]) -> tuple[Caution, ...]:
    """Return what to check of the valves whose gap has moved, what forbids to run the engine first."""
    cautions = []
    if halved := [one.gap.name for one in closed if one.by_half]:
        text = (
            f"Closed by half or more: {listed(halved)}. A stretched stem breaks, and the head of the valve then wrecks "
            "the piston: at speed that can kill. Do not run the engine before the valve is out and measured."
        )
        cautions.append(Caution("warning", text))
    if halved := [one.gap.name for one in opened if one.by_half]:
        text = (
            f"Opened by half or more: {listed(halved)}. A pushrod may jump out, and a loose seat may fall into the "
            "cylinder: at speed that can kill. Do not run the engine before you have found the cause."
        )
        cautions.append(Caution("warning", text))
    if closed:
        text = (
            f"Closed since last time: {listed(one.said for one in closed)}. The seat or the face of the valve sinks, "
            "or its stem stretches. Test the cylinder for leaks at the valve, set the gap, and measure it again after "
            "a short run. Setting it again and again hides the fault."
        )
        cautions.append(Caution("notice", text))
    if opened:
        text = (
            f"Opened since last time: {listed(one.said for one in opened)}. Look for a loose lock nut or rocker shaft, "
            "a bent pushrod, a worn cam lobe or tappet, a loose valve seat."
        )
        cautions.append(Caution("notice", text))
    return tuple(cautions)
