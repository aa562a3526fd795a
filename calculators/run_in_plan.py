"""Run an engine in, from the first turn on the starter to handover, with ceilings, checks, dates and a calendar file.

Common practice for a rebuilt top end, fitted to one engine, one odometer and one week's driving. The
plan of the engine's, the rings' or the camshaft's maker wins over it.
"""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace

from calculators import (
    COMMON_PRACTICE,
    Choice,
    Date,
    Field,
    Form,
    Measure,
    Number,
    Report,
    Section,
    Series,
    Source,
    Value,
    magnitude_in,
    printed,
    quantity,
)
from calculators._run_in.first_run import LOADS, Run, run_in_walk
from calculators._run_in.limits import as_typed, check_speeds, fast_idle, pressures, readings
from calculators._run_in.report import (
    STRAIGHT,
    cautions,
    ceiling_table,
    checks,
    dash_table,
    day_values,
    gear_table,
    notes,
    pressure_table,
    stair,
    watch_table,
)
from calculators._run_in.schedule import NUTS, UNITS, USUAL, calendar, day_words, distances_of, planned
from calculators._units import number_in
from calculators.formulas.port_flow import piston_speed
from calculators.formulas.running_in import least_pressure

TITLE = "Run-in plan"

_SPEED = Measure(own="r/min", low=500, high=20000, why="engines of this kind")
_IDLE = Measure(own="r/min", low=300, high=3000, why="engines of this kind")
_PRESSURE = Measure(own="bar", low=0.1, high=15, why="oil pumps of such engines")
_CLEARANCE = Measure(own="mm", low=0.01, high=1, why="cams of such engines")
_FAR = "longer is no running-in"


def _distance(key: str, label: str, told: str, low: int, high: int, why: str = _FAR) -> Field:
    """Return a field for a distance in the odometer's unit, which common practice fills where it is left empty."""
    usual = [getattr(USUAL[unit], key) for unit in UNITS]
    return Field(
        key=key,
        label=label,
        help=f"{told} Left empty: {usual[0]} km or {usual[1]} miles.",
        kind=Number(low=low, high=high, why=why),
        optional=True,
        reading=f"run_in_{key}",
    )


