"""How far to turn each adjusting screw, what the lock-nut adds, and the pair of blades that proves the gap.

For solid tappets and adjusting screws with a right-hand thread. When a valve may be set, the lash
turn plan says; how large its gap must be, the engine maker does.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from uncertainties import UFloat

from calculators import (
    Field,
    FieldError,
    Form,
    InputErrors,
    Measure,
    Number,
    Report,
    Rows,
    Section,
    Series,
    magnitude_in,
    measured,
    quantity,
    uncertainty_in,
)
from calculators._fields import ADJUSTER_END, BLADES, CLEARANCE, EXHAUST_CLEARANCE, INLET_CLEARANCE
from calculators._lash.adjuster_drawing import scale_figure, turn_figure
from calculators._lash.setting_report import (
    FIRES,
    GRAIN,
    MAKER_WINS,
    TOO_CLOSE,
    Screw,
    SetValve,
    far_cautions,
    lead,
    nut_values,
    pair_cautions,
    pair_for,
    pair_values,
    pull_cautions,
    screw_values,
    turns,
    walk,
)
from calculators._words import word
from calculators.formulas.adjuster_screw import WHOLE_TURN, screw_turn
from calculators.formulas.base_circle import KINDS, Kind
from calculators.formulas.decision_rule import judged

TITLE = "Lash setting"

_FOUND = Series(
    of=Measure(own="mm", low=0, high=3, why="wider, the pushrod is out of its seat"), fewest=1, most=3, like="0.15"
)
_TRIAL = Measure(own="mm", low=0.02, high=2, why="outside, no blade goes in")

FORM = Form(
    (
        Section(
            title="The screw",
            fields=(
                Field(
                    key="screw_pitch",
                    label="Screw pitch",
                    help="How far one turn moves the screw. 24 threads to the inch: 1/24 in.",
                    kind=Measure(own="mm", low=0.25, high=3, why="finer and coarser screws are not made", exact=True),
                    card="valve_gear.adjuster_pitch",
                    example="1 mm",
                ),
                ADJUSTER_END,
                Field(
                    key="rocker_ratio",
                    label="Rocker ratio",
                    help="Valve arm over pushrod arm, to 1.",
                    kind=Number(low=0.7, high=2.5, why="rockers of such engines", whole=False, to_one=True),
                    card="dimensions.rocker_ratio",
                    example="1.15",
                    reading="rocker_ratio",
                ),
            ),
        ),
        Section(
            title="The gaps",
            fields=(
                INLET_CLEARANCE,
                EXHAUST_CLEARANCE,
                Field(
                    key="allowance",
                    label="Allowance over the gap",
                    help="So much wider than its figure a gap may be, never closer.",
                    kind=Measure(
                        own="mm", low=0.01, high=0.3, why="tighter is not set by hand; wider is noise and wear"
                    ),
                    card="valve_gear.gap_allowance",
                    default="0.05 mm",
                ),
                BLADES,
                Field(
                    key="cylinders",
                    label="Number of cylinders",
                    kind=Number(low=1, high=12, why="more cylinders than twelve are not planned here"),
                    card="layout.cylinders",
                    example="4",
                    reading="cylinders",
                ),
            ),
        ),
        Rows(
            key="found",
            title="Gaps found",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            help="Each with its lock-nut tight. Empty where you have not measured; two of a kind: 0.15 0.17.",
            fields=(
                Field(
                    key="inlet_found",
                    instrument="feelers",
                    label="Inlet gap found",
                    kind=_FOUND,
                    example="0.10; 0.22; 0.18; 0.15",
                    optional=True,
                    reading="inlet_gap_found",
                ),
                Field(
                    key="exhaust_found",
                    instrument="feelers",
                    label="Exhaust gap found",
                    kind=_FOUND,
                    example="0.16; 0.23; 0.31; 0.20",
                    optional=True,
                    reading="exhaust_gap_found",
                ),
            ),
        ),
        Section(
            title="What the lock-nut adds",
            help="From the first valve that you set; the rest then take it into account.",
            fields=(
                Field(
                    key="gap_before",
                    instrument="feelers",
                    label="Gap before tightening",
                    help="First valve, lock-nut loose, screw held.",
                    kind=_TRIAL,
                    example="0.15 mm",
                    optional=True,
                ),
                Field(
                    key="gap_after",
                    instrument="feelers",
                    label="Gap after tightening",
                    help="The same valve, lock-nut at its torque.",
                    kind=_TRIAL,
                    example="0.17 mm",
                    optional=True,
                ),
            ),
        ),
        Section(
            title="How good the readings are",
            folded=True,
            fields=(
                Field(
                    key="gap_error",
                    label="Error limit of the gap readings",
                    help="Plus or minus. A ± typed with a reading wins over it.",
                    kind=Measure(
                        own="mm",
                        low=0,
                        high=0.2,
                        why="a reading further off decides nothing",
                        exact=True,
                        plus_minus=True,
                    ),
                    default="0.01 mm",
                ),
            ),
        ),
    ),
    sets_aside=("blades",),
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the screw's turn for each valve, the allowance for the lock-nut, and the proving blades."""
    screw = Screw(inputs.screw_pitch, inputs.adjuster_end, inputs.rocker_ratio)
    lever = screw.lever
    wanted: dict[Kind, Any] = {"inlet": inputs.inlet_clearance, "exhaust": inputs.exhaust_clearance}
    pull = _pull(inputs)
    loose = {kind: gap - pull for kind, gap in wanted.items()} if pull is not None else {}
    _refuse_what_cannot_be_set(loose, pull)
    valves = _valves(inputs, wanted, lever)
    pairs = {kind: pair_for(gap, inputs.allowance, inputs.blades) for kind, gap in wanted.items()}
    far = [valve.name for valve in valves if abs(valve.degrees) > WHOLE_TURN]
    return Report(
        lead=lead(screw.per_mm, valves),
        values=(
            *screw_values(screw),
            *(
                nut_values(inputs.gap_before, inputs.gap_after, pull, wanted, loose, inputs.blades)
                if pull is not None
                else ()
            ),
            *(
                value
                for kind, gap in wanted.items()
                for value in pair_values(kind, gap, inputs.allowance, inputs.blades, pairs[kind])
            ),
        ),
        tables=(turns(valves, inputs.screw_pitch, inputs.allowance, lever, loose),) if valves else (),
        figures=(
            scale_figure(screw.per_mm, inputs.adjuster_end),
            *(
                turn_figure(f"turn_{valve.key}", valve.name, float(round(valve.degrees)))
                for valve in valves
                if valve.verdict == "out"
            ),
        ),
        walks=walk(valves, loose, pairs, inputs.blades),
        cautions=(
            FIRES,
            TOO_CLOSE,
            MAKER_WINS,
            *far_cautions(far),
            *pull_cautions(pull),
            *pair_cautions(wanted, inputs.allowance, pairs),
        ),
        notes=(
            "Set a valve only where it rests on the base circle of its cam; the lash turn plan gives the stops.",
            "Each turn counts from where the slot stands while the nut is tight: mark it before you loosen the nut. "
            "Hold the screw while you tighten, measure again with the nut tight, and turn by what is left.",
            "A left-hand thread turns the other way.",
        ),
    )


