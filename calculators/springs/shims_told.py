"""What is told of the shims that were chosen: headline, table, steps, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import DECISION, Caution, Column, Quantity, ResultTable, Stage, Step, TableRow, Walk, quantity
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import figures, plain, printed
from calculators.bench.verdict import best_of, verdict_on
from calculators.bench.words import listed
from calculators.formulas.decision_rule import Verdict


@dataclass(frozen=True, slots=True)
class Fitting:
    """One valve: the shims for it in mm, the height then, and what the springs do there."""

    number: int
    pile: tuple[float, ...]
    height: Any
    seat: Any
    open: Any
    margin: Any
    verdict: Verdict

    @property
    def shims(self) -> str:
        return " + ".join(plain(shim) for shim in self.pile) or "none"


def headline(fitted: Sequence[Fitting]) -> str:
    """Return the piles in the order of the valves; how many there are where they are too many to read from afar."""
    piles = [one.shims for one in fitted]
    if set(piles) == {"none"}:
        return "No shims"
    if len(set(piles)) == 1:
        return f"{piles[0]} mm under each" if len(piles) > 1 else f"{piles[0]} mm"
    whole = "Valve " + " · ".join(f"{one.number}: {one.shims}" for one in fitted) + " mm"
    if len(whole) <= LONGEST_HEADLINE:
        return whole
    return f"{sum(bool(one.pile) for one in fitted)} of {len(fitted)} valves need shims"


def walk(fitted: Sequence[Fitting]) -> tuple[Walk, ...]:
    """Return the valves to be shimmed, each a step."""
    steps = tuple(
        Step(
            key=str(one.number),
            label=str(one.number),
            words=f"Valve {one.number}: {_put(one)}; the springs stand at {figures(best_of(one.height), 2)} mm.",
            large=f"{one.number} · {one.shims}{' mm' if one.pile else ''}",
        )
        for one in fitted
    )
    return (Walk(key="shims", title="Valve by valve", stages=(Stage(title="Shims", steps=steps),)),)


def _put(one: Fitting) -> str:
    return f"put {one.shims} mm under them" if one.pile else "no shim"


def warnings(fitted: Sequence[Fitting], wanted: float, load_band: Quantity, least: float) -> Iterator[Caution]:
    """Yield what to beware of: coils too near, and loads that are off, or may be; the load wanted in N."""
    near = [one.number for one in fitted if one.margin is not None and verdict_on(one.margin, least) != "in"]
    if near:
        yield Caution(
            "warning",
            f"Valve {listed(near)}: the coil-bind margin is not sure to be {plain(least)} mm at full lift. Coils "
            "that touch bend pushrods and drop valves, and at speed that can kill.",
        )
    if fitted[0].margin is None:
        message = "Coil bind is not checked here: work it out first, or shims may press the coils together."
        yield Caution("notice", message)
    off = [one for one in fitted if one.verdict == "out"]
    strong = [one.number for one in off if not one.pile and best_of(one.seat) > wanted]
    weak = [one.number for one in off if one.number not in strong]
    if weak:
        yield Caution(
            "notice",
            f"Valve {listed(weak)}: no stack of these shims gives the seat load wanted. Look at seat and valve "
            "before you buy thicker shims: a sunken valve lets the spring stand longer.",
        )
    if strong:
        yield Caution(
            "notice",
            f"Valve {listed(strong)}: the spring is too short and presses harder than wanted even without a shim. "
            "Look for a shim or washer left under it, for the wrong retainer or collets, and for a valve that sits "
            "high in its seat.",
        )
    if close := [one.number for one in fitted if one.verdict == "too close to call"]:
        yield Caution(
            "notice",
            f"Valve {listed(close)}: too close to call. The seat load is not known well enough for a band of "
            f"{printed(load_band, '%')}. Press the springs on a tester: two loads at two lengths.",
        )


def table(fitted: Sequence[Fitting], wanted: Quantity, load_band: Quantity) -> ResultTable:
    """Return valve by valve what it gets and what its springs then do."""
    return ResultTable(
        key="valves",
        title="Valve by valve, with its shims",
        columns=(
            Column(key="valve", label="Valve"),
            Column(key="shims", label="Shims, mm", strong=True),
            Column(key="height", label="Height then", unit="mm"),
            Column(key="seat", label="Seat load", unit="N"),
            Column(key="open", label="Full lift", unit="N"),
            Column(key="margin", label="Coil-bind margin", unit="mm", places=1),
            Column(key="verdict", label="Seat load"),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    one.number,
                    one.shims,
                    quantity(one.height, "mm"),
                    quantity(one.seat, "N"),
                    None if one.open is None else quantity(one.open, "N"),
                    None if one.margin is None else quantity(one.margin, "mm"),
                    one.verdict,
                )
            )
            for one in fitted
        ),
        formula="of all stacks of up to two shims that keep the seat load and the coil-bind margin: least spread of "
        "heights first, then nearest to the height wanted",
        source=DECISION,
        given=(("seat load wanted", wanted), ("tolerance", load_band)),
    )
