"""What the look of a spark plug says of the cylinder that it comes from."""

from __future__ import annotations

from calculators.air.cautions import COASTING
from calculators.air.plug_drawing import plug_foot
from calculators.bench import COMMON_PRACTICE, Answer, Caution, Question, Value, choice

LOOKS = {
    "tan": ("Light grey to tan, dry", "Near right: leave it", "The mixture is near right. Leave it."),
    "white": (
        "Chalk white, or beads of metal on it",
        "Too hot: do not run it hard",
        "Too hot: lean mixture, air leak, early ignition or too hot a plug. Do not run it hard until you have found "
        "the cause.",
    ),
    "sooty": (
        "Black, dry and sooty",
        "Rich, or a weak spark",
        "Rich, weak spark, or much idling. Look at choke and float level, then go a size down in the jet.",
    ),
    "oily": (
        "Black and wet with oil",
        "Oil, not mixture",
        "Oil, not mixture: rings, guides or an over-oiled air filter. No jet cures it.",
    ),
    "wet": (
        "Wet with fuel",
        "It does not fire there",
        "It does not fire there: look at plug, lead, compression, or a choke stuck shut.",
    ),
}
"""Look of a plug → what the reader sees, the headline, what it says (common practice, no source)."""


class Plug(Question):
    """For a plug of the maker's heat range, read after a steady pull at working speed, not after idling.

    Unleaded fuel leaves little colour: the look is a hint, not proof.
    """

    asks = "What does the plug's colour tell me?"
    tells = "Mixture, by the plug's colour"

    plug = choice(
        "Look of the plug",
        {look: seen for look, (seen, _, _) in LOOKS.items()},
        hint="After a steady pull at working speed, engine cut and coasting.",
        example="tan",
        said="{}",
    )

    def answer(self) -> Answer:
        seen, headline, words = LOOKS[self.plug]
        return Answer(
            headline=headline,
            says=f"{seen}. {words}",
            drawing=plug_foot(self.plug, seen),
            values=(
                Value(
                    key="plug",
                    label="What the plug says",
                    quantity=words,
                    formula="read after a steady pull at working speed, engine cut and coasting; unleaded fuel leaves "
                    "little colour",
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
                            "A cylinder this hot melts its piston, and an engine that seizes on the road can kill. "
                            "Find the cause before you load it again.",
                        ),
                    )
                    if self.plug == "white"
                    else ()
                ),
            ),
            notes=("Read all plugs and lay them out by cylinder: one that differs points to its own cylinder.",),
        )
