"""What tightening the lock-nut does to a gap."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Caution,
    Figure,
    Quantity,
    Question,
    Value,
    Worked,
    length,
    magnitude_in,
    printed,
    quantity,
    shared,
)
from calculators.bench.units import uncertainty_in
from calculators.bench.words import word
from calculators.formulas.base_circle import KINDS, Kind
from calculators.formulas.feeler_blades import Stack
from calculators.lash.asked import blades, gap_error, measured_unless_typed
from calculators.lash.cautions import TOO_CLOSE
from calculators.lash.feelers import WITHIN, stack_for, stack_words
from calculators.lash.gap_drawing import Bar, gap_bars
from calculators.lash.loose_nut import loosened

_WHY = "no blade is thinner or thicker"


class LockNut(Question):
    """Tried on the first valve; assumes that the others have the same thread, nut and torque."""

    asks = "What does tightening the lock-nut add to the gap?"
    tells = "What the lock-nut adds to the gap"
    works_out = ("locknut_adds",)

    gap_before = length(
        "Gap before tightening",
        0.02,
        2,
        why=_WHY,
        hint="First valve, lock-nut loose, screw held.",
        example="0.15 mm",
        shared_as="gap_before_locknut",
        read_by="feelers",
        said="{} loose",
    )
    gap_after = length(
        "Gap after tightening",
        0.02,
        2,
        why=_WHY,
        hint="The same valve, lock-nut at its torque.",
        example="0.17 mm",
        shared_as="gap_after_locknut",
        read_by="feelers",
        said="{} tight",
    )
    inlet_clearance = shared.inlet_clearance()
    exhaust_clearance = shared.exhaust_clearance()
    blades = blades(refines="Feeler blades")
    gap_error = gap_error()

    def answer(self) -> Answer:
        before = measured_unless_typed(self.gap_before, self.gap_error, "Gap before tightening")
        after = measured_unless_typed(self.gap_after, self.gap_error, "Gap after tightening")
        pull: Quantity = after - before
        wanted: dict[Kind, Quantity] = {"inlet": self.inlet_clearance, "exhaust": self.exhaust_clearance}
        loose = loosened(wanted, pull, "gap_after")
        added, inlet, exhaust = (_hundredths(gap) for gap in (pull, loose["inlet"], loose["exhaust"]))
        sign = "" if magnitude_in(pull, "mm") < 0 else "+"
        return Answer(
            headline=f"{sign}{added} mm · nut loose: IN {inlet}, EX {exhaust} mm",
            says=f"Tightening the lock-nut adds {printed(pull, 'mm')} to the gap. With the nut loose set the inlet to "
            f"{inlet} mm and the exhaust to {exhaust} mm.",
            record=f"Tightening the lock-nut changes a valve gap by {printed(pull, 'mm')}.",
            drawing=_drawing(before, after, wanted, loose),
            values=_values(self.gap_before, self.gap_after, pull, wanted, loose, self.blades),
            warnings=(TOO_CLOSE, *_cautions(pull)),
            notes=("Hold the screw while you tighten. Only the gap with the nut tight counts: measure it again.",),
            worked=(Worked(name="locknut_adds", value=pull),),
        )


def _values(
    before: Any, after: Any, pull: Any, wanted: Mapping[Kind, Any], loose: Mapping[Kind, Any], blades: tuple[Any, ...]
) -> tuple[Value, ...]:
    """Return what the lock-nut adds, and the gaps to set while it is loose."""
    return (
        Value(
            key="pull",
            label="The lock-nut adds to the gap",
            quantity=pull,
            units=("mm", "thou"),
            formula="gap after tightening − gap before tightening, on the first valve",
            source=COMMON_PRACTICE,
            given=(("after", after), ("before", before)),
        ),
        *(
            Value(
                key=f"{kind}_loose",
                label=f"{word(kind).capitalize()} gap to set with the lock-nut loose",
                quantity=gap,
                units=("mm", "thou"),
                formula="the engine maker's figure − what the lock-nut adds",
                source=COMMON_PRACTICE,
                given=(("figure", wanted[kind]), ("lock-nut adds", pull)),
            )
            for kind, gap in loose.items()
        ),
        *(
            Value(
                key=f"{kind}_loose_blades",
                label=f"{word(kind).capitalize()} blades with the lock-nut loose",
                quantity=quantity(stack.thickness, "mm"),
                words=stack_words(stack, blades) + _off(stack),
                formula=f"of the stacks of these blades the nearest within {WITHIN} mm, else the nearest wider one",
                source=COMMON_PRACTICE,
                given=(("gap", quantity(magnitude_in(loose[kind], "mm"), "mm")),),
            )
            for kind in loose
            for stack in (stack_for(loose[kind], blades),)
        ),
    )


def _off(stack: Stack) -> str:
    if stack.near:
        return ""
    return f", {abs(stack.error):.2f} mm too {'wide' if stack.error > 0 else 'close'}"


def _cautions(pull: Any) -> tuple[Caution, ...]:
    """Return what is to be said where the lock-nut adds nothing that the readings can tell."""
    if pull is None or abs(magnitude_in(pull, "mm")) > (uncertainty_in(pull, "mm") or 0.0):
        return ()
    text = (
        f"What the lock-nut adds, {printed(pull, 'mm')}, is too small for these readings to tell from zero. Go by the "
        "blades after each tightening."
    )
    return (Caution("notice", text),)


def _hundredths(gap: Quantity) -> str:
    return f"{magnitude_in(gap, 'mm'):.2f}".replace("-", "−")


def _drawing(before: Quantity, after: Quantity, wanted: dict[Kind, Quantity], loose: dict[Kind, Quantity]) -> Figure:
    tried = Bar(
        "tried",
        magnitude_in(after, "mm"),
        uncertainty_in(after, "mm") or 0.0,
        f"{_hundredths(before)} → {_hundredths(after)}",
        before=magnitude_in(before, "mm"),
    )
    short = {"inlet": "set IN", "exhaust": "set EX"}
    rows = (
        Bar(
            short[kind],
            magnitude_in(wanted[kind], "mm"),
            0.0,
            f"{_hundredths(loose[kind])} → {_hundredths(wanted[kind])}",
            strong=True,
            before=magnitude_in(loose[kind], "mm"),
        )
        for kind in KINDS
    )
    return gap_bars("locknut", "Gaps with the nut loose, then tight", (tried, *rows), "ring: nut loose; dot: nut tight")
