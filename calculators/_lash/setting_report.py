"""What a set of adjusting screws wants done: turns, blades, steps to tick and cautions, in words and numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from calculators._lash.adjuster_drawing import clock_words, sense, turn_words
from calculators._lash.blades import held_together
from calculators._lash.drawing import SHORT_WORDS
from calculators._report import COMMON_PRACTICE, Caution, Column, Row, Source, Stage, Step, Table, Value, Walk
from calculators._units import magnitude_in, printed, quantity, uncertainty_in
from calculators._words import word
from calculators.formulas.adjuster_screw import WHOLE_TURN, Place, leverage, screw_turn
from calculators.formulas.base_circle import Kind
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.feeler_blades import Stack, nearest_stack

WITHIN = 0.01
"""A stack farther than this from a gap, in mm, is not that gap (common practice, no source)."""
GRAIN = 1e-6
"""Millimetres below which two gaps are one: what sums of decimals may be out by."""

MOST_SAID = 8
"""More turns than these are not said in one sentence."""

SCREW = Source("lead of a single-start thread, and similar triangles at the rocker", "identity")
DECISION = Source("ISO 14253-1, decision rules for conformity", "memory")


_nearest_stack = lru_cache(maxsize=64)(nearest_stack)


def stack_for(gap: Any, blades: tuple[Any, ...]) -> Stack:
    """Return the blades of a set that make a gap."""
    return _nearest_stack(magnitude_in(gap, "mm"), tuple(magnitude_in(blade, "mm") for blade in blades), WITHIN)


Pair = tuple[Stack, Stack]
"""The stack that must go in, and the one that must not."""


def pair_for(gap: Any, allowance: Any, blades: tuple[Any, ...]) -> Pair | None:
    """Return the two stacks that prove a gap; None where the set has no such two."""
    go, no_go = stack_for(gap, blades), stack_for(gap + allowance, blades)
    return (go, no_go) if go.near and no_go.near and no_go.thickness > go.thickness + GRAIN else None


@dataclass(frozen=True, slots=True)
class Screw:
    """An adjusting screw: how far a turn moves it, where it sits, and the rocker's ratio."""

    pitch: Any
    at: Place
    ratio: float

    @property
    def lever(self) -> float:
        return leverage(self.at, self.ratio)

    @property
    def per_mm(self) -> float:
        """Degrees of its turn for each millimetre of gap."""
        return WHOLE_TURN / (magnitude_in(self.pitch, "mm") * self.lever)


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


def lead(per_mm: float, valves: Sequence[SetValve]) -> str:
    """Return what a turn is worth, and which screws to turn."""
    said = [
        f"Turn the screw {per_mm / 100:.1f}° for each 0.01 mm, {per_mm * 0.0254:.1f}° for each thou: "
        "clockwise closes the gap."
    ]
    moving = [valve for valve in valves if valve.verdict == "out"]
    doubtful = [valve.name for valve in valves if valve.verdict == "too close to call"]
    if len(moving) > MOST_SAID:
        said.append(f"Of {len(valves)} valves measured, {len(moving)} want setting: see the table.")
    elif moving:
        said.append(f"Set {', '.join(f'{valve.name} {valve.deed}' for valve in moving)}.")
    if doubtful:
        said.append(f"Try the two blades at {', '.join(doubtful)}.")
    if valves and not moving and not doubtful:
        said.append("Leave all the valves that you measured as they are.")
    return " ".join(said)


def screw_values(screw: Screw) -> tuple[Value, ...]:
    """Return what a turn of the screw is worth."""
    lever = screw.lever
    formula = (
        "360° × change of the gap ÷ (pitch × leverage); the leverage is "
        + {
            "valve": "1, as the screw sits in the valve end",
            "pushrod": "the rocker ratio, as the screw sits in the pushrod end",
            "pivot": "1 + the rocker ratio, as the nut moves the pivot",
        }[screw.at]
    )
    given = (("pitch", screw.pitch), ("rocker ratio", screw.ratio), ("leverage", lever))
    return (
        *(
            Value(
                key=key,
                label=f"Turn of the screw for {label}",
                quantity=quantity(screw_turn(quantity(one, unit), screw.pitch, lever).m_as(""), "°"),
                units=("°",),
                places=1,
                formula=formula,
                source=SCREW,
                given=(("change of the gap", quantity(one, unit)), *given),
                lead=True,
            )
            for key, label, one, unit in (("per_hundredth", "0.01 mm", 0.01, "mm"), ("per_thou", "1 thou", 1.0, "thou"))
        ),
        Value(
            key="per_turn",
            label="One whole turn changes the gap by",
            quantity=screw.pitch * lever,
            units=("mm", "thou"),
            formula="pitch × leverage",
            source=SCREW,
            given=given,
        ),
    )


