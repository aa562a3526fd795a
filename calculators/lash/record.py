"""What the gaps did since last time."""

from __future__ import annotations

from calculators.bench import (
    Answer,
    FieldError,
    Lacking,
    Question,
    Row,
    Table,
    Value,
    shared,
)
from calculators.bench.words import word
from calculators.formulas.base_circle import KINDS, Kind
from calculators.lash.asked import EXHAUST_FOUND, INLET_FOUND, TWO_VALVES, Readings, gap_error, gaps, read_gaps
from calculators.lash.record_told import (
    RULE,
    Change,
    cautions,
    changed,
    drawn,
    headline,
    not_compared,
    record_table,
    says,
)


class Twice(Row):
    """The gaps of one cylinder, last time and now."""

    inlet_last = gaps("Inlet gap left last time", "inlet_gap_last", "0.15; 0.16; 0.15; 0.16", TWO_VALVES)
    inlet_found = gaps("Inlet gap found", "inlet_gap_found", INLET_FOUND)
    exhaust_last = gaps("Exhaust gap left last time", "exhaust_gap_last", "0.20; 0.21; 0.20; 0.20")
    exhaust_found = gaps("Exhaust gap found", "exhaust_gap_found", EXHAUST_FOUND)


class GapRecord(Question):
    """Assumes that both gaps were read with the engine equally cold, perhaps with other blades and by another hand.

    'By half' uses the best estimates, once the change exceeds the error of the blades.
    """

    asks = "How have the gaps changed since last time, and what does that mean?"
    tells = "Valve gaps since last time"

    cylinders = shared.cylinders()
    gaps = Table(Twice, each="Cylinder {}", most=12, count="cylinders")
    gap_limit = gap_error(
        usual="0.02 mm", shared_as=None, hint="Plus or minus, both times. A ± typed with a gap wins over it."
    )

    def answer(self) -> Answer:
        changes, strange = self._changes()
        if not changes:
            message = "Enter the gap found and the gap left last time of one valve or more, in millimetres"
            raise Lacking(FieldError("inlet_found.1", message))
        closed, opened = ([one for one in changes if one.moved == moved] for moved in ("closed", "opened"))
        return Answer(
            headline=headline(closed, opened, len(changes)),
            says=says(closed, opened),
            drawing=drawn(changes),
            values=(
                *(
                    Value(
                        key=key,
                        label=f"Valves whose gap has {key}",
                        quantity=len(found),
                        formula="found − left last time; counted only if the whole interval of the change is on one "
                        "side of 0",
                        source=RULE,
                        given=(("both gaps read at", len(changes)),),
                    )
                    for key, found in (("closed", closed), ("opened", opened))
                ),
            ),
            warnings=(*cautions(closed, opened), *not_compared(strange)),
            tables=(record_table(changes, self.gap_limit),),
        )

    def _changes(self) -> tuple[list[Change], list[str]]:
        """Return each valve that was read both times, and the places where the gaps now are not those of last time."""
        last: Readings = [{"inlet": row.inlet_last, "exhaust": row.exhaust_last} for row in self.gaps]
        found: Readings = [{"inlet": row.inlet_found, "exhaust": row.exhaust_found} for row in self.gaps]
        strange = _miscounted(last, found)
        before = {gap.name: gap.reading for gap in read_gaps(last, self.gap_limit, "gap left last time")}
        now = [
            gap
            for gap in read_gaps(found, self.gap_limit, "gap found")
            if gap.name in before and (gap.cylinder, gap.kind) not in strange
        ]
        places = [f"{word(kind)} of cylinder {cylinder}" for cylinder, kind in strange]
        return [changed(gap, before[gap.name]) for gap in now], places


def _miscounted(last: Readings, found: Readings) -> list[tuple[int, Kind]]:
    """Return where a cylinder has more gaps of a kind now than last time, or fewer: which is which is not known."""
    return [
        (cylinder, kind)
        for cylinder, (then, now) in enumerate(zip(last, found, strict=True), 1)
        for kind in KINDS
        if len(then[kind] or now[kind] or ()) != len(now[kind] or then[kind] or ())
    ]
