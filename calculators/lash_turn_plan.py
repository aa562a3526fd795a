"""Which valves to set now, to which gap, and how far to turn the crank to the next ones.

Each cylinder is set at its own firing top dead centre, where both its valves rest on the base
circle of their cams. For four-stroke engines with solid tappets and one pair of clearances.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from types import SimpleNamespace
from typing import Any

from calculators import (
    COMMON_PRACTICE,
    CONVERSION,
    GEOMETRY,
    Caution,
    Choice,
    Column,
    Field,
    FieldError,
    Form,
    Groups,
    InputErrors,
    Measure,
    Number,
    Report,
    Row,
    Section,
    Series,
    Source,
    Table,
    Value,
    magnitude_in,
    printed,
    quantity,
    symbol_of,
)
from calculators._lash_drawing import degrees, dials, engine_figure, mark_words, places, rotor_words
from calculators.formulas.feeler_blades import MOST_BLADES, Stack, nearest_stack
from calculators.formulas.firing import Stop, begun_at, even_intervals, misnamed, on_overlap, stops

TITLE = "Lash turn plan"
CYCLE = 720.0
"""Crank angle of one four-stroke cycle, in degrees."""
WITHIN = 0.01
"""A stack farther than this from its clearance, in mm, is not that clearance (common practice, no source)."""
ROUNDING = 0.1
"""How far typed intervals may miss the cycle, in degrees, for having been rounded."""

FOUR_STROKE = Source("four-stroke cycle: two turns of the crank to one of the camshaft", "identity")

_CYLINDER = Number(low=1, high=12, why="more cylinders than twelve are not planned here")
_SENSES = {"clockwise": "Clockwise", "anticlockwise": "Anticlockwise"}
_CLEARANCE = Measure(own="mm", low=0.02, high=1, why="below, the valve gear is not set by blade; above, it is worn out")

FORM = Form(
    (
        Section(
            title="The engine",
            fields=(
                Field(
                    key="cylinders",
                    label="Number of cylinders",
                    kind=_CYLINDER,
                    card="layout.cylinders",
                    example="4",
                ),
                Field(
                    key="banks",
                    label="Cylinders by bank",
                    help="Each bank counted from the pulley end: 1 2 / 3 4. An inline engine is one bank.",
                    kind=Groups(of=_CYLINDER, most=12),
                    card="layout.banks",
                    example="1 2 / 3 4",
                ),
                Field(
                    key="firing_order",
                    label="Firing order",
                    kind=Series(of=_CYLINDER, fewest=1, most=12, run_on=True),
                    card="layout.firing_order",
                    example="1 4 3 2",
                ),
                Field(
                    key="crank_rotation",
                    label="Crank rotation",
                    help="As the engine runs, seen from the pulley end.",
                    kind=Choice(options=_SENSES),
                    card="layout.crank_rotation",
                    example="clockwise",
                ),
                Field(
                    key="rotor_rotation",
                    label="Rotor rotation",
                    help="As the engine runs, seen from above the distributor cap.",
                    kind=Choice(options={**_SENSES, "none": "No distributor"}),
                    card="layout.rotor_rotation",
                    default="none",
                ),
            ),
        ),
        Section(
            title="The gaps",
            fields=(
                Field(
                    key="inlet_clearance",
                    label="Inlet clearance",
                    help="From the engine maker, at the temperature that the maker names.",
                    kind=_CLEARANCE,
                    card="clearances.inlet",
                    example="0.15 mm",
                ),
                Field(
                    key="exhaust_clearance",
                    label="Exhaust clearance",
                    kind=_CLEARANCE,
                    card="clearances.exhaust",
                    example="0.20 mm",
                ),
                Field(
                    key="blades",
                    label="Feeler blades",
                    help="Every blade of your set, once; a thickness that it holds twice, twice.",
                    kind=Series(
                        of=Measure(own="mm", low=0.01, high=2, why="thinner and thicker blades are not made"),
                        fewest=1,
                        most=20,
                    ),
                    default="0.05 0.10 0.15 0.20 0.25 0.30 0.40 0.50",
                ),
            ),
        ),
        Section(
            title="The turning",
            fields=(
                Field(
                    key="turning",
                    label="Turning by hand",
                    help="Forwards unless the maker allows the other way.",
                    kind=Choice(
                        options={"forwards": "Forwards, as it runs", "backwards": "Backwards, against its run"}
                    ),
                    default="forwards",
                ),
                Field(
                    key="firing_intervals",
                    label="Firing intervals",
                    help="Crank angle from each cylinder of the firing order to the next, the last back to the "
                    "first. Empty where it fires evenly.",
                    kind=Series(
                        of=Measure(own="°", low=1, high=720, why="one cycle is 720°"),
                        fewest=1,
                        most=12,
                    ),
                    card="layout.firing_intervals",
                    optional=True,
                ),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the stops in the order of turning, with the gap and the blades for each valve."""
    order, intervals = begun_at(1, inputs.firing_order, _intervals(inputs))
    backwards = inputs.turning == "backwards"
    plan = stops(order, intervals, backwards)
    hand = _turned_by_hand(inputs.crank_rotation, backwards)
    rotor = None if inputs.rotor_rotation == "none" else _turned_by_hand(inputs.rotor_rotation, backwards)
    total = plan[-1].turned
    gaps = {"inlet": inputs.inlet_clearance, "exhaust": inputs.exhaust_clearance}
    stacks = {valve: _stack(gap, inputs.blades) for valve, gap in gaps.items()}
    packed = {valve: " + ".join(_blade(inputs.blades[index]) for index in stacks[valve].chosen) for valve in gaps}
    settings = [
        _both(gap) if packed[valve] in (printed(gap, "mm"), _blade(gap)) else f"{_both(gap)}: {packed[valve]}"
        for valve, gap in gaps.items()
    ]
    return Report(
        lead=_lead(plan, inputs.turning, hand, gaps),
        values=(
            Value(
                key="order",
                label="Order of cylinders",
                quantity=" – ".join(str(stop.cylinder) for stop in plan),
                formula="the firing order from number 1 on" + (", reversed" if backwards else ""),
                source=FOUR_STROKE,
                lead=True,
            ),
            *(value for valve, gap in gaps.items() for value in _gap_values(valve, gap, stacks[valve], packed[valve])),
            Value(
                key="total_turning",
                label="Turning in all, to the last stop",
                quantity=quantity(total, "°"),
                units=("°",),
                places=places(total),
                formula="sum of the turns between the stops; back to number 1 it is 720°, two whole turns",
                source=FOUR_STROKE,
                lead=True,
            ),
        ),
        tables=(_stops(plan, hand, rotor, settings, intervals[0 if backwards else -1]),),
        figures=(*dials(plan, inputs.crank_rotation, hand, rotor), engine_figure(inputs.banks, plan)),
        cautions=_cautions(hand, stacks, gaps),
        notes=_notes(plan, rotor),
    )


