"""Every gap that was found, judged, and the turn of each screw that is out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from calculators.bench import (
    DECISION,
    Answer,
    FieldError,
    Figure,
    Finding,
    FoundPart,
    Lacking,
    Quantity,
    Question,
    Row,
    Stage,
    Table,
    Value,
    Walk,
    length,
    magnitude_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import uncertainty_in
from calculators.formulas.adjuster_screw import WHOLE_TURN, screw_turn
from calculators.formulas.base_circle import Kind
from calculators.formulas.decision_rule import judged
from calculators.lash.adjuster_drawing import scale_figure, turn_figure
from calculators.lash.asked import (
    EXHAUST_FOUND,
    INLET_FOUND,
    TWO_VALVES,
    Gap,
    Readings,
    allowance,
    blades,
    gap_error,
    gaps,
    place_of,
    read_gaps,
    screw_pitch,
)
from calculators.lash.cautions import FIRES, MAKER_WINS, TOO_CLOSE, far_cautions
from calculators.lash.feelers import GRAIN, Pair, pair_cautions, pair_for
from calculators.lash.gap_drawing import Bar, gap_bars
from calculators.lash.loose_nut import loosened
from calculators.lash.screw_told import Screw, screw_values
from calculators.lash.turns_told import SetValve, says, turns, valve_steps

_SCREW = "The adjusting screw"


class Found(Row):
    """What was found at one cylinder."""

    inlet_found = gaps("Inlet gap found", "inlet_gap_found", INLET_FOUND, TWO_VALVES)
    exhaust_found = gaps("Exhaust gap found", "exhaust_gap_found", EXHAUST_FOUND)


class SetThese(Question):
    """For solid tappets and adjusting screws with a right-hand thread; each gap read with its lock-nut tight."""

    asks = "Which valves need setting, and how far do I turn each screw?"
    tells = "Valve gaps as found"
    deed = "Set the valves that were out"
    procedures = ("build/set-valve-lash",)
    judges = True

    cylinders = shared.cylinders()
    inlet_clearance = shared.inlet_clearance()
    exhaust_clearance = shared.exhaust_clearance()
    found = Table(Found, each="Cylinder {}", most=12, count="cylinders")
    screw_pitch = screw_pitch(refines=_SCREW)
    adjuster_end = shared.adjuster_end(refines=_SCREW)
    rocker_ratio = shared.rocker_ratio(refines=_SCREW)
    locknut_adds = optional(
        length(
            "Change by the lock-nut",
            -2,
            2,
            why="a larger change is not the nut's",
            hint="How tightening it changes a gap. Empty: the screw is set by its turn alone.",
            shared_as="locknut_adds",
            refines=_SCREW,
            said="lock-nut adds {}",
        )
    )
    allowance = allowance(refines="How wide a gap may be")
    blades = blades(refines="Feeler blades")
    gap_error = gap_error()

    def answer(self) -> Answer:
        rows: Readings = [{"inlet": row.inlet_found, "exhaust": row.exhaust_found} for row in self.found]
        found = tuple(read_gaps(rows, self.gap_error, "gap found"))
        if not found:
            raise Lacking(FieldError("inlet_found.1", "Enter the gap found at one valve or more, in millimetres"))
        screw = Screw(self.screw_pitch, place_of(self.adjuster_end), self.rocker_ratio)
        wanted: dict[Kind, Quantity] = {"inlet": self.inlet_clearance, "exhaust": self.exhaust_clearance}
        loose = loosened(wanted, self.locknut_adds, "locknut_adds") if self.locknut_adds is not None else {}
        pairs = {kind: pair_for(gap, self.allowance, self.blades) for kind, gap in wanted.items()}
        valves = [self._judged(gap, wanted[gap.kind], screw) for gap in found]
        far = [valve.name for valve in valves if abs(valve.degrees) > WHOLE_TURN]
        out = [valve for valve in valves if valve.verdict == "out"]
        steps = _walk(valves, loose, pairs, self.blades)
        return Answer(
            headline=_headline(valves),
            says=says(screw.per_mm, valves),
            record=f"Valve gaps measured: {len(valves)}; to be set: {len(out)}.",
            drawing=self._drawing(found, valves, wanted),
            values=(
                Value(
                    key="out",
                    label="Valves to set",
                    quantity=len(out),
                    formula="out: no part of found ± U lies between the figure and the figure + the allowance",
                    source=DECISION,
                    given=(("measured", len(valves)), ("allowance", self.allowance)),
                ),
                *screw_values(screw),
            ),
            warnings=(
                FIRES,
                TOO_CLOSE,
                *far_cautions(far),
                *pair_cautions(wanted, self.allowance, pairs),
                MAKER_WINS,
            ),
            steps=steps,
            tables=(turns(valves, self.screw_pitch, self.allowance, screw.lever, loose),),
            findings=tuple(
                Finding(
                    key=f"lash_{kind}",
                    what=f"valve gap, {kind}",
                    parts=tuple(
                        FoundPart(f"cylinder {valve.cylinder}", valve.found, valve.verdict)
                        for valve in valves
                        if valve.kind == kind
                    ),
                    units=("mm", "in"),
                    places=2,
                    low=wanted[kind],
                    high=wanted[kind] + self.allowance,
                    limits=(f"{kind}_clearance", "allowance"),
                    when="before",
                    gloss="the play that lets the valve shut",
                )
                for kind in dict.fromkeys(valve.kind for valve in valves)
            ),
            figures=(scale_figure(screw.per_mm, screw.at),),
            notes=(
                "Set a valve only while its tappet is on the base circle of the cam.",
                "Count each turn from where the slot points with the nut tight: mark it before you loosen the nut. "
                "Hold the screw while you tighten, measure again with the nut tight, and turn by the rest.",
                "A left-hand thread turns the other way.",
            ),
        )

    def _judged(self, gap: Gap, wanted: Quantity, screw: Screw) -> SetValve:
        best, least, allowed = (magnitude_in(one, "mm") for one in (gap.reading, wanted, self.allowance))
        expanded = uncertainty_in(gap.reading, "mm") or 0.0
        turn = screw_turn(best - least, magnitude_in(self.screw_pitch, "mm"), screw.lever)
        verdict = judged(best, expanded, least, least + allowed, grain=GRAIN)
        return SetValve(gap.cylinder, gap.kind, gap.name, gap.reading, wanted, quantity(turn, "°"), verdict)

    def _drawing(self, found: Sequence[Gap], valves: Sequence[SetValve], wanted: Mapping[Kind, Quantity]) -> Figure:
        allowed = magnitude_in(self.allowance, "mm")
        bars = []
        for gap, valve in zip(found, valves, strict=True):
            least = magnitude_in(wanted[gap.kind], "mm")
            bars.append(
                Bar(
                    gap.short,
                    magnitude_in(gap.reading, "mm"),
                    uncertainty_in(gap.reading, "mm") or 0.0,
                    {"in": "leave", "too close to call": "try the blades"}.get(valve.verdict, valve.deed),
                    strong=valve.verdict == "out",
                    least=least,
                    most=least + allowed,
                )
            )
        return gap_bars("found", "Gaps found, and the band for each", tuple(bars), "dot: found; dashed: band")


def _headline(valves: Sequence[SetValve]) -> str:
    out = [valve for valve in valves if valve.verdict == "out"]
    doubtful = [valve for valve in valves if valve.verdict == "too close to call"]
    if out:
        named = f"Set {', '.join(valve.name for valve in out)}"
        return named if len(named) <= LONGEST_HEADLINE else f"Set {len(out)} of {len(valves)} valves"
    if doubtful:
        named = f"Try the two blades at {', '.join(valve.name for valve in doubtful)}"
        return named if len(named) <= LONGEST_HEADLINE else f"Try the two blades at {len(doubtful)} valves"
    return "Leave the valve" if len(valves) == 1 else f"Leave all {len(valves)} valves"


def _walk(
    valves: Sequence[SetValve],
    loose: Mapping[Kind, Quantity],
    pairs: Mapping[Kind, Pair | None],
    blades: tuple[Quantity, ...],
) -> Walk | tuple[Walk, ...]:
    stages = tuple(
        Stage(
            title=valve.name,
            steps=tuple(valve_steps(valve, loose, pairs[valve.kind], blades)),
            drawing=_dial(valve) if valve.verdict == "out" else None,
        )
        for valve in valves
        if valve.verdict != "in"
    )
    return Walk(key="setting", title="Set and check", stages=stages, on_paper=True) if stages else ()


def _dial(valve: SetValve) -> Figure:
    return turn_figure(f"turn_{valve.key}", valve.name, float(round(valve.degrees)))
