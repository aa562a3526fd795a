"""What the valve gap becomes when the engine is hot, and which cold figure still lets the valve shut.

An estimate from lengths, materials and temperatures, to understand the maker's figure by, never
to replace it. Steady running only: while an engine warms up, the parts heat one after the other.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

from calculators import (
    Caution,
    Choice,
    Field,
    Form,
    Measure,
    Number,
    Report,
    Section,
    magnitude_in,
)
from calculators._fields import EXHAUST_CLEARANCE, INLET_CLEARANCE
from calculators._lash.growth_drawing import growth_figure
from calculators._lash.growth_report import (
    MAKER_WINS,
    Growth,
    Part,
    cold_figures,
    customary_figures,
    gap_values,
    lead,
    part_table,
    running_cautions,
    steps_of,
)
from calculators._lash.metals import COEFFICIENTS, MATERIALS
from calculators._units import number_in, reading
from calculators._words import word
from calculators.formulas.thermal_growth import gap_growth, growth

TITLE = "Lash growth"

_DEGREES = Measure(own="°C", low=-40, high=900, why="below, no engine starts; above, a valve is at its end", exact=True)
_COLD = Measure(own="°C", low=-40, high=60, why="a yard in winter, and one in the sun; hotter is not cold", exact=True)


def _length(key: str, label: str, card: str, example: str, hint: str = "", reading: str | None = None) -> Field:
    return Field(
        key=key,
        label=label,
        help=hint,
        kind=Measure(own="mm", low=1, high=600, why="parts of engines of this kind"),
        card=card,
        example=example,
        reading=reading,
    )


def _material(part: str, label: str, card: str, default: str) -> Field:
    return Field(key=part, label=f"{label} material", kind=Choice(options=MATERIALS), card=card, default=default)


def _hot(key: str, label: str, default: str, hint: str = "", kind: Measure = _DEGREES) -> Field:
    return Field(key=key, label=f"{label} temperature", help=hint, kind=kind, default=f"{default} °C")


def _coefficient_error(key: str, label: str, hint: str, default: str) -> Field:
    return Field(
        key=key,
        label=label,
        help=hint,
        kind=Number(low=0, high=30, why="further off, it is another metal", whole=False, plus_minus=True),
        default=default,
    )


FORM = Form(
    (
        Section(
            title="Cold",
            fields=(
                replace(INLET_CLEARANCE, help="From the engine maker, engine cold."),
                EXHAUST_CLEARANCE,
                _hot("cold", "Cold", "20", "Of the whole engine, when the gap is set.", _COLD),
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
            title="What carries the rocker",
            help="Lengths along the cylinder, engine running steadily. Temperatures are the part's mean.",
            fields=(
                _length("case_length", "Distance from cam to barrel base", "valve_gear.cam_to_barrel_base", "116 mm"),
                _material("case_material", "Case", "materials.case", "cast magnesium"),
                _hot("case_hot", "Case", "80"),
                _length("barrel_length", "Barrel length", "dimensions.barrel_length", "104 mm", "With its spacers."),
                _material("barrel_material", "Barrel", "materials.barrel", "grey iron"),
                _hot("barrel_hot", "Barrel", "130"),
                _length(
                    "shaft_height",
                    "Distance from barrel seat to rocker shaft",
                    "valve_gear.barrel_seat_to_rocker_shaft",
                    "112 mm",
                    "In the head.",
                ),
                _length(
                    "seat_height",
                    "Distance from barrel seat to valve seat",
                    "valve_gear.barrel_seat_to_valve_seat",
                    "14 mm",
                    "In the head.",
                ),
                _material("head_material", "Head", "materials.head", "cast aluminium"),
                _hot("head_hot", "Head", "140"),
            ),
        ),
        Section(
            title="What pushes it",
            fields=(
                _length(
                    "tappet_length",
                    "Distance from cam to pushrod",
                    "valve_gear.cam_to_pushrod",
                    "56 mm",
                    "Cam axis to the pushrod's seat in the tappet, valve shut.",
                ),
                _material("tappet_material", "Tappet", "materials.tappet", "grey iron"),
                _hot("tappet_hot", "Tappet", "90"),
                _length(
                    "pushrod_length",
                    "Pushrod length",
                    "dimensions.pushrod_length",
                    "276 mm",
                    reading="pushrod_length",
                ),
                _material("pushrod_material", "Pushrod", "materials.pushrod", "wrought aluminium"),
                _hot("pushrod_hot", "Pushrod", "110"),
            ),
        ),
        Section(
            title="The valves",
            fields=(
                _length("valve_length", "Valve length", "valve_gear.valve_length", "105 mm", "Seat to stem tip."),
                _material("inlet_material", "Inlet valve", "materials.inlet_valve", "martensitic steel"),
                _hot("inlet_hot", "Inlet valve", "150"),
                _material("exhaust_material", "Exhaust valve", "materials.exhaust_valve", "martensitic steel"),
                _hot("exhaust_hot", "Exhaust valve", "250", "Mean over seat to tip: the head is far hotter."),
                Field(
                    key="hotter",
                    label="Rise of the valves, worked hard, in K",
                    help="So much hotter than running: a long climb, a lean mixture, late ignition. 100 K is 180 °F.",
                    kind=Number(low=0, high=500, why="hotter still, the valve melts", whole=False, plus_minus=True),
                    default="100",
                ),
            ),
        ),
        Section(
            title="How good temperatures and coefficients are",
            folded=True,
            fields=(
                Field(
                    key="temperature_error",
                    label="Error limit of the hot temperatures in K",
                    help="Plus or minus; each hot one may be off by as much.",
                    kind=Number(low=0, high=100, why="worse is no estimate", whole=False, plus_minus=True),
                    default="10",
                ),
                _coefficient_error(
                    "coefficient_error",
                    "Error limit of the coefficients in per cent",
                    "Plus or minus. So far apart lie alloys of one kind. Common practice.",
                    "5",
                ),
                _coefficient_error(
                    "valve_coefficient_error",
                    "Error limit of the valves' coefficients in per cent",
                    "Plus or minus. Hot metal grows up to a tenth more.",
                    "10",
                ),
            ),
        ),
    ),
    sets_aside=("inlet_clearance", "exhaust_clearance"),
)


@dataclass(frozen=True, slots=True)
class _Moves:
    """How far the parts move away from the camshaft, in mm, each with its uncertainty."""

    case: Any
    barrel: Any
    shaft: Any
    seat: Any
    tappet: Any
    pushrod: Any


def compute(inputs: SimpleNamespace) -> Report:
    """Return the gaps when hot, what each part does to them, and the cold figures that still shut."""
    off, cold = inputs.temperature_error, magnitude_in(inputs.cold, "°C")

    def risen(hot: Any, name: str) -> Any:
        return reading(magnitude_in(hot, "°C"), off, f"{name} temperature") - cold

    def longer(length: Any, material: str, hot: Any, name: str) -> Any:
        coefficient = _coefficient(material, inputs.coefficient_error, name)
        return growth(number_in(length, "mm"), coefficient, risen(hot, name))

    head, in_head = risen(inputs.head_hot, "Head"), _coefficient(inputs.head_material, inputs.coefficient_error, "Head")
    moves = _Moves(
        case=longer(inputs.case_length, inputs.case_material, inputs.case_hot, "Case"),
        barrel=longer(inputs.barrel_length, inputs.barrel_material, inputs.barrel_hot, "Barrel"),
        shaft=growth(number_in(inputs.shaft_height, "mm"), in_head, head),
        seat=growth(number_in(inputs.seat_height, "mm"), in_head, head),
        tappet=longer(inputs.tappet_length, inputs.tappet_material, inputs.tappet_hot, "Tappet"),
        pushrod=longer(inputs.pushrod_length, inputs.pushrod_material, inputs.pushrod_hot, "Pushrod"),
    )
    grown = tuple(
        _grown(inputs, moves, kind, risen(hot, f"{word(kind).capitalize()} valve"))
        for kind, hot in (("inlet", inputs.inlet_hot), ("exhaust", inputs.exhaust_hot))
    )
    return Report(
        lead=lead(grown),
        values=tuple(
            value for one in grown for value in gap_values(one, inputs.rocker_ratio, inputs.valve_length, inputs.hotter)
        ),
        tables=(cold_figures(grown), part_table(grown, _parts(inputs, moves, grown))),
        figures=tuple(growth_figure(one.kind, steps_of(one)) for one in reversed(grown)),
        cautions=(Caution("caution", customary_figures(grown)), MAKER_WINS, *running_cautions(grown)),
        notes=(
            "The temperatures are guesses until you have measured some; the default ones are common practice, no "
            "source. Change them and see which part matters.",
            "The coefficients hold near room temperature. Up to a tenth more is usual at a hot valve; the ± counts it.",
            "Warming up, the exhaust valve is hot before the barrel and the head are: the gap is then at its closest.",
        ),
    )


def _coefficient(material: str, error: float, name: str) -> Any:
    """Return a part's coefficient in 1/K, off by so many per cent at most."""
    best = 1e-6 * COEFFICIENTS[material]
    return reading(best, best * error / 100, f"{name} coefficient")


