"""The drill before the tap, before a wire insert's tap, and for a stud to pass."""

from __future__ import annotations

from calculators._fasteners.fastener_report import HOLES, drill_value, drills, nearest_tenth
from calculators._units import figures
from calculators.bench import Answer, Caution, Question, Value, magnitude_in, measure, quantity
from calculators.fasteners.hole_drawing import holes
from calculators.fasteners.thread_and_steel import fastener_thread
from calculators.formulas.threads import FASTENERS, clearance_hole, drill_for, insert_major

SWARF = Caution(
    "warning",
    "Swarf flies into eyes. Swarf of magnesium burns, and water feeds the fire. Wear glasses, know the metal before "
    "you drill, and keep dry sand at hand.",
)


class Drill(Question):
    """By the height of thread that the hole leaves; where the maker of an insert wants another drill, that one wins."""

    asks = "Which drill does this thread want?"

    thread = fastener_thread()
    share = measure(
        "Share of full thread to tap",
        "%",
        40,
        95,
        why="less strips, more breaks the tap",
        exact=True,
        hint="75% is common; 60% in deep or hard holes.",
        usual="75%",
        said="{} of full thread",
    )

    def answer(self) -> Answer:
        thread, share = FASTENERS[self.thread], magnitude_in(self.share, "%") / 100
        majors = (thread.major, insert_major(thread.major, thread.pitch))
        own, inserted = (nearest_tenth(drill_for(major, thread.pitch, share)) for major in majors)
        through = clearance_hole(thread)
        return Answer(
            headline=f"{figures(own, 1)} mm to tap · {figures(inserted, 1)} mm for an insert",
            says=f"{thread.name}: drill {figures(own, 1)} mm to tap it, {figures(inserted, 1)} mm for a wire insert, "
            f"{figures(through, 1)} mm for it to pass.",
            drawing=holes(thread, own, inserted, through),
            values=(
                drill_value(thread, share, False),
                drill_value(thread, share, True),
                Value(
                    key="clearance_hole",
                    label="Hole for it to pass",
                    quantity=quantity(through, "mm"),
                    units=("mm", "in"),
                    formula="the ordinary clearance hole of the standard",
                    source=HOLES,
                    given=(("thread", thread.name),),
                ),
            ),
            warnings=(SWARF,),
            tables=(drills(thread, share),),
            notes=(
                "A wire insert wants its own tap, which is wider than the stud's.",
                "Rag in every opening of the engine before the first turn of the drill; count the rags.",
            ),
        )