def nut_values(
    before: Any, after: Any, pull: Any, wanted: Mapping[Kind, Any], loose: Mapping[Kind, Any], blades: tuple[Any, ...]
) -> tuple[Value, ...]:
    """Return what the lock-nut adds, and the gaps to set while it is loose."""
    return (
        Value(
            key="pull",
            label="The lock-nut adds to the gap",
            quantity=pull,
            units=("mm", "thou"),
            formula="gap after tightening − gap before tightening, on the first valve",
            source=COMMON_PRACTICE,
            given=(("after", after), ("before", before)),
        ),
        *(
            Value(
                key=f"{kind}_loose",
                label=f"{word(kind).capitalize()} gap to set with the lock-nut loose",
                quantity=gap,
                units=("mm", "thou"),
                formula="the engine maker's figure − what the lock-nut adds",
                source=COMMON_PRACTICE,
                given=(("figure", wanted[kind]), ("lock-nut adds", pull)),
                lead=True,
            )
            for kind, gap in loose.items()
        ),
        *(
            Value(
                key=f"{kind}_loose_blades",
                label=f"{word(kind).capitalize()} blades with the lock-nut loose",
                quantity=quantity(stack.thickness, "mm"),
                units=("mm",),
                words=_words(stack, blades) + _off(stack),
                formula=f"of the stacks of these blades the nearest within {WITHIN} mm, else the nearest wider one",
                source=COMMON_PRACTICE,
                given=(("gap", quantity(magnitude_in(loose[kind], "mm"), "mm")),),
            )
            for kind in loose
            for stack in (stack_for(loose[kind], blades),)
        ),
    )


def _words(stack: Stack, blades: tuple[Any, ...]) -> str:
    packed = held_together(blades, stack.chosen)
    made = printed(quantity(stack.thickness, "mm"), "mm")
    return packed if packed == made else f"{packed} = {made}"


def _off(stack: Stack) -> str:
    if stack.near:
        return ""
    return f", {abs(stack.error):.2f} mm too {'wide' if stack.error > 0 else 'close'}"


def pair_values(kind: Kind, gap: Any, allowance: Any, blades: tuple[Any, ...], pair: Pair | None) -> tuple[Value, ...]:
    """Return the blade that must go in and the one that must not; nothing where the set has no such two."""
    if pair is None:
        return ()
    given = (("figure", gap), ("allowance", allowance))
    return tuple(
        Value(
            key=f"{kind}_{key}",
            label=f"{word(kind).capitalize()}: {what}",
            quantity=quantity(stack.thickness, "mm"),
            units=("mm",),
            words=_words(stack, blades),
            formula=f"the stack of these blades within {WITHIN} mm of {of}",
            source=COMMON_PRACTICE,
            given=given,
        )
        for key, what, of, stack in (
            ("go", "this must go in", "the figure", pair[0]),
            ("no_go", "this must not", "the figure + the allowance", pair[1]),
        )
    )


_VERDICTS = {"in": "in: leave it", "out": "out: set it", "too close to call": "too close to call: try the two blades"}
_UNTURNED = {"in": "leave", "too close to call": "try the blades"}


def turns(valves: Sequence[SetValve], pitch: Any, allowance: Any, lever: float, loose: Mapping[Kind, Any]) -> Table:
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
        Row(
            cells=(
                valve.name,
                valve.found,
                valve.wanted,
                valve.deed if valve.verdict == "out" else _UNTURNED[valve.verdict],
                clock_words(valve.degrees) if valve.verdict == "out" else None,
                *((quantity(magnitude_in(loose[valve.kind], "mm"), "mm"),) if loose else ()),
                _VERDICTS[valve.verdict],
            ),
            chosen=valve.verdict == "out",
        )
        for valve in valves
    )
    return Table(
        key="turns",
        title="Valve by valve",
        columns=columns,
        rows=tuple(rows),
        formula="360° × (found − wanted) ÷ (pitch × leverage), clockwise where positive; leave it where the whole "
        "interval found ± U lies between the figure and the figure + the allowance, set it where none of "
        "it does",
        source=DECISION,
        given=(("pitch", pitch), ("leverage", lever), ("allowance", allowance)),
    )


