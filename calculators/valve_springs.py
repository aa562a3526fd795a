"""Rate, loads, coil-bind margin and stress of valve springs, the shims that even them, and old ones against new.

For one or two cylindrical springs of round wire a valve, closed and ground at the ends. Loads at
rest; what a spring does at speed is only estimated.
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

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
)
from calculators._fields import VALVE_LIFT
from calculators._springs.drawing import spring_figure
from calculators._springs.measured_springs import Bench, Nest, bench_of, read_springs, refuse_what_breaks
from calculators._springs.report import (
    Fitting,
    cautions,
    lead,
    nest_values,
    old_table,
    shim_table,
    speed_values,
    spring_table,
)
from calculators._units import bare, figures, number_in
from calculators._verdict import best_of
from calculators.formulas.shim_choice import even_shims, shim_stacks

TITLE = "Valve springs"

_LENGTH = Measure(own="mm", low=5, high=200, why="valve springs of such engines")
_LOAD = Measure(own="N", low=5, high=5000, why="valve springs of such engines")
_COILS = Number(low=1, high=30, why="valve springs of such engines", whole=False)


_WINS = "Plus or minus, the same in all that it reads. A ± typed with a reading wins over it."


def _limit(key: str, label: str, own: str, default: str, high: float, hint: str = _WINS) -> Field:
    return Field(
        key=key,
        label=label,
        help=hint,
        kind=Measure(
            own=own, low=0, high=high, why="a reading further off decides nothing", exact=True, plus_minus=True
        ),
        default=default,
    )


FORM = Form(
    (
        Section(
            title="As fitted",
            fields=(
                Field(
                    key="fitted_length",
                    label="Fitted length",
                    help="Valve shut, seat of the spring to the retainer; the maker's figure.",
                    kind=_LENGTH,
                    card="springs.fitted_length",
                    example="38 mm",
                ),
                replace(VALVE_LIFT, example="8.2 mm", optional=False),
                Field(
                    key="seat_load",
                    label="Seat load wanted",
                    help="Valve shut, both springs together; the maker's figure.",
                    kind=_LOAD,
                    card="springs.seat_load",
                    example="265 N",
                ),
                Field(
                    key="load_band",
                    label="Tolerance of the seat load",
                    help="Either way, of the load wanted.",
                    kind=Measure(
                        own="%", low=0.5, high=30, why="tighter cannot be shimmed", plus_minus=True, exact=True
                    ),
                    default="5 %",
                ),
                Field(
                    key="least_margin",
                    label="Least coil-bind margin",
                    help="At full lift, in each spring and between retainer and guide.",
                    kind=Measure(own="mm", low=0, high=10, why="a margin cannot be less than none", exact=True),
                    default="1 mm",
                ),
            ),
        ),
        Rows(
            key="springs",
            title="The springs of one valve",
            each="Spring {}",
            most=2,
            help="The outer one first. Two measured loads win over the wire; one goes with the free length.",
            fields=(
                Field(
                    key="free_length",
                    label="Free length",
                    instrument="calliper",
                    kind=_LENGTH,
                    card="springs.free_length",
                    example="47.5",
                ),
                Field(
                    key="wire",
                    instrument="micrometer",
                    label="Wire diameter",
                    kind=Measure(own="mm", low=1, high=12, why="valve springs of such engines"),
                    card="springs.wire_diameter",
                    example="4.2 mm",
                ),
                Field(
                    key="outside",
                    instrument="calliper",
                    label="Outside diameter",
                    kind=Measure(own="mm", low=8, high=100, why="valve springs of such engines"),
                    card="springs.outside_diameter",
                    example="33.3 mm",
                ),
                Field(
                    key="active",
                    label="Active coils",
                    help="All but the two dead ends.",
                    kind=_COILS,
                    card="springs.active_coils",
                    example="4.5",
                ),
                Field(key="total", label="Total coils", kind=_COILS, card="springs.total_coils", example="6.5"),
                Field(key="length_a", label="First length", kind=_LENGTH, optional=True),
                Field(
                    key="load_a",
                    label="Load at the first length",
                    instrument="spring_tester",
                    kind=_LOAD,
                    optional=True,
                ),
                Field(key="length_b", label="Second length", kind=_LENGTH, optional=True),
                Field(
                    key="load_b",
                    label="Load at the second length",
                    instrument="spring_tester",
                    kind=_LOAD,
                    optional=True,
                ),
            ),
        ),
        Rows(
            key="valves",
            title="Heights measured",
            each="Valve {}",
            most=24,
            help="Valve, retainer and collets fitted without spring, pulled shut; no shims.",
            fields=(
                Field(
                    key="height",
                    label="Installed height",
                    instrument="calliper",
                    kind=_LENGTH,
                    example="38.6; 38.1; 39.0; 38.4",
                ),
                Field(
                    key="to_guide",
                    instrument="calliper",
                    label="Room between retainer and guide",
                    help="Or to the stem seal, valve shut.",
                    kind=Measure(own="mm", low=0, high=60, why="valves of such engines"),
                    optional=True,
                    example="10.4; 10.1; 10.6; 8.9",
                ),
            ),
        ),
        Section(
            title="The drawer",
            fields=(
                Field(
                    key="shims",
                    label="Shims",
                    help="Thicknesses that you have, each once.",
                    kind=Series(
                        of=Measure(own="mm", low=0.1, high=5, why="thinner is foil, thicker is a spacer", exact=True),
                        fewest=1,
                        most=8,
                    ),
                    default="0.25 0.5 0.75 1",
                ),
            ),
        ),
        Rows(
            key="old",
            title="Old springs of the first kind",
            each="Old spring {}",
            most=24,
            fields=(
                Field(
                    key="old_free",
                    instrument="calliper",
                    label="Free length found",
                    kind=_LENGTH,
                    optional=True,
                    example="47.4; 46.9; 46.0; 47.2",
                ),
                Field(
                    key="old_load",
                    instrument="spring_tester",
                    label="Load found",
                    help="At the fitted length.",
                    kind=_LOAD,
                    optional=True,
                    example="262 N; 248; 221; 259",
                ),
            ),
        ),
        Section(
            title="What is allowed of an old spring",
            folded=True,
            fields=(
                Field(
                    key="loss_of_load",
                    label="Allowed loss of load",
                    kind=Measure(own="%", low=1, high=50, why="a limit of wear", exact=True),
                    default="10 %",
                ),
                Field(
                    key="loss_of_length",
                    label="Allowed loss of free length",
                    kind=Measure(own="mm", low=0.1, high=20, why="a limit of wear", exact=True),
                    default="1 mm",
                ),
            ),
        ),
        Section(
            title="At speed",
            folded=True,
            help="Leave mass or slowing empty where you do not know it.",
            fields=(
                Field(
                    key="mass",
                    label="Moved mass in g",
                    help="Valve, retainer, collets, and the rest of the gear as felt at the valve; springs not.",
                    kind=Number(low=10, high=2000, why="valve gear of such engines", whole=False),
                    optional=True,
                    example="120",
                ),
                Field(
                    key="slowing",
                    label="Greatest slowing of the valve in mm/degree²",
                    help="By degrees of the camshaft, near full lift; from the cam's maker or a lift table.",
                    kind=Number(low=0.0005, high=0.1, why="cams of such engines", whole=False),
                    optional=True,
                    example="0.008",
                ),
                Field(
                    key="highest_speed",
                    label="Highest speed",
                    kind=Measure(own="r/min", low=500, high=20000, why="engines of this kind"),
                    card="running.highest_speed",
                    default="4600 r/min",
                    reading="highest_speed",
                ),
            ),
        ),
        Section(
            title="Wire and readings",
            folded=True,
            fields=(
                Field(
                    key="modulus",
                    label="Shear modulus in GPa",
                    kind=Number(low=30, high=120, why="spring wires", whole=False),
                    default="79.3",
                ),
                Field(
                    key="density",
                    label="Density of the wire in kg/m³",
                    kind=Number(low=2000, high=12000, why="spring wires", whole=False),
                    default="7850",
                ),
                Field(
                    key="modulus_error",
                    label="Error limit of the modulus",
                    help="Plus or minus; 2 % is common practice for a wire that nobody named.",
                    kind=Measure(
                        own="%", low=0, high=30, why="spring wires differ by less", exact=True, plus_minus=True
                    ),
                    default="2 %",
                ),
                Field(
                    key="coils_error",
                    label="Error limit of the coils",
                    help="Plus or minus, each count; 0.125 where they are counted to a quarter turn (common practice).",
                    kind=Number(low=0, high=2, why="a count further off is none", whole=False, plus_minus=True),
                    default="0.125",
                ),
                _limit("wire_error", "Error limit of the wire diameter", "mm", "0.02 mm", 1),
                _limit("length_error", "Error limit of the calliper", "mm", "0.1 mm", 5),
                _limit(
                    "length_scatter",
                    "Scatter of the calliper",
                    "mm",
                    "0.05 mm",
                    5,
                    "Plus or minus, when one length is read again: it counts where two are compared (common practice).",
                ),
                _limit("stop_error", "Error limit of the tester's lengths", "mm", "0.1 mm", 5),
                _limit("load_error", "Error limit of the loads", "N", "4 N", 200),
                _limit(
                    "load_scatter",
                    "Scatter of the loads",
                    "N",
                    "2 N",
                    200,
                    "Plus or minus, when one spring is pressed again to the same length (common practice).",
                ),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the springs' figures, the shims for each valve, and the verdict on each old spring."""
    if magnitude_in(inputs.valve_lift, "mm") >= magnitude_in(inputs.fitted_length, "mm"):
        raise InputErrors(FieldError("valve_lift", "Valve lift must be less than the fitted length"))
    bench = bench_of(inputs)
    nest = Nest(
        springs=read_springs(inputs, bench),
        fitted=number_in(inputs.fitted_length, "mm"),
        lift=number_in(inputs.valve_lift, "mm"),
        least=magnitude_in(inputs.least_margin, "mm"),
    )
    _refuse_what_cannot_be_fitted(inputs, nest)
    refuse_what_breaks(nest)
    fittings = _fittings(inputs, nest, bench)
    tables = [spring_table(nest)]
    if fittings:
        tables.append(shim_table(inputs, nest, fittings))
    if any(found is not None for found in (*inputs.old_free, *inputs.old_load)):
        tables.append(old_table(inputs, nest, _read_all(inputs, nest, bench)))
    return Report(
        lead=lead(inputs, nest, fittings),
        values=(*nest_values(inputs, nest), *speed_values(inputs, nest)),
        tables=tuple(tables),
        figures=tuple(
            spring_figure(
                number,
                (
                    round(best_of(spring.free), 2),
                    best_of(nest.fitted),
                    best_of(nest.open),
                    round(best_of(spring.solid), 2),
                ),
                (
                    None,
                    round(bare(spring.load(nest.fitted))[0], 1),
                    round(bare(spring.load(nest.open))[0], 1),
                    None,
                ),
                spring.total,
            )
            for number, spring in enumerate(nest.springs, 1)
        ),
        cautions=cautions(inputs, nest, fittings),
        notes=(
            "Rates from the wire hold to about 5 % at best: its diameter counts with the fourth power, and coils and "
            "modulus are known no better. Measure two loads where you can.",
            "Springs of one valve are replaced together, and all of an engine alike (common practice, no source).",
        ),
    )