FORM = Form(
    (
        Section(
            title="The day and the odometer",
            fields=(
                Field(
                    key="start",
                    label="Date of the first start",
                    kind=Date(low=date(1950, 1, 1), high=date(2150, 12, 31), why="engines that run today"),
                    example="2026-11-25",
                    reading="first_start",
                ),
                Field(
                    key="odometer_unit",
                    label="Unit of the odometer",
                    help="All distances here are in it.",
                    kind=Choice(options=UNITS),
                    default="km",
                    reading="odometer_unit",
                ),
                Field(
                    key="odometer",
                    label="Odometer reading",
                    help="At the first start, whole figures.",
                    kind=Number(low=0, high=2_000_000, why="no odometer counts further"),
                    example="48250",
                    reading="odometer",
                ),
                Field(
                    key="weekly",
                    label="Distance driven in a week",
                    help="What the vehicle will really do; it gives the dates.",
                    kind=Number(low=5, high=5000, why="less dates nothing, more is not driven"),
                    default="150",
                    reading="weekly_distance",
                ),
            ),
        ),
        Section(
            title="The engine",
            fields=(
                Field(
                    key="highest_speed",
                    label="Highest speed",
                    kind=_SPEED,
                    card="running.highest_speed",
                    example="4600 r/min",
                    reading="highest_speed",
                ),
                Field(
                    key="stroke",
                    label="Stroke",
                    kind=Measure(own="mm", low=20, high=200, why="engines of this kind"),
                    card="dimensions.stroke",
                    example="74 mm",
                    reading="stroke",
                ),
                Field(
                    key="idle_speed",
                    label="Idle speed",
                    kind=_IDLE,
                    card="running.idle_speed",
                    example="850 r/min",
                    reading="idle_speed",
                ),
                Field(
                    key="pressure_idle",
                    label="Least oil pressure at idle",
                    help="Hot; the maker's figure.",
                    kind=_PRESSURE,
                    card="running.oil_pressure_idle",
                    example="0.8 bar",
                    reading="oil_pressure_idle",
                ),
                Field(
                    key="pressure_hot",
                    label="Least oil pressure at speed",
                    help="Hot; the maker's figure.",
                    kind=_PRESSURE,
                    card="running.oil_pressure_hot",
                    example="2.8 bar",
                    reading="oil_pressure_hot",
                ),
                Field(
                    key="pressure_speed",
                    label="Speed for that pressure",
                    kind=Measure(own="r/min", low=500, high=10000, why="pressures are given for such speeds"),
                    card="running.oil_pressure_speed",
                    example="2500 r/min",
                    reading="oil_pressure_speed",
                ),
                Field(
                    key="temperature",
                    label="Highest oil temperature",
                    help="From the maker, where you can read it.",
                    kind=Measure(own="°C", low=60, high=180, why="oil in such engines", exact=True),
                    optional=True,
                    example="120 °C",
                    reading="oil_temperature_highest",
                ),
                Field(
                    key="inlet_clearance",
                    label="Inlet clearance",
                    help="For the checks, at the temperature that the maker names.",
                    kind=_CLEARANCE,
                    card="clearances.inlet",
                    optional=True,
                    reading="inlet_clearance",
                ),
                Field(
                    key="exhaust_clearance",
                    label="Exhaust clearance",
                    kind=_CLEARANCE,
                    card="clearances.exhaust",
                    optional=True,
                    reading="exhaust_clearance",
                ),
                Field(
                    key="nuts",
                    label="Head nuts after the first runs",
                    kind=Choice(options=NUTS),
                    default="maker",
                    reading="head_nuts_again",
                ),
            ),
        ),
        Section(
            title="The first run",
            fields=(
                Field(
                    key="cam",
                    label="Camshaft and tappets",
                    kind=Choice(options={"old": "Run together before", "new": "New, or mixed"}),
                    default="old",
                    reading="cam_condition",
                ),
                Field(
                    key="load",
                    label="First load",
                    kind=Choice(options=LOADS),
                    default="road",
                    reading="first_load",
                ),
                Field(
                    key="minutes",
                    label="Minutes of the first run",
                    help="A new cam stands at its fast idle for all of them. Where the road gives the load, all "
                    "but five are driven.",
                    kind=Number(low=5, high=40, why="shorter warms nothing, longer overheats a standing engine"),
                    default="20",
                    reading="first_run_minutes",
                ),
                Field(
                    key="fast_idle",
                    label="Fast idle",
                    help="Lowest and highest, as the camshaft's maker says. Left empty: 1500 to 2000 r/min, or 2000 to "
                    "2500 with a new cam.",
                    kind=Series(of=_SPEED, fewest=2, most=2, like="2000 2500"),
                    optional=True,
                    reading="fast_idle",
                ),
            ),
        ),
        Section(
            title="What the gauge showed",
            help="Hot, at idle and at the speed above. A ± typed with a reading wins over the gauge's.",
            folded=True,
            fields=(
                Field(
                    key="read_idle",
                    instrument="oil_gauge",
                    label="Oil pressure read at idle",
                    kind=_PRESSURE,
                    optional=True,
                    reading="oil_pressure_read_idle",
                ),
                Field(
                    key="read_hot",
                    instrument="oil_gauge",
                    label="Oil pressure read at speed",
                    kind=_PRESSURE,
                    optional=True,
                    reading="oil_pressure_read_hot",
                ),
                Field(
                    key="gauge_error",
                    label="Gauge error",
                    help="Plus or minus.",
                    kind=Measure(
                        own="bar", low=0, high=2, why="a worse gauge tells nothing", exact=True, plus_minus=True
                    ),
                    default="0.2 bar",
                ),
            ),
        ),
        Section(
            title="Speed ceilings",
            folded=True,
            fields=(
                Field(
                    key="share",
                    label="First ceiling",
                    help="Of the highest speed.",
                    kind=Measure(own="%", low=30, high=100, why="a lower one labours the engine", exact=True),
                    default="67 %",
                    reading="run_in_share",
                ),
                _distance("first", "Distance to the first rise", "The first ceiling holds so far.", 10, 3000),
                _distance("end", "Distance to the last rise", "From there the highest speed is allowed.", 20, 5000),
                Field(
                    key="rises",
                    label="Number of rises",
                    help="The last reaches the highest speed.",
                    kind=Number(low=2, high=6, why="fewer are a jump, more cannot be remembered"),
                    default="5",
                    reading="run_in_rises",
                ),
                Field(
                    key="mark",
                    label="Mark of the revolution counter",
                    help="Ceilings go down to the next one.",
                    kind=Measure(own="r/min", low=10, high=500, why="revolution counters are marked so", exact=True),
                    default="50 r/min",
                    reading="revolution_counter_mark",
                ),
                Field(
                    key="gears",
                    label="Road speed in each gear",
                    help="At 1000 r/min, lowest gear first: gives ceilings for a dash without a revolution counter.",
                    kind=Series(
                        of=Measure(own="km/h", low=2, high=100, why="road vehicles are geared so"),
                        fewest=1,
                        most=6,
                        like="6 12 18 27",
                    ),
                    optional=True,
                    example="6.4 11.8 18.6 27.5",
                    reading="road_speeds",
                ),
            ),
        ),
        Section(
            title="Checks and oil",
            folded=True,
            fields=(
                _distance("early", "Distance to the first re-check", "Lash, points, joints.", 5, 1000),
                _distance("second", "Distance to the second re-check", "All of it once more.", 50, 3000),
                _distance("oil", "Distance to the first oil change", "With filter or strainer.", 20, 3000),
                _distance("oil_interval", "Oil interval", "After the first change; the maker's.", 500, 30000),
                _distance("lash_interval", "Lash interval", "After the second re-check; the maker's.", 500, 30000),
                Field(
                    key="months",
                    label="Longest interval in months",
                    help="Whichever comes first.",
                    kind=Number(low=1, high=36, why="oil ages and seals settle standing still"),
                    default="12",
                    reading="service_months",
                ),
            ),
        ),
    ),
    sets_aside=("fast_idle", "gears"),
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the plan: minute by minute, step by step, by odometer and by date."""
    highest = magnitude_in(inputs.highest_speed, "r/min")
    idle = fast_idle(inputs)
    distances = distances_of(inputs)
    plan = planned(
        inputs, highest, magnitude_in(inputs.share, "%") / 100, magnitude_in(inputs.mark, "r/min"), distances
    )
    first = plan.ceilings[0]
    check_speeds(inputs, idle, first.speed)
    low, high = pressures(inputs)
    pressure = quantity(least_pressure(idle[0], low, high), "bar")
    pressure_given = (
        ("speed", quantity(idle[0], "r/min")),
        ("at idle", inputs.pressure_idle),
        ("idle speed", inputs.idle_speed),
        ("at speed", inputs.pressure_hot),
        ("that speed", inputs.pressure_speed),
    )
    run = Run(
        minutes=inputs.minutes,
        load=inputs.load,
        new_cam=inputs.cam == "new",
        idle=idle,
        pressure=printed(pressure, "bar"),
        temperature=as_typed(inputs.temperature),
    )
    read = readings(inputs)
    judged, weak = pressure_table(read) if read else (None, False)
    oil, until = plan.due("oil"), plan.reading(distances.first)
    piston = quantity(piston_speed(number_in(inputs.stroke, "mm"), first.speed), "m/s")
    return Report(
        lead="Do not run it on: oil pressure is too low at "
        f"{' and '.join(row.cells[0] for row in judged.rows if row.cells[3] == 'too low')}."
        if judged and weak
        else f"Stay below {first.speed:.0f} r/min until the odometer shows {until}; change the oil at "
        f"{plan.reading(oil.distance)}, about {day_words(oil.day)}.",
        values=(
            Value(
                key="ceiling",
                label=f"Highest speed until odometer {until}",
                quantity=quantity(first.speed, "r/min"),
                units=("r/min",),
                formula="first ceiling · highest speed, down to the next mark of the revolution counter",
                source=COMMON_PRACTICE,
                lead=True,
                given=(("first ceiling", inputs.share), ("highest speed", inputs.highest_speed), ("mark", inputs.mark)),
            ),
            Value(
                key="piston_speed",
                label="Mean piston speed there",
                quantity=piston,
                units=("m/s",),
                formula="2 · stroke · speed",
                source=Source("two strokes a turn, by definition", "identity"),
                given=(("stroke", inputs.stroke), ("speed", quantity(first.speed, "r/min"))),
            ),
            Value(
                key="least_pressure",
                label=f"Least oil pressure at {idle[0]:.0f} r/min",
                quantity=pressure,
                units=("bar", "psi"),
                formula="on the straight line between the hot figures at idle and at speed",
                source=STRAIGHT,
                lead=True,
                given=pressure_given,
            ),
            *day_values(plan),
        ),
        tables=(
            dash_table(plan),
            *((gear_table(plan, inputs.gears),) if inputs.gears else ()),
            watch_table(run, pressure, pressure_given),
            *((judged,) if judged else ()),
            ceiling_table(plan, inputs.stroke),
        ),
        figures=(stair(plan),),
        walks=(run_in_walk(plan, run),),
        checks=checks(plan),
        attachments=(calendar(plan, inputs.card.title if inputs.card else ""),),
        cautions=cautions(run, weak),
        notes=notes(run),
    )
