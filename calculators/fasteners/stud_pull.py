"""What a torque makes of a stud: its pull, least and most, against the stud's own strength."""

from __future__ import annotations

from calculators.bench import (
    Answer,
    Entry,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    Worked,
    choice,
    count,
    length,
    magnitude_in,
    number,
    optional,
    quantity,
    shared,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.units import figures, plain, printed, symbol_of
from calculators.fasteners.pull_drawing import pull_figure
from calculators.fasteners.pull_told import (
    FITTED_WORDS,
    conditions_table,
    lubricant_cautions,
    pull_bands,
    pull_values,
    strength_cautions,
    stress_values,
    tightening_notes,
    total_values,
)
from calculators.fasteners.thread_and_steel import CONDITIONS, head_stud_steel, head_stud_thread, steel_words
from calculators.fasteners.tightened_stud import Ends, TightenedStud, Tightening
from calculators.formulas.bolted_joint import LUBRICANTS
from calculators.formulas.threads import FASTENERS, STEELS, clearance_hole, nut_face

_OWN = "Own friction and nut face"
_VERDICT_WORDS = {"in": "safe", "out": "too much", "too close to call": "may be too much"}


def _friction(label: str, said: str) -> Entry[float | None]:
    return optional(
        number(
            label,
            0.03,
            0.6,
            why="no paste is slicker, and no rougher dry thread still turns",
            refines=_OWN,
            said=said,
        )
    )


class StudPull(Question):
    """For steel studs of 60° thread whose nut turns once on clean, whole threads; not for tightening by angle.

    Says what a torque does; it does not find one. Joint settling, gas load and heat come on top.
    """

    asks = "Is this stud safe at this torque?"
    tells = "Stud at this torque"
    works_out = ("stud_most_pull",)
    from_card = (CardFacts.studs.cylinder_head.positions.path,)

    thread = head_stud_thread()
    steel = head_stud_steel()
    torque = shared.head_torque(hint="From the engine maker, for this nut.")
    condition = choice(
        "Thread condition",
        CONDITIONS | {"own": "Own friction, typed below"},
        hint="As you fit it: the same for thread and nut face.",
        card=CardFacts.studs.cylinder_head.thread_condition.path,
        usual="oiled",
        shared_as="stud_condition",
        said="{}",
    )
    meant_for = choice(
        "Condition that the figure is meant for",
        {"same": "The same as yours"} | CONDITIONS,
        usual="same",
        said="meant for: {}",
    )
    studs = optional(
        count(
            "Number of studs",
            1,
            40,
            why="no head has more",
            hint="Those that hold one head. Empty: as on the engine card.",
            said="{} studs",
        )
    )
    wrench_error = shared.error_limit(
        "Error limit of the wrench",
        "%",
        25,
        why="a wrench further out is broken",
        hint="Plus or minus, of the setting. 4% is a good one with a current calibration.",
        usual="4%",
        shared_as="wrench_error",
        refines="How good the wrench is",
        said="wrench ± {}",
    )
    least_friction = _friction("Least friction", "friction from {}")
    most_friction = _friction("Most friction", "to {}")
    face = optional(
        length(
            "Nut face diameter",
            5,
            60,
            why="nuts of these threads",
            exact=True,
            hint="Outside diameter of the ring on which nut or washer turns. Empty: an ordinary hexagon nut.",
            refines=_OWN,
            said="face {}",
        )
    )
    hole = optional(
        length(
            "Hole under the nut",
            4,
            50,
            why="holes for these threads",
            exact=True,
            hint="Empty: an ordinary clearance hole.",
            refines=_OWN,
            said="hole {}",
        )
    )

    def answer(self) -> Answer:
        tightening = self._tightening()
        least, most = (figures(pull / 1000, 1) for pull in tightening.pulls)
        shares = [f"{figures(100 * share, 0)}%" for share in tightening.proof_shares]
        of_yield = f"{figures(100 * tightening.yield_shares[1], 0)}%"
        stud = tightening.stud
        return Answer(
            headline=f"{_VERDICT_WORDS[tightening.stands].capitalize()}: to {shares[1]} of proof, {of_yield} of yield",
            says=(
                f"{printed(self.torque, symbol_of(self.torque))} on {stud.thread.name}, "
                f"{FITTED_WORDS[self.condition]}, pulls each stud with {least} to {most} kN: {shares[0]} to "
                f"{shares[1]} of the proof load of {steel_words(stud.steel)}. With the twist of the nut it reaches "
                f"{of_yield} of the yield point."
            ),
            drawing=pull_figure(pull_bands(tightening), stud.proof / 1000),
            values=(
                *pull_values(tightening),
                *(total_values(tightening) if tightening.studs else ()),
                *stress_values(tightening),
            ),
            warnings=(*strength_cautions(tightening), *lubricant_cautions(tightening)),
            tables=(conditions_table(tightening),),
            notes=(
                *tightening_notes(tightening),
                "Not for nuts that are tightened by angle. Gas load, joint settling and heat come on top.",
            ),
            worked=(Worked(name="stud_most_pull", value=quantity(tightening.pulls[1] / 1000, "kN")),),
        )

    def _tightening(self) -> Tightening:
        counted = len(self.card.studs("studs.cylinder_head")) if self.card else 0
        return Tightening(
            stud=self._stud(),
            condition=self.condition,
            meant_for=self.meant_for,
            friction=self._ends_of_friction(),
            studs=self.studs or counted,
            torque=self.torque,
        )

    def _ends_of_friction(self) -> Ends:
        if self.condition != "own":
            return LUBRICANTS[self.condition]
        least, most = self.least_friction, self.most_friction
        if least is None or most is None:
            ends = (("least_friction", least), ("most_friction", most))
            raise Lacking(*(FieldError(key, f"Enter the {key.replace('_', ' ')}") for key, end in ends if end is None))
        if least > most:
            raise InputErrors(FieldError("least_friction", f"Least friction must not be above the most, {plain(most)}"))
        return least, most

    def _stud(self) -> TightenedStud:
        thread = FASTENERS[self.thread]
        hole = magnitude_in(self.hole, "mm") if self.hole is not None else clearance_hole(thread)
        face = magnitude_in(self.face, "mm") if self.face is not None else nut_face(thread)
        if hole < thread.major:
            message = f"Hole under the nut must be wider than the thread, {figures(thread.major, 2)} mm"
            raise InputErrors(FieldError("hole", message))
        if face <= hole:
            message = f"Nut face diameter must be more than the hole under the nut, {figures(hole, 2)} mm"
            if self.face is None:
                ordinary = f"an ordinary nut's, {figures(face, 2)} mm, is within this hole"
                message = f"Enter the nut face diameter too: {ordinary}"
            raise InputErrors(FieldError("face", message))
        return TightenedStud(
            thread=thread,
            steel=STEELS[self.steel],
            face=face,
            hole=hole,
            torque=1000 * magnitude_in(self.torque, "N·m"),
            error=magnitude_in(self.wrench_error, "%") / 100,
        )