def _pull(inputs: SimpleNamespace) -> Any:
    """Return what tightening the lock-nut adds to the gap, or None where it was not tried."""
    before, after = inputs.gap_before, inputs.gap_after
    if (before is None) != (after is None):
        missing, other, there = (
            ("gap_before", "gap before tightening", "gap after tightening")
            if before is None
            else ("gap_after", "gap after tightening", "gap before tightening")
        )
        raise InputErrors(FieldError(missing, f"Enter the {other} as well, or empty the {there}"))
    if before is None:
        return None
    return _read(after, inputs.gap_error, "Gap after tightening") - _read(
        before, inputs.gap_error, "Gap before tightening"
    )


def _refuse_what_cannot_be_set(loose: dict[Kind, Any], pull: Any) -> None:
    for kind, gap in loose.items():
        if magnitude_in(gap, "mm") < CLEARANCE.low:
            raise InputErrors(
                FieldError(
                    "gap_after",
                    f"The lock-nut adds {magnitude_in(pull, 'mm'):.2f} mm, which leaves less than {CLEARANCE.low} mm "
                    f"to set the {word(kind)} valves to. Clean or change the screw and the nut, then try again.",
                )
            )


def _read(gap: Any, limit: Any, name: str) -> Any:
    """Return a gap with the blades' uncertainty, where none was typed with it."""
    return gap if isinstance(gap.magnitude, UFloat) else measured(gap, limit, name)


def _valves(inputs: SimpleNamespace, wanted: dict[Kind, Any], lever: float) -> list[SetValve]:
    valves = []
    pitch, allowed = magnitude_in(inputs.screw_pitch, "mm"), magnitude_in(inputs.allowance, "mm")
    for row in range(inputs.cylinders):
        for kind, column in zip(KINDS, (inputs.inlet_found, inputs.exhaust_found), strict=True):
            gaps, least = column[row] or (), magnitude_in(wanted[kind], "mm")
            for number, gap in enumerate(gaps, 1):
                name = f"{row + 1} {word(kind)} {number}" if len(gaps) > 1 else f"{row + 1} {word(kind)}"
                found = _read(gap, inputs.gap_error, f"Gap of {name}")
                verdict = judged(
                    magnitude_in(found, "mm"), uncertainty_in(found, "mm") or 0.0, least, least + allowed, grain=GRAIN
                )
                turn = screw_turn(found.m_as("mm") - least, pitch, lever)
                valves.append(SetValve(row + 1, kind, name, found, wanted[kind], quantity(turn, "°"), verdict))
    return valves
