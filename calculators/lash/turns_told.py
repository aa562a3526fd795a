"""What a set of adjusting screws wants done: in a sentence, valve by valve, and as steps to tick."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import DECISION, Column, ResultTable, Step, TableRow, magnitude_in, printed, quantity
from calculators.bench.words import word
from calculators.formulas.base_circle import Kind
from calculators.formulas.decision_rule import Verdict
from calculators.lash.adjuster_drawing import clock_words, sense, turn_words
from calculators.lash.feelers import Pair, stack_words
from calculators.lash.stop_words import SHORT_WORDS

MOST_SAID = 8
"""More turns than these are not said in one sentence."""


@dataclass(frozen=True, slots=True)
class SetValve:
    """One valve that was measured: ``turn`` is positive clockwise."""

    cylinder: int
    kind: Kind
    name: str
    found: Any
    wanted: Any
    turn: Any
    verdict: Verdict

    @property
    def key(self) -> str:
        return self.name.replace(word(self.kind), self.kind).replace(" ", "_")

    @property
    def degrees(self) -> float:
        return magnitude_in(self.turn, "°")

    @property
    def deed(self) -> str:
        return f"{turn_words(self.degrees)} {word(sense(self.degrees))}"


def says(per_mm: float, valves: Sequence[SetValve]) -> str:
    """Return what a turn is worth, and which screws to turn."""
    said = [
        f"Turn the screw {per_mm / 100:.1f}° for each 0.01 mm, {per_mm * 0.0254:.1f}° for each thou: "
        "clockwise closes the gap."
    ]
    moving = [valve for valve in valves if valve.verdict == "out"]
    doubtful = [valve.name for valve in valves if valve.verdict == "too close to call"]
    if len(moving) > MOST_SAID:
        said.append(f"Of {len(valves)} valves measured, {len(moving)} need setting: see the table.")
    elif moving:
        said.append(f"Set {', '.join(f'{valve.name} {valve.deed}' for valve in moving)}.")
    if doubtful:
        said.append(f"Try the two blades at {', '.join(doubtful)}.")
    if valves and not moving and not doubtful:
        said.append("Leave all the valves you measured as they are.")
    return " ".join(said)


_VERDICTS = {"in": "in: leave it", "out": "out: set it", "too close to call": "too close to call: try the two blades"}
_UNTURNED = {"in": "leave", "too close to call": "try the blades"}


def turns(
    valves: Sequence[SetValve], pitch: Any, allowance: Any, lever: float, loose: Mapping[Kind, Any]
) -> ResultTable:
    """Return each valve that was measured, with its turn and its verdict."""
    columns = (
        Column(key="valve", label="Valve"),
        Column(key="found", label="Found", unit="mm"),
        Column(key="wanted", label="Wanted", unit="mm"),
        Column(key="turn", label="Turn the screw", strong=True),
        Column(key="clock", label="On a clock's face"),
        *((Column(key="loose", label="Nut loose", unit="mm"),) if loose else ()),
        Column(key="verdict", label="Verdict", wide=True),
    )
    rows = (
        TableRow(
            cells=(
                valve.name,
                valve.found,
                valve.wanted,
                valve.deed if valve.verdict == "out" else _UNTURNED[valve.verdict],
                clock_words(valve.degrees) if valve.verdict == "out" else None,
                *((loose[valve.kind],) if loose else ()),
                _VERDICTS[valve.verdict],
            ),
            chosen=valve.verdict == "out",
        )
        for valve in valves
    )
    return ResultTable(
        key="turns",
        title="Valve by valve",
        columns=columns,
        rows=tuple(rows),
        formula="360° × (found − wanted) ÷ (pitch × leverage), clockwise where positive; leave it if the whole "
        "interval found ± U lies between the figure and the figure + the allowance; set it if none of it does",
        source=DECISION,
        given=(("pitch", pitch), ("leverage", lever), ("allowance", allowance)),
    )


def valve_steps(
    valve: SetValve, loose: Mapping[Kind, Any], pair: Pair | None, blades: tuple[Any, ...]
) -> Iterator[Step]:
    """Yield what is done at one valve that is not in: set it, where it is out, and prove it."""
    short = valve.name.replace(word(valve.kind), SHORT_WORDS[valve.kind])
    wanted = printed(valve.wanted, "mm")

    if valve.verdict == "out":
        nut = f", to {_nominal(loose[valve.kind])} with the nut loose" if loose else ""
        yield Step(
            key=f"set_{valve.key}",
            label=valve.name,
            words=f"Loosen the nut of {valve.name}. Turn the screw {valve.deed}{nut}. "
            "Hold the screw and tighten the nut.",
            large=f"{short} · {valve.deed}",
        )
    proof = (
        f"{stack_words(pair[0], blades)} must go in, {stack_words(pair[1], blades)} must not"
        if pair
        else f"measure again; {wanted} is wanted"
    )
    yield Step(
        key=f"prove_{valve.key}",
        label=f"prove {valve.name}",
        words=f"With the nut of {valve.name} tight: {proof}.",
        large=f"{short} · {wanted}",
    )


def _nominal(gap: Any) -> str:
    return printed(quantity(magnitude_in(gap, "mm"), "mm"), "mm")