def _refuse_what_cannot_be_fitted(inputs: SimpleNamespace, nest: Nest) -> None:
    bound = max(bare(spring.solid)[0] for spring in nest.springs)
    most = bare(nest.load(bound))[0]
    if magnitude_in(inputs.seat_load, "N") >= most:
        message = f"Seat load wanted must be less than {figures(most, 0)} N, at which the coils of these springs touch"
        raise InputErrors(FieldError("seat_load", message))


def _read_all(inputs: SimpleNamespace, nest: Nest, bench: Bench) -> tuple[tuple[Any, Any], ...]:
    """Return what was found of each old spring, in mm and N; a load carries the error of the length it was read at."""
    at = nest.springs[0].rate * bench.stop.error
    return tuple(
        (
            None if free is None else bench.calliper.read(free, f"Free length found of old spring {number}"),
            None if load is None else bench.tester.read(load, f"Load found of old spring {number}") + at,
        )
        for number, (free, load) in enumerate(zip(inputs.old_free, inputs.old_load, strict=True), 1)
    )


def _fittings(inputs: SimpleNamespace, nest: Nest, bench: Bench) -> tuple[Fitting, ...]:
    """Return what each valve gets, and what that gives."""
    if not inputs.height:
        return ()
    heights = [bench.calliper.read(height, "Installed height") for height in inputs.height]
    wanted = best_of(nest.height_for(magnitude_in(inputs.seat_load, "N")))
    band = magnitude_in(inputs.load_band, "%") / 100 * magnitude_in(inputs.seat_load, "N") / nest.stiffness
    piles = even_shims(
        tuple(best_of(height) for height in heights),
        shim_stacks(tuple(magnitude_in(shim, "mm") for shim in inputs.shims)),
        wanted,
        band,
        max(best_of(spring.solid) for spring in nest.springs) + best_of(nest.lift) + nest.least,
    )
    return tuple(
        Fitting(
            number=number,
            found=height,
            pile=pile,
            height=height - sum(pile),
            to_guide=None
            if guide is None
            else bench.calliper.read(guide, "Room between retainer and guide") - nest.lift,
        )
        for number, (height, pile, guide) in enumerate(zip(heights, piles, inputs.to_guide, strict=True), 1)
    )
