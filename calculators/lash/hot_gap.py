"""What heat does to the valve gaps, in words and numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators._units import bare, figures
from calculators._words import listed, word
from calculators.bench import DECISION, Caution, Column, ResultTable, Source, TableRow, Value, quantity
from calculators.formulas.decision_rule import Verdict, judged

CLOSER, WIDER = 0.10, 0.15
"""Two cold figures, in mm, that are both common on engines with pushrods (common practice, no source)."""

EXPANSION = Source("Callister, Fundamentals of Materials Science and Engineering, 3rd edition, Table B.6")
LEVER = Source("similar triangles at the rocker; coefficients: Callister, 3rd edition, Table B.6")

_SAID: dict[Verdict, str] = {"in": "shuts", "out": "held off its seat", "too close to call": "too close to call"}


@dataclass(frozen=True, slots=True)
class Growth:
    """One valve: its cold gap, what each part does to it, the whole change, and what hard work takes off it, in mm."""

    kind: str
    cold: float
    shares: tuple[tuple[str, Any], ...]
    change: Any
    hotter: Any

    def gap(self, cold: float | None = None, hard: bool = False) -> Any:
        """Return the gap when hot, for the maker's cold figure or another."""
        return (self.cold if cold is None else cold) + self.change + (self.hotter if hard else 0.0)

    def verdict(self, cold: float | None = None, hard: bool = True) -> Verdict:
        """Judge whether the valve still shuts."""
        estimate, expanded = bare(self.gap(cold, hard))
        return judged(estimate, expanded or 0.0, low=0.0)


@dataclass(frozen=True, slots=True)
class Part:
    """One part: its length, coefficient in 10⁻⁶/K, rise in K, and growth in mm."""

    name: str
    material: str
    length: Any
    coefficient: float
    rise: float
    growth: Any


def says(grown: Sequence[Growth]) -> str:
    """Return what becomes of the maker's figures, in one sentence."""
    parts = [
        f"the {word(one.kind)} gap goes from {_mm(one.cold)} mm cold to {_mm(one.gap())} mm running and "
        f"{_mm(one.gap(hard=True))} mm worked hard ({_SAID[one.verdict()]})"
        for one in grown
    ]
    return f"By this estimate {listed(parts)}."


def gap_values(one: Growth, ratio: float, valve_length: Any, hotter: float) -> tuple[Value, ...]:
    """Return the gap running and worked hard, its growth, and the least cold figure that still shuts."""
    given = (
        ("cold gap", quantity(one.cold, "mm")),
        ("rocker ratio", ratio),
        *((f"{word(name)} changes the gap by", quantity(share, "mm")) for name, share in one.shares),
    )
    name = word(one.kind).capitalize()
    estimate, expanded = bare(one.change + one.hotter)
    return (
        Value(
            key=f"{one.kind}_running",
            label=f"{name} gap, running",
            quantity=quantity(one.gap(), "mm"),
            units=("mm", "thou"),
            formula="cold gap + (1 + ratio) × (case + barrel + head to the shaft) − ratio × (cam and tappet + pushrod) "
            "− (case + barrel + head to the seat + valve), each its growth α × length × rise",
            source=LEVER,
            given=given,
        ),
        Value(
            key=f"{one.kind}_hard",
            label=f"{name} gap, worked hard",
            quantity=quantity(one.gap(hard=True), "mm"),
            units=("mm", "thou"),
            formula="gap, running − α × valve length × how much hotter the valve is",
            source=LEVER,
            given=(
                ("gap, running", quantity(one.gap(), "mm")),
                ("valve length", valve_length),
                ("hotter, in K", hotter),
            ),
        ),
        Value(
            key=f"{one.kind}_change",
            label=f"{name} gap grows, running, by",
            quantity=quantity(one.change, "mm"),
            units=("mm", "thou"),
            formula="gap, running − cold gap; a minus closes it",
            source=LEVER,
            given=given[:1],
        ),
        Value(
            key=f"{one.kind}_least_cold",
            label=f"Least cold {word(one.kind)} gap that surely shuts, worked hard",
            quantity=quantity(max((expanded or 0.0) - estimate, 0.0), "mm"),
            units=("mm", "thou"),
            formula="U − growth, worked hard; not less than none. To understand the maker's figure by, not to set to",
            source=DECISION,
            given=(("growth, worked hard", quantity(one.change + one.hotter, "mm")),),
        ),
    )


