"""The spark set with a lamp, the engine standing still."""

from __future__ import annotations

from calculators.bench import (
    COMMON_PRACTICE,
    GEOMETRY,
    Answer,
    Question,
    Stage,
    Step,
    Value,
    Walk,
    magnitude_in,
    number_in,
    optional,
    quantity,
)
from calculators.bench.words import word
from calculators.formulas.rim_marks import rim_distance, unsigned
from calculators.timing import asked
from calculators.timing.cautions import ARRIVE, IT_FIRES, MAKER_WINS
from calculators.timing.rim import degrees_words
from calculators.timing.standing_drawing import standing_drawing


class SetStanding(Question):
    """For contact breaker points with their gap set, and a true top mark; it does not check the advance at speed."""

    asks = "How do I time the spark with the engine stopped?"
    tells = "Ignition timing, engine stopped"
    deed = "Time the spark, engine stopped"

    static_advance = asked.static_advance()
    crank_rotation = asked.rotation()
    scale_on = asked.marks_on()
    diameter = optional(asked.rim_diameter(example=None, refines="No mark: measure from the top mark"))

    def answer(self) -> Answer:
        ahead = magnitude_in(self.static_advance, "°")
        turned, way = degrees_words(ahead), word(self.crank_rotation)
        on_rim = self.scale_on == "rim"
        return Answer(
            headline=f"{turned}, turning {way}",
            record=f"Spark, set with the engine stopped: {turned}.",
            says=f"Bring cylinder 1 to {turned}, turning {way}, and turn the distributor until the lamp just lights.",
            drawing=standing_drawing(ahead, turned, self.crank_rotation, on_rim),
            values=(
                Value(
                    key="static",
                    label="Spark, engine stopped",
                    quantity=turned,
                    formula="the engine maker's figure, as typed or from the engine card",
                    source=COMMON_PRACTICE,
                    given=(("static advance", self.static_advance),),
                ),
                *self._along(ahead),
            ),
            warnings=(IT_FIRES,),
            steps=_walk(turned, way, "pointer" if on_rim else "notch"),
            notes=(
                MAKER_WINS,
                ARRIVE,
                "Set the gap or the dwell first: it moves the spark.",
                "If static and full advance cannot both be right, set full advance: it protects the pistons "
                "(common practice, no source).",
            ),
        )

    def _along(self, ahead: float) -> tuple[Value, ...]:
        if self.diameter is None or not ahead:
            return ()
        return (
            Value(
                key="along",
                label="Along it from the top mark",
                quantity=quantity(rim_distance(unsigned(ahead), number_in(self.diameter, "mm")), "mm"),
                units=("mm", "in"),
                formula="π × diameter × degrees ÷ 360",
                source=GEOMETRY,
                given=(("diameter", self.diameter), ("degrees", self.static_advance)),
            ),
        )


def _walk(turned: str, way: str, meets: str) -> Walk:
    steps = (
        (
            "safe",
            "Safe",
            "Ignition off, the coil's high-voltage lead off and earthed, plugs out, out of gear.",
            "Cannot start",
        ),
        (
            "number_1",
            "Cylinder 1",
            "Turn to the firing top of cylinder 1: both its valves shut, the rotor at its notch.",
            "1 fires",
        ),
        (
            "arrive",
            turned,
            f"Turn back past it, then {way} until {turned} is at the {meets}.",
            f"{way} to {turned}",
        ),
        (
            "light",
            "Lamp",
            "Ignition on, lamp from the points' terminal to earth. Turn the distributor the rotor's way until the lamp "
            "is out, then back until it just lights.",
            "Lamp just lights",
        ),
        (
            "clamp",
            "Clamp",
            "Clamp it, turn the crank two whole turns, and check that the lamp lights at the same mark. Ignition off.",
            "Clamp, check",
        ),
    )
    stage = Stage(
        title=f"Set it, engine stopped: {turned}",
        steps=tuple(Step(key=key, label=label, words=words, large=large) for key, label, words, large in steps),
    )
    return Walk(key="standing", title="Set it", stages=(stage,))