def _intervals(inputs: SimpleNamespace) -> tuple[float, ...]:
    """Return the firing intervals in degrees, or raise all that is wrong between the fields."""
    count = inputs.cylinders
    numbered = tuple(cylinder for bank in inputs.banks for cylinder in bank)
    errors = [
        FieldError(field, f"{label} {fault}")
        for field, label, named in (
            ("banks", "Cylinders by bank", numbered),
            ("firing_order", "Firing order", inputs.firing_order),
        )
        if (fault := misnamed(named, count))
    ]
    intervals = even_intervals(count, CYCLE)
    if inputs.firing_intervals:
        intervals = tuple(magnitude_in(angle, "°") for angle in inputs.firing_intervals)
        whole = sum(intervals)
        fault = None
        if len(intervals) != count:
            entries = "entry" if count == 1 else "entries"
            fault = (
                f"must have {count} {entries}, one a cylinder, not {len(intervals)}, or be empty where it fires evenly"
            )
        elif abs(whole - CYCLE) > ROUNDING:
            fault = f"must add up to 720°, not {degrees(whole)}"
        if fault:
            errors.append(FieldError("firing_intervals", f"Firing intervals {fault}"))
        intervals = tuple(angle * CYCLE / whole for angle in intervals)
    if errors:
        raise InputErrors(*errors)
    return intervals


