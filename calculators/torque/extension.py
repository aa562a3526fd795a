"""An extension or a crowfoot on the wrench: what to set, so that the nut gets its torque."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Caution,
    FieldError,
    InputErrors,
    Question,
    Value,
    number_in,
    printed,
    quantity,
    symbol_of,
    torque,
)
from calculators.bench.verdict import best_of
from calculators.formulas.wrench_marks import nearest_mark
from calculators.formulas.wrench_reach import TRUE_FROM, Wrench
from calculators.torque import at_the_wrench
from calculators.torque.cautions import WORTH_SAYING, unknowns
from calculators.torque.owned_wrench import TYPES, Owned
from calculators.torque.owned_wrench import Extension as OnIt
from calculators.torque.passes import FARTHEST, MAIN_WORDS, Pass, reached
from calculators.torque.passes_told import in_every_unit, wrench_values

_ENDS = "the wrench goes only to {}. Use a larger wrench or a shorter extension."
_BEGINS = "the wrench starts at {}. Use a smaller wrench."
_UNTRUE = "below {}, {:.0%} of its highest setting, the wrench may not be accurate. Use a smaller wrench."


class Extension(Question):
    """Holds with this extension at this angle and the hand at the centre of the grip, pulling square to the wrench.

    Takes the torque on the nut as given. A straight socket extension on the drive square changes nothing.
    """

    asks = "What do I set with an extension on the wrench?"
    tells = "Wrench with an extension"
    in_the_unit_typed = ("applied",)

    figure = torque(
        "Torque on the nut",
        1,
        400,
        why="workshop wrenches reach no lower or higher",
        hint="From the engine maker, for this nut and this thread condition.",
        example="24 N·m",
        said="{} on the nut",
    )
    graduation = at_the_wrench.scale_step(of="figure")
    wrench_length = at_the_wrench.lever(example="300 mm")
    extension = at_the_wrench.extension_length(example="60 mm")
    angle = at_the_wrench.extension_angle(example="0°")
    wrench_low = at_the_wrench.setting("Lowest wrench setting", "wrench_low", said="from {}")
    wrench_high = at_the_wrench.setting(
        "Highest wrench setting",
        "wrench_high",
        hint="Type it once, and settings too low for this wrench are refused.",
        said="to {}",
    )
    wrench_type = at_the_wrench.kind_of_wrench()

    def answer(self) -> Answer:
        wrench = Owned(
            stem="wrench",
            name=MAIN_WORDS,
            step=self.graduation,
            low=self.wrench_low,
            high=self.wrench_high,
            kind=self.wrench_type,
            lever=self.wrench_length,
        ).with_extension(OnIt(length=self.extension, angle=self.angle), self.figure)
        final = self._set(wrench)
        wanted = printed(self.figure, symbol_of(self.figure))
        return Answer(
            headline=f"Set {final.setting} for {wanted}",
            record=f"With an extension on the wrench: {wanted} on the nut.",
            says=f"Set the wrench to {final.setting}: with this extension that puts {wanted} on the nut.",
            drawing=at_the_wrench.drawn_wrench(self.wrench_length, self.extension, self.angle, final.setting),
            values=(
                Value(
                    key="setting",
                    label="Set the wrench to",
                    quantity=final.setting,
                    formula="torque on the nut × share to set, to the nearest mark",
                    source=COMMON_PRACTICE,
                    given=(("torque on the nut", self.figure), ("share to set", quantity(100 * wrench.share, "%"))),
                ),
                in_every_unit("Torque on the nut", self.figure),
                *wrench_values(final, TYPES[self.wrench_type], (self.wrench_length, self.extension, self.angle)),
            ),
            warnings=(*self._cautions(final), *unknowns(self.wrench_type == "unknown", self.wrench_high is None)),
            notes=(
                "A straight socket extension on the drive square changes nothing. Nor does one square to the wrench "
                "(90°).",
                "Measure both lengths between centres: of grip, drive square and nut.",
            ),
        )

    def _set(self, wrench: Wrench) -> Pass:
        """Return the mark to set.

        Raises
        ------
        InputErrors
            The wrench does not reach it, or has no mark near enough.
        """
        needed = float(number_in(self.figure, wrench.unit)) * best_of(wrench.share)
        mark = nearest_mark(needed, wrench.step)
        wanted = printed(quantity(needed, wrench.unit), wrench.unit, 1)
        said = f"The setting must be {wanted}; "
        match wrench.miss(mark), wrench.lowest, wrench.highest:
            case "above", _, float(highest):
                message = _ENDS.format(printed(quantity(highest, wrench.unit), wrench.unit, 1))
                raise InputErrors(FieldError("wrench_high", said + message))
            case "below", float(lowest), _:
                message = _BEGINS.format(printed(quantity(lowest, wrench.unit), wrench.unit, 1))
                raise InputErrors(FieldError("wrench_low", said + message))
            case "untrue", _, _:
                true_from = printed(quantity(wrench.true_from or 0.0, wrench.unit), wrench.unit, 1)
                raise InputErrors(FieldError("wrench_high", said + _UNTRUE.format(true_from, TRUE_FROM)))
        found = reached("Setting", self.figure, 1.0, (wrench,))
        if found is None or abs(found.rounding) > FARTHEST + 1e-9:
            off = abs(mark / needed - 1)
            message = (
                f"No mark of this wrench comes within {FARTHEST:.0%} of {wanted}. "
                f"The nearest is {mark:g} {wrench.unit}, {off:.1%} off. Use a wrench with a finer scale."
            )
            raise InputErrors(FieldError("graduation", message))
        return found

    def _cautions(self, final: Pass) -> Iterator[Caution]:
        yield Caution(
            "notice",
            "This setting holds only with this extension at this angle and your hand at the centre of the grip. "
            "Without it, it is wrong.",
        )
        if abs(final.rounding) > WORTH_SAYING:
            yield Caution(
                "notice",
                f"Rounding to a mark puts the torque on the nut off by {abs(final.rounding):.1%}. Use a finer wrench.",
            )
