"""The nuts of a rocker shaft, drawn down against the valve springs."""

from __future__ import annotations

from calculators._torque.passes import planned
from calculators._torque.report import passes_table, passes_walks, sentence
from calculators._torque.stud_map import stud_map
from calculators._torque.stud_order import Studs
from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Caution,
    Question,
    Value,
    choice,
    count,
    magnitude_in,
    symbol_of,
    torque,
)
from calculators.formulas.stud_patterns import in_line
from calculators.formulas.tightening_order import square_order
from calculators.formulas.wrench_marks import even_shares
from calculators.formulas.wrench_reach import Wrench, permitted_deviation

SPRINGS_PUSH_BACK = Caution(
    "warning",
    "Open valves press on the shaft unevenly. One post drawn home before the others bends the shaft or cracks "
    "the post, and a pushrod may jump out. Turn the crank to where fewest valves are open, go down by one turn "
    "a nut, and see every pushrod in its cup.",
)


class RockerPosts(Question):
    """Even passes up to the figure, from the middle outwards; takes the figure as given."""

    asks = "What do I set the wrench to for the rocker-shaft posts, and in which order?"

    figure = torque(
        "Post torque",
        1,
        100,
        why="beyond, no post is tightened",
        hint="From the engine maker, for these nuts and this thread condition.",
        card="torques.rocker_shaft",
        shared_as="post_torque",
    )
    posts = choice("Posts", {"2": "2 posts", "3": "3 in line", "4": "4 in line"}, example="2", shared_as="rocker_posts")
    step = torque(
        "Wrench scale step",
        0.01,
        50,
        why="finer or coarser scales are not made",
        hint="What one mark of the wrench is worth, in the unit it is marked in.",
        usual="1 N·m",
        read_by="torque_wrench",
        shared_as="wrench_step",
        said="marks of {}",
    )
    passes = count(
        "Number of passes", 1, 8, why="more passes gain nothing", usual="3", refines="Passes", said="{} passes"
    )

    def answer(self) -> Answer:
        names = tuple("ABCD"[: int(self.posts)])
        positions = in_line(int(self.posts))
        found = square_order(positions)
        studs = Studs(names=names, positions=positions, order=found.order, found=found)
        order = " – ".join(names[index] for index in found.order)
        passes = planned(self.figure, even_shares(self.passes), (self._wrench,), "passes")
        settings = [stage.setting.removesuffix(stage.wrench.unit).strip() for stage in passes[:-1]]
        return Answer(
            headline=f"{' → '.join(settings)} {passes[-1].wrench.unit} · {order}",
            says=sentence(passes, (), order, drawn_down=True),
            drawing=stud_map(names, positions, found.order),
            values=(
                Value(
                    key="settings",
                    label="Set the wrench to",
                    quantity=f"{' → '.join(settings)} {passes[-1].wrench.unit}",
                    formula="share × figure, to the nearest mark",
                    source=COMMON_PRACTICE,
                    given=(("post torque", self.figure), ("passes", self.passes)),
                ),
                Value(
                    key="order",
                    label="Order",
                    quantity=order,
                    formula="from the middle outwards, so that the shaft stays square on its posts",
                    source=COMMON_PRACTICE,
                    given=(("posts", int(self.posts)),),
                ),
            ),
            warnings=(SPRINGS_PUSH_BACK,),
            steps=passes_walks(studs, passes, (), drawn_down=True),
            tables=(passes_table(self.figure, passes, ()),),
        )

    @property
    def _wrench(self) -> Wrench:
        highest = magnitude_in(self.figure, "N·m")
        return Wrench(
            name="wrench",
            unit=symbol_of(self.step),
            step=float(self.step.magnitude),
            lowest=None,
            highest=None,
            deviation=permitted_deviation("unknown", highest),
            share=1.0,
        )
