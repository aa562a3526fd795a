"""What heat does to the valve gaps, in words and numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import DECISION, Caution, Quantity, Source, Value, magnitude_in, number_in, quantity
from calculators.bench.units import bare, figures, printed_bare
from calculators.bench.words import listed, word
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.thermal_growth import growth
from calculators.lash.metals import COEFFICIENTS, MATERIALS

CLOSER, WIDER = 0.10, 0.15
"""Two cold figures, in mm, that are both common on engines with pushrods (common practice, no source)."""

EXPANSION = Source("Callister, Fundamentals of Materials Science and Engineering, 3rd edition, Table B.6")
LEVER = Source("similar triangles at the rocker; coefficients: Callister, 3rd edition, Table B.6")

_SHORT: dict[Verdict, str] = {"in": "shuts", "out": "held open", "too close to call": "unsure"}
SAID: dict[Verdict, str] = {"in": "shuts", "out": "held off its seat", "too close to call": "too close to call"}


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


@dataclass(frozen=True, slots=True)
class Heated:
    """One part as it is told: its length in mm, its metal, and how much warmer it gets, in K."""

    name: str
    length: Quantity
    metal: str
    hot: Quantity
    rise: Any
    coefficient: Any

    @property
    def longer(self) -> Any:
        return growth(number_in(self.length, "mm"), self.coefficient, self.rise)

    def part(self, cold: float, name: str = "") -> Part:
        rise = magnitude_in(self.hot, "°C") - cold
        return Part(name or self.name, MATERIALS[self.metal], self.length, COEFFICIENTS[self.metal], rise, self.longer)


def says(grown: Sequence[Growth]) -> str:
    """Return what becomes of the maker's figures, in one sentence."""
    parts = [
        f"the {word(one.kind)} gap goes from {_mm(one.cold)} mm cold to {_mm(one.gap())} mm running and "
        f"{_mm(one.gap(hard=True))} mm worked hard ({SAID[one.verdict()]})"
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
            label=f"Least cold {word(one.kind)} gap sure to shut, worked hard",
            quantity=quantity(max((expanded or 0.0) - estimate, 0.0), "mm"),
            units=("mm", "thou"),
            formula="U − growth, worked hard; never below 0. To understand the maker's figure, not to set to",
            source=DECISION,
            given=(("growth, worked hard", quantity(one.change + one.hotter, "mm")),),
        ),
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
            f"{SAID[one.verdict(hard=False)]}. First check that materials, lengths and temperatures are yours; then "
            "ask the maker.",
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
        return "If you cannot tell which is yours, take the larger."
    valves = listed(f"the {word(one.kind)} valve ({SAID[one.verdict(WIDER)]} at the larger)" for one in held)
    return f"Neither is sure to shut {valves}: set neither until the maker has given you yours."


def _mm(gap: Any) -> str:
    return figures(bare(gap)[0], 2)


def hard_cautions(grown: Sequence[Growth]) -> tuple[Caution, ...]:
    """Return which valves shut in ordinary running, but not surely when they are worked hard."""
    doubtful = [one for one in grown if one.verdict(hard=False) == "in" and one.verdict() != "in"]
    if not doubtful:
        return ()
    names = listed(f"the {word(one.kind)} valve" for one in doubtful)
    text = (
        f"Worked hard, {names} may not shut, by this estimate: {_all(doubtful)} mm of gap. A valve held off its seat "
        "burns. Never set closer than the maker's figure."
    )
    return (Caution("notice", text),)


def _all(grown: Sequence[Growth]) -> str:
    return listed(printed_bare(one.gap(hard=True), 2) for one in grown)


def short(one: Growth) -> str:
    """Return one valve for the headline."""
    gap = figures(bare(one.gap(hard=True))[0], 2)
    return f"{'IN' if one.kind == 'inlet' else 'EX'} {gap} mm hot: {_SHORT[one.verdict()]}"
