"""What tightening the lock-nut does to a gap."""

from __future__ import annotations

from calculators._lash.setting_report import TOO_CLOSE, nut_values, pull_cautions
from calculators._units import measured, uncertainty_in
from calculators.bench import Answer, Figure, Quantity, Question, Worked, length, magnitude_in, printed, shared
from calculators.formulas.base_circle import KINDS, Kind
from calculators.lash.asked import blades, gap_error
from calculators.lash.gap_drawing import Bar, gap_bars
from calculators.lash.loose_nut import loosened

_WHY = "outside, no blade goes in"


class LockNut(Question):
    """Tried on the first valve; takes the others to have the same thread, nut and torque."""

    asks = "What does tightening the lock-nut add to the gap?"
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
            drawing=_drawing(before, after, wanted, loose),
            values=nut_values(self.gap_before, self.gap_after, pull, wanted, loose, self.blades),
            warnings=(TOO_CLOSE, *pull_cautions(pull)),
            notes=(
                "Hold the screw while you tighten. Whatever you set loose, the gap counts with the nut tight: measure "
                "it again.",
            ),
            worked=(Worked(name="locknut_adds", value=pull),),
        )


def measured_unless_typed(gap: Quantity, limit: Quantity, name: str) -> Quantity:
    """Return a gap with the readings' uncertainty, where none was typed with it."""
    return gap if uncertainty_in(gap, "mm") is not None else measured(gap, limit, name)


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
