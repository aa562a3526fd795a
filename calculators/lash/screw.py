"""One adjusting screw: how far it turns for one gap."""

from __future__ import annotations

from calculators.bench import (
    Answer,
    Question,
    Stage,
    Step,
    Value,
    Walk,
    length,
    magnitude_in,
    printed,
    quantity,
    shared,
)
from calculators.bench.units import bare, number_in
from calculators.bench.words import word
from calculators.formulas.adjuster_screw import WHOLE_TURN, screw_turn
from calculators.lash.adjuster_drawing import clock_words, scale_figure, sense, turn_figure, turn_words
from calculators.lash.asked import gap_error, measured_unless_typed, place_of, screw_pitch
from calculators.lash.cautions import TOO_CLOSE, far_cautions
from calculators.lash.screw_told import SCREW, Screw, screw_values


class OneScrew(Question):
    """For a right-hand thread. Takes the rocker as a straight lever with its arms square to valve and pushrod."""

    asks = "How far do I turn the screw to set this gap?"
    tells = "Turn of the adjusting screw"
    deed = "Set one adjusting screw"

    gap_now = length(
        "Gap now",
        0,
        5,
        why="a valve with more lash than this no longer opens",
        hint="Read with the lock-nut tight.",
        example="0.28 mm",
        read_by="feelers",
        said="from {}",
    )
    gap_wanted = length(
        "Gap wanted",
        0.02,
        1,
        why=shared.CLEARANCE_WHY,
        exact=True,
        hint="The engine maker's figure for this valve.",
        example="0.20 mm",
        said="to {}",
    )
    screw_pitch = screw_pitch()
    adjuster_end = shared.adjuster_end()
    rocker_ratio = shared.rocker_ratio()
    gap_error = gap_error()

    def answer(self) -> Answer:
        screw = Screw(self.screw_pitch, place_of(self.adjuster_end), self.rocker_ratio)
        now = measured_unless_typed(self.gap_now, self.gap_error, "Gap now")
        closing = number_in(now, "mm") - magnitude_in(self.gap_wanted, "mm")
        turn = screw_turn(closing, magnitude_in(self.screw_pitch, "mm"), screw.lever)
        degrees = float(bare(turn)[0])
        deed = f"{turn_words(degrees)} {word(sense(degrees))}"
        is_right = round(degrees) == 0
        wanted = printed(self.gap_wanted, "mm")
        far = far_cautions(("this screw",)) if abs(degrees) > WHOLE_TURN else ()
        return Answer(
            headline="No turn: the gap is right" if is_right else f"{deed}, {clock_words(degrees)} of a clock",
            says="The gap is right; leave the screw."
            if is_right
            else f"Turn the screw {deed}, to {'close' if degrees > 0 else 'open'} the gap to {wanted}.",
            record=f"One valve gap to be set to {wanted}.",
            drawing=turn_figure("turn", f"to {wanted}", float(round(degrees))),
            values=(
                Value(
                    key="turn",
                    label="Turn of the screw, clockwise positive",
                    quantity=quantity(turn, "°"),
                    places=0,
                    formula="360° × (gap now − gap wanted) ÷ (pitch × leverage)",
                    source=SCREW,
                    given=(("gap now", now), ("gap wanted", self.gap_wanted), ("leverage", screw.lever)),
                ),
                *screw_values(screw),
            ),
            warnings=(TOO_CLOSE, *far),
            steps=() if is_right else _steps(deed, wanted),
            figures=(scale_figure(screw.per_mm, screw.at),),
            notes=(
                "Set a valve only while its tappet is on the base circle of the cam.",
                "Clockwise is as you look at the slot, and closes the gap. A left-hand thread turns the other way.",
            ),
        )


def _steps(deed: str, wanted: str) -> Walk:
    told = (
        ("mark", "Mark the slot", "With the nut tight, mark where the slot points.", "Mark the slot"),
        ("turn", "Turn", f"Hold the screw, loosen the nut, and turn the screw {deed}.", deed),
        ("tighten", "Tighten", "Hold the screw and tighten the nut to its torque.", "Hold, tighten"),
        ("measure", "Measure", f"Measure the gap again: {wanted} is wanted. Turn by the rest.", wanted),
    )
    steps = tuple(Step(key=key, label=label, words=words, large=large) for key, label, words, large in told)
    return Walk(key="screw", title="Set this valve", stages=(Stage(title="This valve", steps=steps),))
