"""What the look of a spark plug says of the cylinder that it comes from."""

from __future__ import annotations

from calculators._air.mixture import PLUGS
from calculators.air.cautions import COASTING
from calculators.air.plug_drawing import plug_foot
from calculators.bench import COMMON_PRACTICE, Answer, Caution, Question, Value, choice

_HEADLINES = {
    "tan": "Near right: leave it",
    "white": "Too hot: do not run it hard",
    "sooty": "Rich, or a weak spark",
    "oily": "Oil, not mixture",
    "wet": "It does not fire there",
}


class Plug(Question):
    """For a plug of the maker's heat range, read after a steady pull at working speed, not after idling.

    Fuel without lead leaves little colour: the look points, it proves nothing.
    """

    asks = "What does the look of the plug say?"

    plug = choice(
        "Look of the plug",
        {look: seen for look, (seen, words) in PLUGS.items() if words},
        hint="After a steady pull at working speed, engine cut and coasted down.",
        example="tan",
        said="{}",
    )

    def answer(self) -> Answer:
        seen, words = PLUGS[self.plug]
        return Answer(
            headline=_HEADLINES[self.plug],
            says=f"{seen}. {words}",
            drawing=plug_foot(self.plug, seen),
            values=(
                Value(
                    key="plug",
                    label="What the plug says",
                    quantity=words,
                    formula="read after a steady pull at working speed, engine cut and coasted down; fuel without lead "
                    "leaves little colour",
                    source=COMMON_PRACTICE,
                    given=(("seen", seen.lower()),),
                ),
            ),
            warnings=(
                COASTING,
                *(
                    (
                        Caution(
                            "warning",
                            "A cylinder so hot melts its piston, and an engine that seizes under way can kill. Find "
                            "the cause before the next pull.",
                        ),
                    )
                    if self.plug == "white"
                    else ()
                ),
            ),
            notes=("Read all plugs, and lay them out by cylinder: one that differs speaks of its own cylinder.",),
        )
