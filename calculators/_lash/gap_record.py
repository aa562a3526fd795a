"""The record of the gaps: found and left, valve by valve, and which of them have moved since last time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any, Literal

from uncertainties import UFloat

from calculators._errors import FieldError
from calculators._report import Caution, Column, Row, Source, Table
from calculators._units import magnitude_in, measured, printed, uncertainty_in
from calculators._words import listed, word
from calculators.formulas.base_circle import KINDS, Kind, Valve
from calculators.formulas.decision_rule import judged

COLUMNS = ("last", "found", "left")
HALF = 0.5
"""A gap that has closed by this share of itself is not only set again (common practice, no source)."""

_RULE = Source("ISO 14253-1 (from memory); JCGM 100:2008 (GUM), 4.3.7 and 6.2", "memory")
_GRAIN = 1e-6  # mm

Moved = Literal["closed", "opened", "not to be told", ""]
AsLeft = Literal["closer", "not closer", "not to be told", ""]


@dataclass(frozen=True, slots=True)
class Entry:
    """What was typed of one valve and what it comes to; each gap is a Quantity with its uncertainty, or None.

    Parameters
    ----------
    change : Quantity, optional
        Found less left last time.
    moved, as_left : str
        The verdict on the change, and on what was left beside the clearance; empty where
        a reading lacks.
    by_half : bool
        The gap has closed by half of itself or more, by the best estimates.
    """

    valve: Valve
    last: Any
    found: Any
    left: Any
    change: Any
    moved: Moved
    by_half: bool
    as_left: AsLeft


def record_errors(inputs: SimpleNamespace, counts: Mapping[Kind, Sequence[int]]) -> list[FieldError]:
    """Return what is wrong where a cell has more or fewer gaps than its cylinder has valves of the kind."""
    return [
        FieldError(
            f"{kind}_{column}.{row}",
            f"{_LABELS[kind, column]} of cylinder {row} must have {count} {'entry' if count == 1 else 'entries'}, "
            f"one a valve, not {len(cell)}",
        )
        for kind in KINDS
        for column in COLUMNS
        for row, (cell, count) in enumerate(zip(getattr(inputs, f"{kind}_{column}"), counts[kind], strict=True), 1)
        if cell and len(cell) != count
    ]


LABEL = {"last": "gap left last time", "found": "gap found", "left": "gap left"}
_LABELS = {(kind, column): f"{word(kind).capitalize()} {words}" for kind in KINDS for column, words in LABEL.items()}


def entries(inputs: SimpleNamespace, valves: Sequence[Valve]) -> tuple[Entry, ...]:
    """Return every valve of which anything was typed."""
    wanted = {kind: magnitude_in(getattr(inputs, f"{kind}_clearance"), "mm") for kind in KINDS}
    found = []
    for valve in valves:
        last, now, left = (_gap(inputs, valve, column) for column in COLUMNS)
        if last is None and now is None and left is None:
            continue
        change = now - last if now is not None and last is not None else None
        moved = _moved(change)
        by_half = moved == "closed" and -magnitude_in(change, "mm") >= HALF * magnitude_in(last, "mm") - _GRAIN
        found.append(Entry(valve, last, now, left, change, moved, by_half, _as_left(left, wanted[valve.kind])))
    return tuple(found)


def _moved(change: Any) -> Moved:
    if change is None:
        return ""
    best, expanded = magnitude_in(change, "mm"), uncertainty_in(change, "mm") or 0.0
    if judged(best, expanded, low=0.0, grain=_GRAIN) == "out":
        return "closed"
    return "opened" if judged(best, expanded, high=0.0, grain=_GRAIN) == "out" else "not to be told"


def _as_left(left: Any, wanted: float) -> AsLeft:
    if left is None:
        return ""
    best, expanded = magnitude_in(left, "mm"), uncertainty_in(left, "mm") or 0.0
    verdicts: dict[str, AsLeft] = {"in": "not closer", "out": "closer"}
    return verdicts.get(judged(best, expanded, low=wanted, grain=_GRAIN), "not to be told")


def _gap(inputs: SimpleNamespace, valve: Valve, column: str) -> Any:
    cell = getattr(inputs, f"{valve.kind}_{column}")[valve.cylinder - 1]
    if not cell:
        return None
    gap = cell[max(valve.number - 1, 0)]
    name = f"{valve.words}, {LABEL[column]}"
    return gap if isinstance(gap.magnitude, UFloat) else measured(gap, inputs.gap_limit, name)


def record_table(record: Sequence[Entry], limit: Any) -> Table:
    """Return the record, valve by valve."""
    return Table(
        key="record",
        title="Gaps found and left",
        columns=(
            Column(key="valve", label="Valve", strong=True),
            Column(key="last", label="Left last time", unit="mm"),
            Column(key="found", label="Found", unit="mm"),
            Column(key="change", label="Change", unit="mm"),
            Column(key="moved", label="Since last time", wide=True),
            Column(key="left", label="Left", unit="mm"),
            Column(key="as_left", label="As left", wide=True),
        ),
        rows=tuple(
            Row(
                cells=(
                    entry.valve.words,
                    entry.last,
                    entry.found,
                    entry.change,
                    _MOVED[entry.moved] + (", by half or more" if entry.by_half else ""),
                    entry.left,
                    _AS_LEFT[entry.as_left],
                ),
                chosen=entry.moved == "closed" or entry.as_left == "closer",
            )
            for entry in record
        ),
        formula="change = found − left last time; closed or opened only where the whole interval of the change lies "
        "on one side of nought; closer than the clearance only where all of what was left does",
        source=_RULE,
        given=(("error limit of the gap readings, ±", limit),),
    )


_MOVED = {
    "closed": "closed",
    "opened": "opened",
    "not to be told": "no change that the blades can tell",
    "": "–",
}


_AS_LEFT = {
    "closer": "closer than the clearance: set it again",
    "not closer": "not closer than the clearance",
    "not to be told": "at the clearance, as nearly as the blades can tell",
    "": "–",
}


def record_cautions(record: Sequence[Entry]) -> tuple[Caution, ...]:
    """Return what to check of the valves whose gap has moved or was left too close."""
    cautions = []
    closed = [entry for entry in record if entry.moved == "closed"]
    halved = [entry for entry in closed if entry.by_half]
    opened = [entry for entry in record if entry.moved == "opened"]
    close = [entry for entry in record if entry.as_left == "closer"]
    if closed:
        cautions.append(
            Caution(
                "caution",
                f"Closed since last time: {listed(f'{one.valve.words}, by {_by(one)}' for one in closed)}. "
                "The seat or the face of the valve sinks, or its stem stretches. Test the cylinder for leaks at the "
                "valve, set the gap, and measure it again after a short run. Setting it again and again hides the "
                "fault.",
            )
        )
    if halved:
        cautions.append(
            Caution(
                "warning",
                f"Closed by half or more: {listed(one.valve.words for one in halved)}. A stretched stem breaks, and "
                "the head of the valve then wrecks the piston: at speed that can kill. Do not run the engine before "
                "the valve is out and measured.",
            )
        )
    if opened:
        cautions.append(
            Caution(
                "caution",
                f"Opened since last time: {listed(f'{one.valve.words}, by {_by(one)}' for one in opened)}. "
                "Look for a loose lock nut or rocker shaft, a bent pushrod, a worn cam lobe or tappet.",
            )
        )
    if close:
        cautions.append(
            Caution(
                "caution", f"Left closer than the clearance: {listed(one.valve.words for one in close)}. Set again."
            )
        )
    return tuple(cautions)


def _by(entry: Entry) -> str:
    change = entry.change
    return printed(-change if magnitude_in(change, "mm") < 0 else change, "mm")
