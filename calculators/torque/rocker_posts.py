"""The nuts of a rocker shaft, drawn down against the valve springs."""

from __future__ import annotations

import math

from calculators.bench import (
    Answer,
    Caution,
    Question,
    choice,
    count,
    magnitude_in,
    optional,
    printed,
    shared,
    symbol_of,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.formulas.stud_patterns import in_line
from calculators.torque import at_the_wrench, studs
from calculators.torque.cautions import cautions, notes, unknowns
from calculators.torque.order_told import order_values
from calculators.torque.passes import planned
from calculators.torque.passes_told import (
    headline,
    in_every_unit,
    passes_table,
    record,
    sentence,
    settings_value,
    wrench_values,
)
from calculators.torque.walks import passes_walks

SPRINGS_PUSH_BACK = Caution(
    "warning",
    "Open valves press on the shaft unevenly. A post tightened home before the others can crack and throw shaft and "
    "pushrods into hands and face. Wear eye protection, turn the crank to where fewest valves are open, go down one "
    "turn of each nut at a time, and check that every pushrod is in its cup.",
)


class RockerPosts(at_the_wrench.Tightening, Question):
    """Even passes up to the torque, from the middle outwards; takes the torque as given."""

    asks = "What do I set the wrench to for the rocker-shaft posts, and in what order?"
    tells = "Rocker-shaft posts"
    deed = "Tighten the rocker-shaft posts"
    procedures = ("build/fit-the-rocker-gear",)
    from_card = (CardFacts.layout.banks.path,)
    in_the_unit_typed = ("applied",)

    figure = card_entry(
        CardFacts.torques.rocker_shaft,
        "Post torque",
        hint="From the engine maker, for these nuts and this thread condition.",
        shared_as="post_torque",
    )
    posts = choice("Posts", {"2": "2 posts", "3": "3 in line", "4": "4 in line"}, example="2", shared_as="rocker_posts")
    graduation = at_the_wrench.scale_step(of="figure")
    passes = at_the_wrench.passes_count(refines="Passes")
    heads = optional(
        count(
            "Shafts to tighten",
            1,
            12,
            why="no engine here has more",
            hint="Each has its own list to tick. Empty: one for each bank on the engine card.",
            refines="Passes",
            said="{} shafts",
        )
    )
    target = optional(
        shared.head_torque(
            hint="Of the head's nuts: only to check that the two figures are not mixed up.",
            example=None,
            refines="The head's own torque",
        )
    )

    def answer(self) -> Answer:
        shares, chosen_by = self.shares_of(self.passes, self.figure)
        shaft = studs.sought(in_line(int(self.posts)))
        order = " – ".join(shaft.in_order)
        passes = planned(self.figure, shares, self.wrenches(self.graduation, self.figure), chosen_by)
        turns, final = self.degrees, passes[-1]
        banks = self.card.facts.layout.banks if self.card else None
        return Answer(
            headline=headline(passes, turns, order),
            says=sentence(passes, turns, order, drawn_down=True),
            record=record("Rocker-shaft posts", self.figure, passes, turns),
            drawing=studs.mapped(shaft),
            values=(
                settings_value(passes, turns, "post torque", self.figure),
                in_every_unit("Post torque", self.figure),
                *wrench_values(final, self.final_kind(final), self.lengths(final)),
                *order_values(shaft),
            ),
            warnings=(
                SPRINGS_PUSH_BACK,
                *self._mixed_up(),
                *cautions(passes, turns, False, self.extension is not None),
                *unknowns(self.wrench_type == "unknown", self.wrench_high is None),
            ),
            steps=passes_walks(shaft, passes, turns, drawn_down=True, heads=int(self.heads or len(banks or ()) or 1)),
            tables=(passes_table(self.figure, passes, turns),),
            figures=(*self.wrench_figures(final), *studs.charted(shaft)),
            notes=notes(turns),
        )

    def _mixed_up(self) -> tuple[Caution, ...]:
        if self.target is None or not math.isclose(magnitude_in(self.figure, "N·m"), magnitude_in(self.target, "N·m")):
            return ()
        figure = printed(self.figure, symbol_of(self.figure))
        text = f"Post torque and final torque are both {figure}. Check that this figure is meant for the posts."
        return (Caution("notice", text),)
