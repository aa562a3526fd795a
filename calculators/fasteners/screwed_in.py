"""How much thread in the case holds the pull of a stud."""

from __future__ import annotations

import math

from calculators.bench import (
    Answer,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    Source,
    Value,
    choice,
    measure,
    optional,
    quantity,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.printing import said_whole
from calculators.bench.units import figures, magnitude_in, plain, printed, symbol_of
from calculators.fasteners.screwed_drawing import stud_in_case
from calculators.fasteners.thread_and_steel import head_stud_steel, head_stud_thread, steel_source
from calculators.fasteners.thread_in_case import (
    CASES,
    CASTINGS,
    SHEAR,
    Hold,
    case_cautions,
    case_table,
    held,
    length_needed,
    stud_thread_shears,
    wide,
)
from calculators.fasteners.tightened_stud import Ends
from calculators.formulas.threads import FASTENERS, STEELS, Thread, stress_area

_OWN = "The case's own strength"
_STRENGTH = "no case is softer or stronger"


class ScrewedIn(Question):
    """For whole threads of the basic sizes in a cold, sound case, under the most pull of the stud.

    A worn or loose thread, a crack, corrosion, or a thread stripped and recut hold less.
    """

    asks = "How deep must this stud be screwed in?"
    tells = "Depth that the stud is screwed in"

    thread = head_stud_thread()
    steel = head_stud_steel()
    most_pull = measure(
        "Most pull of the stud",
        "kN",
        0.1,
        400,
        why="studs of these threads",
        exact=True,
        hint="Worked out from torque and thread condition, or typed.",
        shared_as="stud_most_pull",
        said="pulled with {}",
    )
    case = choice(
        "Metal of the case",
        {
            "unknown": "Not known, aluminium or magnesium",
            "cast aluminium": "Cast aluminium",
            "cast magnesium": "Cast magnesium",
            "own": "Own strength, typed below",
        },
        card=CardFacts.materials.case.path,
        usual="unknown",
        shared_as="case_metal",
        said="{}",
    )
    insert = choice(
        "Thread in the case now",
        {"bare": "Cut in the case itself", "insert": "A wire thread insert"},
        usual="bare",
        shared_as="stud_hole",
        said="{}",
    )
    engagement = optional(
        card_entry(
            CardFacts.studs.cylinder_head.engagement,
            "Thread in the case",
            hint="Full threads in contact only, without chamfer and run-out. Empty: the answer gives only the length "
            "needed.",
            example="20 mm",
            shared_as="stud_engagement",
            said="{} in",
        )
    )
    least_strength = optional(
        measure(
            "Least shear strength of the case", "MPa", 20, 600, why=_STRENGTH, exact=True, refines=_OWN, said="from {}"
        )
    )
    most_strength = optional(
        measure(
            "Most shear strength of the case", "MPa", 20, 600, why=_STRENGTH, exact=True, refines=_OWN, said="to {}"
        )
    )

    def answer(self) -> Answer:
        thread, steel, strength = FASTENERS[self.thread], STEELS[self.steel], self._strength()
        pull, inserted = magnitude_in(self.most_pull, "N"), self.insert == "insert"
        needed = {each: length_needed(thread, strength, pull, each) for each in (False, True)}
        breaks = steel.breaking * stress_area(thread)
        hold = None if self.engagement is None else held(thread, self.engagement, strength, pull, inserted)
        least = _rounded_up(needed[inserted], "mm" if self.engagement is None else symbol_of(self.engagement))
        given = (
            ("most pull", f"{figures(pull / 1000, 1)} kN"),
            ("shear strength", f"{plain(round(strength[0], 6))} to {plain(round(strength[1], 6))} MPa"),
        )
        source = Source(f"{SHEAR}; {CASTINGS[self.case]}")
        values = [
            Value(
                key="insert_needed" if each else "bare_needed",
                label=f"Length of thread sure to hold, {'with a wire insert' if each else 'bare'}",
                quantity=quantity(needed[each], "mm"),
                units=("mm", "in"),
                formula="most pull ÷ (0.875 π × diameter × least shear strength)"
                + ("; an insert's hole is 1.299 P wider than the stud" if each else ""),
                source=source,
                given=(("diameter", quantity(wide(thread, each), "mm")), *given),
            )
            for each in (False, True)
        ]
        values.append(
            Value(
                key="stud_breaks",
                label="The stud itself breaks at",
                quantity=quantity(breaks, "N"),
                units=("kN", "lbf"),
                formula="least tensile strength × stress area",
                source=steel_source(steel),
                given=(
                    ("strength", f"{figures(steel.breaking, 0)} MPa"),
                    ("stress area", f"{figures(stress_area(thread), 1)} mm²"),
                ),
            )
        )
        if hold is not None:
            values += self._as_it_is(hold, thread, source)
        return Answer(
            headline=f"{least} at least"
            if hold is None
            else f"{said_whole(self.engagement)} {_HOLDS[hold.verdict]}: {least} needed",
            says=f"To hold {figures(pull / 1000, 1)} kN, {thread.name} needs {least} of full thread in the case"
            + (" with its insert" if inserted else "")
            + ("." if hold is None else f"; {said_whole(self.engagement)} {_HOLDS[hold.verdict]}."),
            drawing=stud_in_case(
                thread,
                needed[inserted],
                None if self.engagement is None else magnitude_in(self.engagement, "mm"),
                (least, said_whole(self.engagement)),
                inserted,
            ),
            values=tuple(values),
            warnings=tuple(case_cautions(hold, pull, inserted)) if hold is not None else (),
            tables=()
            if self.engagement is None
            else (case_table(thread, steel, self.case, strength, self.engagement, pull, inserted),),
            notes=(
                "A hot case holds less than a cold one. No figure here allows for cracks, corrosion, or a thread that "
                "was stripped and recut.",
                "Screw a stud to the depth that the engine maker gives, never hard against the bottom of its hole.",
            ),
        )

    def _as_it_is(self, hold: Hold, thread: Thread, source: Source) -> list[Value]:
        strips = stud_thread_shears(thread, STEELS[self.steel], self.engagement)
        in_case = (("length", self.engagement),)
        return [
            *(
                Value(
                    key=f"{name}_hold",
                    label=f"The case holds at {name}",
                    quantity=quantity(end, "N"),
                    units=("kN", "lbf"),
                    formula=f"0.875 π × diameter × length × {name} shear strength",
                    source=source,
                    given=(("diameter", quantity(hold.major, "mm")), *in_case),
                )
                for name, end in zip(("least", "most"), hold.ends, strict=True)
            ),
            Value(
                key="stud_strips",
                label="The stud's own thread shears at",
                quantity=quantity(strips, "N"),
                units=("kN", "lbf"),
                formula="0.75 π × bore of the thread × length × 0.6 × tensile strength",
                source=SHEAR,
                given=in_case,
            ),
        ]

    def _strength(self) -> Ends:
        if self.case != "own":
            return CASES[self.case]
        ends = {"least_strength": self.least_strength, "most_strength": self.most_strength}
        missing = [key for key, end in ends.items() if end is None]
        if self.least_strength is None or self.most_strength is None:
            raise Lacking(
                *(
                    FieldError(key, f"Enter the {key.partition('_')[0]} shear strength of the case, in megapascals")
                    for key in missing
                )
            )
        least, most = magnitude_in(self.least_strength, "MPa"), magnitude_in(self.most_strength, "MPa")
        if least > most:
            bound = printed(self.most_strength, symbol_of(self.most_strength), 0)
            message = f"Least shear strength of the case must not be above the most, {bound}"
            raise InputErrors(FieldError("least_strength", message))
        return least, most


_HOLDS = {"in": "holds", "out": "tears out", "too close to call": "may tear out"}


def _rounded_up(length: float, symbol: str) -> str:
    """Say a length in the reader's unit, never shorter than it is: to a tenth of a millimetre or a hundredth inch."""
    number = magnitude_in(quantity(length, "mm"), symbol)
    places = 1 if symbol in ("mm", "thou") else 2
    return f"{figures(math.ceil(number * 10**places - 1e-6) / 10**places, places)} {symbol}"