def walk(
    valves: Sequence[SetValve], loose: Mapping[Kind, Any], pairs: Mapping[Kind, Pair | None], blades: tuple[Any, ...]
) -> tuple[Walk, ...]:
    """Return the steps to tick: set and prove each valve that is not in; no walk where all are."""
    moving = [valve for valve in valves if valve.verdict != "in"]
    stages = tuple(
        Stage(
            title=f"Cylinder {cylinder}",
            steps=tuple(
                step
                for valve in moving
                if valve.cylinder == cylinder
                for step in valve_steps(valve, loose, pairs[valve.kind], blades)
            ),
        )
        for cylinder in dict.fromkeys(valve.cylinder for valve in moving)
    )
    return (Walk(key="setting", title="Set and prove", stages=stages),) if stages else ()


def valve_steps(valve: SetValve, loose: Mapping[Kind, Any], pair: Pair | None, blades: tuple[Any, ...]) -> list[Step]:
    """Return what is done at one valve that is not in: set it, where it is out, and prove it."""
    short = valve.name.replace(word(valve.kind), SHORT_WORDS[valve.kind])
    wanted = printed(valve.wanted, "mm")
    steps = []
    if valve.verdict == "out":
        nut = f", to {_nominal(loose[valve.kind])} with the nut loose" if loose else ""
        steps.append(
            Step(
                key=f"set_{valve.key}",
                label=valve.name,
                words=f"Loosen the nut of {valve.name}. Turn the screw {valve.deed}{nut}. "
                "Hold the screw and tighten the nut.",
                large=f"{short} · {valve.deed}",
            )
        )
    proof = (
        f"{_words(pair[0], blades)} must go in, {_words(pair[1], blades)} must not"
        if pair
        else f"measure again; {wanted} is wanted"
    )
    steps.append(
        Step(
            key=f"prove_{valve.key}",
            label=f"prove {valve.name}",
            words=f"With the nut of {valve.name} tight: {proof}.",
            large=f"{short} · {wanted}",
        )
    )
    return steps


def _nominal(gap: Any) -> str:
    return printed(quantity(magnitude_in(gap, "mm"), "mm"), "mm")


FIRES = Caution(
    "warning",
    "An engine that fires while you turn it crushes hands. Ignition off, battery lead off, sparking plugs out.",
)
TOO_CLOSE = Caution(
    "notice",
    "Too close a gap holds the valve off its seat when hot, and an exhaust valve burns. "
    "Between two gaps take the wider one.",
)
MAKER_WINS = Caution("notice", "The maker's gap, and cold or hot as the maker says, wins over any figure here.")


def far_cautions(names: Sequence[str]) -> tuple[Caution, ...]:
    """Return what to look at first where a screw would go more than one whole turn."""
    if not names:
        return ()
    text = (
        f"More than one whole turn at {', '.join(names)}. See first that the pushrod sits in its tappet and that "
        "the valve is on the base circle of its cam (common practice, no source)."
    )
    return (Caution("notice", text),)


def pull_cautions(pull: Any) -> tuple[Caution, ...]:
    """Return what is to be said where the lock-nut adds nothing that the readings can tell."""
    if pull is None or abs(magnitude_in(pull, "mm")) > (uncertainty_in(pull, "mm") or 0.0):
        return ()
    text = (
        f"What the lock-nut adds, {printed(pull, 'mm')}, is less than these readings can tell from nothing. "
        "Go by the blades after each tightening."
    )
    return (Caution("notice", text),)


def pair_cautions(wanted: Mapping[Kind, Any], allowance: Any, pairs: Mapping[Kind, Pair | None]) -> tuple[Caution, ...]:
    """Return which kind of valve this set of blades has no pair for."""
    found = []
    for kind in (kind for kind, pair in pairs.items() if pair is None):
        least = magnitude_in(wanted[kind], "mm")
        most = least + magnitude_in(allowance, "mm")
        text = (
            f"There is no pair for the {word(kind)} valves in this set: {least:.2f} mm that must go in, and "
            f"{most:.2f} mm that must not, each within {WITHIN} mm."
        )
        found.append(Caution("notice", text))
    return tuple(found)