def _turned_by_hand(running: str, backwards: bool) -> str:
    clockwise = (running == "clockwise") != backwards
    return "clockwise" if clockwise else "anticlockwise"


_nearest_stack = lru_cache(maxsize=64)(nearest_stack)


def _stack(gap: Any, blades: Sequence[Any]) -> Stack:
    return _nearest_stack(magnitude_in(gap, "mm"), tuple(magnitude_in(blade, "mm") for blade in blades), WITHIN)


def _gap_values(valve: str, gap: Any, stack: Stack, packed: str) -> tuple[Value, ...]:
    made = quantity(stack.thickness, "mm")
    alone = len(stack.chosen) == 1
    in_thou = alone and packed.endswith(" thou")
    return (
        Value(
            key=f"{valve}_blades",
            label=f"{valve.capitalize()} blades",
            quantity=made,
            units=("mm",) if in_thou else ("mm", "thou"),
            words=packed if alone and packed.endswith(" mm") else f"{packed} = {printed(made, 'mm')}",
            formula=f"of all stacks of up to {MOST_BLADES} blades the nearest within {WITHIN} mm, else the nearest "
            "wider one, else the nearest; of equals the fewest blades, then the wider gap",
            source=COMMON_PRACTICE,
            lead=True,
        ),
        Value(
            key=f"{valve}_clearance",
            label=f"{valve.capitalize()} clearance",
            quantity=gap,
            units=("thou", "mm") if _in_inches(gap) else ("mm", "thou"),
            formula="the engine maker's figure; 1 thou = 0.0254 mm",
            source=CONVERSION,
        ),
        Value(
            key=f"{valve}_error",
            label=f"{valve.capitalize()} blades wider than the clearance, by",
            quantity=quantity(stack.error, "mm"),
            units=("mm",),
            places=3,
            formula="sum of the blades − clearance",
            source=GEOMETRY,
        ),
    )


def _lead(plan: Sequence[Stop], turning: str, hand: str, gaps: Mapping[str, Any]) -> str:
    settings = f"inlet {_both(gaps['inlet'])}, exhaust {_both(gaps['exhaust'])}"
    if len(plan) == 1:
        return f"Set the valves of number 1 at its firing top dead centre: {settings}."
    turns = [stop.turn for stop in plan[1:]]
    even = max(turns) - min(turns) < ROUNDING
    steps = f"{degrees(turns[0])} at a time" if even else "by the turn of each stop"
    if len(turns) == 1:
        steps = degrees(turns[0])
    return (
        f"Start with number 1 at its firing top dead centre. Turn the crank {turning} "
        f"({hand}, seen from the pulley end) {steps}: set the valves of "
        f"{', '.join(str(stop.cylinder) for stop in plan)}, {settings}."
    )


def _stops(plan: Sequence[Stop], hand: str, rotor: str | None, settings: Sequence[str], last_turn: float) -> Table:
    columns = [
        Column(key="stop", label="Stop"),
        Column(key="turn", label=f"Turn {hand}", unit="°", places=places(last_turn, *(stop.turn for stop in plan))),
        Column(key="cylinder", label="Set the valves of cylinder", strong=True),
        Column(key="inlet", label="Inlet gap"),
        Column(key="exhaust", label="Exhaust gap"),
        Column(key="mark", label="Mark up", wide=True),
        Column(key="overlap", label="On overlap"),
        *([Column(key="rotor", label="Rotor points", wide=True)] if rotor else []),
        Column(key="crank", label="Crank angle", unit="°", places=places(*(stop.crank for stop in plan))),
    ]
    rows = [
        Row(
            cells=(
                number,
                quantity(stop.turn, "°") if number > 1 else "start",
                stop.cylinder,
                *settings,
                mark_words(stop),
                on_overlap(stop.cylinder, plan, CYCLE),
                *([rotor_words(stop.turned, rotor)] if rotor else []),
                quantity(stop.crank, "°"),
            )
        )
        for number, stop in enumerate(plan, 1)
    ]
    back = (
        "back at number 1, to check",
        quantity(last_turn, "°"),
        None,
        None,
        None,
        mark_words(plan[0]),
        on_overlap(1, plan, CYCLE),
        *(["at number 1's notch"] if rotor else []),
        quantity(0, "°"),
    )
    return Table(
        key="stops",
        title="Stops",
        columns=tuple(columns),
        rows=(*rows, Row(cells=back)),
        formula="each turn is the firing interval between the two cylinders; mark = crank angle less whole turns, "
        "counted from number 1's mark as the marks pass while the engine runs; rotor = crank turned ÷ 2",
        source=FOUR_STROKE,
    )