def cold_figures(grown: Sequence[Growth]) -> ResultTable:
    """Return what becomes of the maker's figures and of the two customary ones."""
    makers = {round(one.cold, 6): one.kind for one in grown}
    if len(makers) < len(grown):
        makers = dict.fromkeys(makers, "both")
    colds = sorted({*makers, CLOSER, WIDER})
    columns = [Column(key="cold", label="Cold", unit="mm", strong=True), Column(key="whose", label="Maker's for")]
    for one in grown:
        name = word(one.kind).capitalize()
        columns += [
            Column(key=f"{one.kind}_running", label=f"{name}, running", unit="mm"),
            Column(key=f"{one.kind}_hard", label=f"{name}, worked hard", unit="mm"),
            Column(key=f"{one.kind}_verdict", label=f"{name} valve, worked hard", wide=True),
        ]
    rows = []
    for cold in colds:
        cells: list[Any] = [quantity(cold, "mm"), makers.get(cold)]
        for one in grown:
            cells += [quantity(one.gap(cold), "mm"), quantity(one.gap(cold, hard=True), "mm")]
            cells.append(_SAID[one.verdict(cold)])
        rows.append(TableRow(cells=tuple(cells), chosen=cold in makers))
    return ResultTable(
        key="cold_figures",
        title="What becomes of a cold figure",
        columns=tuple(columns),
        rows=tuple(rows),
        formula="hot gap = cold figure + growth; shuts where all of gap ± U is above nought, held off its seat where "
        "all of it is below",
        source=DECISION,
    )


def part_table(grown: Sequence[Growth], parts: Sequence[Part]) -> ResultTable:
    """Return each part's growth."""
    return ResultTable(
        key="parts",
        title="Part by part",
        columns=(
            Column(key="part", label="Part"),
            Column(key="length", label="Length", unit="mm", places=1),
            Column(key="coefficient", label="α, 10⁻⁶/K", places=1),
            Column(key="rise", label="Warmer by, K", places=0),
            Column(key="growth", label="Grows by", unit="mm", places=3, strong=True),
            Column(key="material", label="Material", wide=True),
        ),
        rows=tuple(
            TableRow(
                cells=(part.name, part.length, part.coefficient, part.rise, quantity(part.growth, "mm"), part.material)
            )
            for part in parts
        ),
        formula="α × length × (hot − cold)",
        source=EXPANSION,
    )


def steps_of(one: Growth) -> tuple[tuple[str, float, bool], ...]:
    """Return what the figure draws: the cold gap, each share, and the gaps that result."""
    return (
        ("cold gap", one.cold, True),
        *((word(name), round(float(bare(share)[0]), 4), False) for name, share in one.shares),
        (word("running"), round(float(bare(one.gap())[0]), 4), True),
        ("hotter valve", round(float(bare(one.hotter)[0]), 4), False),
        ("worked hard", round(float(bare(one.gap(hard=True))[0]), 4), True),
    )


MAKER_WINS = Caution("notice", "The maker's cold figure wins over this estimate. Never set closer by it.")


def customary_figures(grown: Sequence[Growth]) -> str:
    """Explain by these numbers the two customary cold figures, and why a close gap is the worse mistake."""
    return (
        f"Cold figures of {CLOSER:.2f} mm and of {WIDER:.2f} mm are both common on engines with pushrods (common "
        f"practice, no source). By this estimate, worked hard, {listed(_customary(grown))}. Too wide a gap "
        f"clatters; too close a one burns the valve. {_which(grown)}"
    )


def running_cautions(grown: Sequence[Growth]) -> tuple[Caution, ...]:
    """Return which valves may not shut even in ordinary running."""
    return tuple(
        Caution(
            "notice",
            f"By this estimate the {word(one.kind)} valve may not shut even in ordinary running: "
            f"{_SAID[one.verdict(hard=False)]}. See first "
            "whether materials, lengths and temperatures are yours; then ask the maker.",
        )
        for one in grown
        if one.verdict(hard=False) != "in"
    )


def _customary(grown: Sequence[Growth]) -> list[str]:
    return [
        f"the {word(one.kind)} gap is {_mm(one.gap(CLOSER, hard=True))} mm or {_mm(one.gap(WIDER, hard=True))} mm"
        for one in grown
    ]


def _which(grown: Sequence[Growth]) -> str:
    """Say which of the two figures to take, where one of them surely shuts; the larger is no better than that."""
    held = [one for one in grown if one.verdict(WIDER) != "in"]
    if not held:
        return "Where you cannot tell which is yours, take the larger."
    valves = listed(f"the {word(one.kind)} valve ({_SAID[one.verdict(WIDER)]} at the larger)" for one in held)
    return f"Neither surely shuts {valves}: set neither before the maker has told you yours."


def _mm(gap: Any) -> str:
    return figures(bare(gap)[0], 2)
