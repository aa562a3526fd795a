"""What the gaps did since last time, valve by valve: judged, drawn, in words, and what to check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from calculators.bench import (
    Caution,
    Column,
    Figure,
    Quantity,
    ResultTable,
    Source,
    TableRow,
    magnitude_in,
    printed,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import uncertainty_in
from calculators.bench.words import listed
from calculators.formulas.decision_rule import judged
from calculators.lash.asked import Gap
from calculators.lash.feelers import GRAIN
from calculators.lash.gap_drawing import Bar, gap_bars

HALF = 0.5
"""A gap that has closed or opened by this share of itself is not only set again (common practice, no source)."""
RULE = Source("ISO 14253-1 (from memory); JCGM 100:2008 (GUM), 4.3.7 and 6.2", "memory")

Moved = Literal["closed", "opened", "not to be told"]
_MOVED: dict[Moved, str] = {
    "closed": "closed",
    "opened": "opened",
    "not to be told": "no change the blades can show",
}


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


def changed(gap: Gap, last: Quantity) -> Change:
    """Judge what a gap has done since last time."""
    change: Quantity = gap.reading - last
    best, expanded = magnitude_in(change, "mm"), uncertainty_in(change, "mm") or 0.0
    moved: Moved = "not to be told"
    if judged(best, expanded, low=0.0, grain=GRAIN) == "out":
        moved = "closed"
    elif judged(best, expanded, high=0.0, grain=GRAIN) == "out":
        moved = "opened"
    by_half = moved != "not to be told" and abs(best) >= HALF * magnitude_in(last, "mm") - GRAIN
    return Change(gap, last, change, moved, by_half)


def not_compared(places: Sequence[str]) -> tuple[Caution, ...]:
    """Return where the gaps are not as many as last time."""
    if not places:
        return ()
    text = f"Not compared: {listed(places)}. Type one gap for each valve, last time and now."
    return (Caution("notice", text),)


def headline(closed: Sequence[Change], opened: Sequence[Change], read: int) -> str:
    """Return the valves whose gap has moved; of many, how many."""
    parts = [
        f"{deed} {', '.join(one.gap.name for one in found)}"
        for deed, found in (("Closed:", closed), ("opened:" if closed else "Opened:", opened))
        if found
    ]
    named = "; ".join(parts)
    if not named:
        return "No change the blades can show"
    return named if len(named) <= LONGEST_HEADLINE else f"Of {read}: {len(closed)} closed, {len(opened)} opened"


def says(closed: Sequence[Change], opened: Sequence[Change]) -> str:
    """Return the same as a sentence, each with how far."""
    said = [
        f"{deed} since last time: {listed(one.said for one in found)}."
        for deed, found in (("Closed", closed), ("Opened", opened))
        if found
    ]
    return " ".join(said) or "No gap has changed by more than the blades can show."


def drawn(changes: Sequence[Change]) -> Figure:
    """Draw each gap, and where it came from."""
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


def cautions(closed: Sequence[Change], opened: Sequence[Change]) -> Iterator[Caution]:
    """Yield what to check of the valves whose gap has moved, what forbids to run the engine first."""
    if halved := [one.gap.name for one in closed if one.by_half]:
        text = (
            f"Closed by half or more: {listed(halved)}. A stretched stem breaks, and the valve head then wrecks the "
            "piston: at speed that can kill. Do not run the engine until the valve is out and measured."
        )
        yield Caution("warning", text)
    if halved := [one.gap.name for one in opened if one.by_half]:
        text = (
            f"Opened by half or more: {listed(halved)}. A pushrod may jump out, and a loose seat may fall into the "
            "cylinder: at speed that can kill. Do not run the engine until you have found the cause."
        )
        yield Caution("warning", text)
    if closed:
        text = (
            f"Closed since last time: {listed(one.said for one in closed)}. The valve's seat or face is sinking, or "
            "its stem is stretching. Test the cylinder for leaks at the valve, set the gap, and measure it again after "
            "a short run. Resetting it again and again hides the fault."
        )
        yield Caution("notice", text)
    if opened:
        text = (
            f"Opened since last time: {listed(one.said for one in opened)}. Look for a loose lock-nut or rocker shaft, "
            "a bent pushrod, a worn cam lobe or tappet, a loose valve seat."
        )
        yield Caution("notice", text)


def record_table(changes: Sequence[Change], limit: Quantity) -> ResultTable:
    """Return each valve, last time and now."""
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
        formula="change = found − left last time; closed or opened only if the whole interval of the change is on one "
        "side of 0",
        source=RULE,
        given=(("error limit of the gap readings, ±", limit),),
    )