def _cautions(hand: str, stacks: Mapping[str, Stack], gaps: Mapping[str, Any]) -> tuple[Caution, ...]:
    cautions = [
        Caution(
            "warning",
            "An engine that fires while you turn it crushes hands. Ignition off, battery lead off, sparking plugs out.",
        ),
        Caution(
            "caution",
            "Too close a gap holds the valve off its seat when hot, and an exhaust valve burns. "
            "Between two gaps take the wider one.",
        ),
    ]
    if hand == "anticlockwise":
        cautions.append(
            Caution("caution", "Turned anticlockwise by its bolt, a pulley can come loose. If the bolt moves, stop.")
        )
    for valve, stack in stacks.items():
        if not stack.near:
            which, side = ("nearest wider one", "wide") if stack.error > 0 else ("nearest, as none is wider,", "close")
            cautions.append(
                Caution(
                    "caution",
                    f"No stack of these blades comes within {WITHIN} mm of the {valve} clearance, {_both(gaps[valve])}."
                    f" The {which} makes {_both(quantity(stack.thickness, 'mm'))}, {abs(stack.error):.3f} mm too "
                    f"{side}. Take a set that has the blade.",
                )
            )
    cautions.append(
        Caution(
            "notice",
            "Set the gaps with the engine cold, unless the maker says hot. The maker's figures, and the way the maker "
            "allows the crank to be turned, win over this plan.",
        )
    )
    return tuple(cautions)


def _notes(plan: Sequence[Stop], rotor: str | None) -> tuple[str, ...]:
    shared = any(on_overlap(stop.cylinder, plan, CYCLE) for stop in plan)
    proof = "that the rotor points to that cylinder's lead, and " if rotor else ""
    notes = (
        ("Two cylinders share each mark; one fires, the other is on overlap. " if shared else "")
        + "Each mark comes up twice in a cycle, at firing and one whole turn away at overlap. Before you set a valve, "
        f"see {proof}that both rockers of the cylinder rock free. On overlap both are tight, and a nudge of the "
        "crank moves both: turn on by one whole turn.",
        "Use the mark for top dead centre, not the one for ignition timing. Marks are counted from number 1's as they "
        "pass the case mark while the engine runs; paint those that the pulley lacks.",
        "Which bank lies on which side the plan does not know; it counts from the pulley end only.",
    )
    return (*notes, "The rotor is drawn with number 1's notch at the top.") if rotor else notes


def _blade(blade: Any) -> str:
    """Return a blade as it is stamped: in its own unit, a millimetre to the hundredth at the least."""
    symbol = symbol_of(blade)
    number = magnitude_in(blade, symbol)
    hundredths = symbol == "mm" and abs(number - round(number, 2)) < 1e-9
    return f"{number:.2f} mm" if hundredths else f"{number:.4g} {symbol}"


def _in_inches(length: Any) -> bool:
    return symbol_of(length) in ("thou", "in")


def _both(length: Any) -> str:
    """Return a gap in both units, its own first and as it was typed: "4 thou (0.10 mm)"."""
    if _in_inches(length):
        return f"{magnitude_in(length, 'thou'):.4g} thou ({printed(length, 'mm')})"
    return f"{printed(length, 'mm')} ({printed(length, 'thou')})"
