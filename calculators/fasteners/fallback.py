"""A torque from class and friction alone, for where no maker names one; and how the class is marked."""

from __future__ import annotations

from calculators._fasteners.clamp_report import steel_words
from calculators._fasteners.fastener_drawing import marks
from calculators._fasteners.fastener_report import fallback, fallback_value, fallbacks, mark_value
from calculators._fasteners.tightened_stud import TightenedStud
from calculators._words import word
from calculators.bench import Answer, Caution, Question, choice, printed, quantity
from calculators.fasteners.thread_and_steel import CONDITIONS, fastener_thread, steel
from calculators.formulas.bolted_joint import LUBRICANTS
from calculators.formulas.threads import FASTENERS, STEELS, clearance_hole, nut_face

LAST_RESORT = Caution(
    "warning",
    "A fallback torque is not for cylinder heads, connecting rods, brakes, steering, or anything else that a maker "
    "gives a figure for. A wrong clamp lets go there, and that can kill. Get the maker's figure.",
)
SOFT = Caution(
    "caution",
    "In aluminium, magnesium or plastic the hole's thread may strip below this torque, and a wrench that gives way "
    "skins your knuckles. Work out how deep it must be screwed in before you tighten.",
)


class Fallback(Question):
    """The last resort: it knows neither the part, nor the joint, nor the thread that the bolt goes into."""

    asks = "How tight, where no maker names a torque?"

    thread = fastener_thread()
    steel = steel(
        hint="By its mark, as drawn. Not marked: take class 5.8 or less.", example="8.8", shared_as="fastener_steel"
    )
    condition = choice(
        "Thread condition", CONDITIONS, hint="Thread and face of the nut alike.", usual="oiled", said="{}"
    )

    def answer(self) -> Answer:
        thread, of = FASTENERS[self.thread], STEELS[self.steel]
        friction = LUBRICANTS[self.condition]
        stud = TightenedStud(thread=thread, steel=of, face=nut_face(thread), hole=clearance_hole(thread), torque=0.0)
        torque = quantity(fallback(stud, friction) / 1000, "N·m")
        return Answer(
            headline=f"Not over {printed(torque, 'N·m')} = {printed(torque, 'lbf·ft')}",
            says=f"Without a maker's figure, not over {printed(torque, 'N·m')} for {thread.name} of {steel_words(of)}, "
            f"{word(self.condition)}.",
            drawing=marks(of),
            values=(fallback_value(stud, friction), mark_value(of)),
            warnings=(LAST_RESORT, SOFT),
            tables=(fallbacks(stud, friction),),
            notes=(
                "It keeps three quarters of the proof load even where the friction is least; where it is higher, it "
                "clamps less than it could.",
                "Class marks are for bolts from M5 up, grade marks for bolts of 1/4 in and up. Many small screws and "
                "old studs bear none.",
            ),
        )
