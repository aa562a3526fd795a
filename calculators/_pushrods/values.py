"""The numbers that a moved head brings, each with its working."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import SimpleNamespace

from calculators._pushrods.moved_head import Moved, in_words, millimetres
from calculators._report import GEOMETRY, Source, Value
from calculators._units import bare, figures, magnitude_in, quantity, symbol_of
from calculators._words import word
from calculators.formulas.decision_rule import judged
from calculators.formulas.pushrod_geometry import flange_offset, sweep

DECISION = Source(
    "ISO 14253-1, rules for proving conformity and nonconformity, with the expanded uncertainty, k = 2", "memory"
)
COSINES = Source("plane trigonometry: law of cosines", "identity")
LEVER = Source("plane trigonometry: lever on a shaft", "identity")


_REACH_WORDS = {"pushrod": "reach", "valve": "reach", "pivot": "(reach − what the pivot went in)"}
_END_WORDS = {"pushrod": "the adjuster's end", "valve": "the adjuster's end", "pivot": "the valve's end"}
_AGAINST_PLAY = {
    "in": "within the play of its holes",
    "out": "more than its holes give",
    "too close to call": "too close to the play of its holes to call",
}


def shifts(inputs: SimpleNamespace, heads: Sequence[Moved]) -> Iterator[Value]:
    """Yield how far each head moves."""
    for number, head in enumerate(heads, 1):
        yield Value(
            key=f"shift_{number}",
            label=f"Head over {head.name} moves out",
            quantity=millimetres(head.shift),
            units=tuple(dict.fromkeys((symbol_of(inputs.before), "thou"))),
            formula="mean of the spacers under its barrels − spacers before + other change",
            source=GEOMETRY,
            given=(
                ("spacers now", millimetres(head.spacers)),
                ("before", inputs.before),
                ("other change", inputs.other_shift),
            ),
            lead=True,
        )


def pushrod_values(inputs: SimpleNamespace, head: Moved) -> Iterator[Value]:
    """Yield the pushrod that one head asks for, and what the old one does to the lash."""
    yield Value(
        key="pushrod",
        label=f"Pushrod that leaves the rocker as it was, at {head.name}",
        quantity=millimetres(head.pushrod),
        units=("mm", "in"),
        formula="√(length² + 2 × length × shift × cos slope + shift²)",
        source=COSINES,
        given=(("length", inputs.pushrod_length), ("slope", inputs.pushrod_slope), ("shift", millimetres(head.shift))),
    )
    yield Value(
        key="lash_change",
        label=f"Lash opens at the valves, until it is set, at {head.name}",
        quantity=millimetres(head.reach * inputs.rocker_ratio),
        units=("mm", "thou"),
        formula="(pushrod that leaves the rocker as it was − pushrod fitted) × rocker ratio; a minus closes it",
        source=LEVER,
        given=(("pushrod wanted", millimetres(head.pushrod)), ("rocker ratio", inputs.rocker_ratio)),
    )


def rocker_values(inputs: SimpleNamespace, head: Moved, swing: float) -> Iterator[Value]:
    """Yield how one head's rocker stands, and how far its end wanders."""
    arm = magnitude_in(inputs.rocker_arm, "mm") * (1 if inputs.adjuster_end == "pushrod" else inputs.rocker_ratio)
    before = magnitude_in(inputs.off_square, "°")
    yield Value(
        key="off_square",
        label=f"Rocker off square at half lift, after, at {head.name}",
        quantity=quantity(head.off_square, "°"),
        units=("°",),
        places=1,
        formula=f"arcsin(sin before + {_REACH_WORDS[inputs.adjuster_end]} ÷ rocker arm); 0 is square to the "
        + ("pushrod" if inputs.adjuster_end == "pushrod" else "valve stem"),
        source=LEVER,
        given=(
            ("before", f"{figures(before, 1)}°"),
            ("reach at the pushrod", millimetres(head.reach)),
            ("rocker arm", inputs.rocker_arm),
        ),
    )
    for key, when, angle in (("sweep_before", "before", before), ("sweep_after", "after", head.off_square)):
        yield Value(
            key=key,
            label=f"Wander of {_END_WORDS[inputs.adjuster_end]} over one lift, {word(when)}",
            quantity=millimetres(sweep(arm, angle, swing)),
            units=("mm",),
            formula="arm × (greatest − least cosine of its angle off square); least where it is square at half lift",
            source=LEVER,
            given=(
                ("arm", millimetres(arm)),
                ("off square", f"{figures(angle, 1)}°"),
                ("swing", f"{figures(swing, 1)}°"),
            ),
        )


def flange_values(inputs: SimpleNamespace, head: Moved, heads: Sequence[Moved]) -> Iterator[Value]:
    """Yield where the flanges of one head have gone, and how far two heads have parted."""
    for key, what, facing in (
        ("inlet", "Inlet", inputs.inlet_facing),
        ("exhaust", "Exhaust", inputs.exhaust_facing),
    ):
        along, opens = flange_offset(head.shift, magnitude_in(facing, "°"))
        expanded = bare(along)[1] or 0.0
        verdict = judged(abs(bare(along)[0]), expanded, high=magnitude_in(inputs.flange_play, "mm"))
        yield Value(
            key=f"{key}_offset",
            label=f"{what} flange slides along its face, at {head.name}",
            quantity=millimetres(along),
            units=("mm",),
            words=f"{in_words(along)}, {_AGAINST_PLAY[verdict]}",
            formula="shift × sin(angle between the way it faces and the cylinder's axis)",
            source=Source(f"{GEOMETRY}; {DECISION}"),
            given=(("shift", millimetres(head.shift)), ("angle", facing), ("play in the holes", inputs.flange_play)),
        )
        if abs(bare(opens)[0]) >= 0.005:
            yield Value(
                key=f"{key}_gap",
                label=f"{what} joint opens, at {head.name}",
                quantity=millimetres(opens),
                units=("mm",),
                formula="−shift × cos(angle between the way it faces and the cylinder's axis); a minus presses it",
                source=GEOMETRY,
                given=(("shift", millimetres(head.shift)), ("angle", facing)),
            )
    if len(heads) == 2:
        yield Value(
            key="apart",
            label="The two heads stand further apart by",
            quantity=millimetres(heads[0].shift + heads[1].shift),
            units=("mm", "in"),
            formula="sum of both shifts: what one pipe across the engine must bridge",
            source=GEOMETRY,
            given=tuple((f"head over {one.name}", millimetres(one.shift)) for one in heads),
        )