def _grown(inputs: SimpleNamespace, moves: _Moves, kind: str, rise: Any) -> Growth:
    ratio, length = inputs.rocker_ratio, number_in(inputs.valve_length, "mm")
    carried = moves.case + moves.barrel
    coefficient = _coefficient(
        getattr(inputs, f"{kind}_material"), inputs.valve_coefficient_error, f"{word(kind).capitalize()} valve"
    )
    valve = growth(length, coefficient, rise)
    change = gap_growth(ratio, carried + moves.shaft, moves.tappet + moves.pushrod, carried + moves.seat + valve)
    hotter = growth(length, coefficient, inputs.hotter)
    return Growth(
        kind=kind,
        cold=magnitude_in(getattr(inputs, f"{kind}_clearance"), "mm"),
        shares=(
            ("case", ratio * moves.case),
            ("barrel", ratio * moves.barrel),
            ("head", (1 + ratio) * moves.shaft - moves.seat),
            ("cam, tappet", -ratio * moves.tappet),
            ("pushrod", -ratio * moves.pushrod),
            ("valve", -valve),
        ),
        change=change,
        hotter=-hotter,
    )


def _parts(inputs: SimpleNamespace, moves: _Moves, grown: tuple[Growth, ...]) -> tuple[Part, ...]:
    cold = magnitude_in(inputs.cold, "°C")

    def part(name: str, length: Any, material: str, hot: Any, longer: Any) -> Part:
        rise = magnitude_in(hot, "°C") - cold
        return Part(name, MATERIALS[material], length, COEFFICIENTS[material], rise, longer)

    valves = (
        part(
            f"{word(one.kind).capitalize()} valve",
            inputs.valve_length,
            getattr(inputs, f"{one.kind}_material"),
            getattr(inputs, f"{one.kind}_hot"),
            -one.shares[-1][1],
        )
        for one in grown
    )
    return (
        part("Case", inputs.case_length, inputs.case_material, inputs.case_hot, moves.case),
        part("Barrel", inputs.barrel_length, inputs.barrel_material, inputs.barrel_hot, moves.barrel),
        part("Head, to the shaft", inputs.shaft_height, inputs.head_material, inputs.head_hot, moves.shaft),
        part("Head, to the seat", inputs.seat_height, inputs.head_material, inputs.head_hot, moves.seat),
        part("Cam and tappet", inputs.tappet_length, inputs.tappet_material, inputs.tappet_hot, moves.tappet),
        part("Pushrod", inputs.pushrod_length, inputs.pushrod_material, inputs.pushrod_hot, moves.pushrod),
        *valves,
    )
