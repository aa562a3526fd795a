"""The run-in plan in tables, a stair of ceilings, cautions, and days for the calendar."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from calculators._drawing import Drawing
from calculators._report import COMMON_PRACTICE, Caution, Check, Column, Figure, Row, Source, Table, Value
from calculators._run_in.first_run import BURST_SECONDS, BURSTS, Run, spells
from calculators._run_in.schedule import Plan, day_words
from calculators._units import magnitude_in, quantity, uncertainty_in
from calculators._words import word
from calculators.formulas.decision_rule import Verdict, judged

DECISION = Source("ISO 14253-1, decision rules for conformity", "memory")
STRAIGHT = Source("linear interpolation; that oil pressure follows speed so", "common practice")

_VERDICTS: dict[Verdict, str] = {
    "in": "enough",
    "out": "too low",
    "too close to call": "too close to call with this gauge",
}


def day_values(plan: Plan) -> tuple[Value, ...]:
    """Return the days that the reader plans by, as odometer and date."""
    given = (
        ("odometer at the start", plan.odometer),
        ("first day on the road", day_words(plan.drive)),
        (f"{word(plan.unit)} in a week", plan.weekly),
    )
    return tuple(
        Value(
            key=key,
            label=label,
            quantity=f"{plan.reading(due.distance)} {word(plan.unit)}, about {day_words(due.day)}",
            formula="odometer = at the start + distance; day = first day on the road + 7 · distance ÷ that in a week",
            source=COMMON_PRACTICE,
            lead=lead,
            given=(*given, ("distance", due.distance)),
        )
        for key, label, lead, due in (
            ("oil_change", "First oil change", True, plan.due("oil")),
            ("second_check", "Second re-check", False, plan.due("second")),
            ("run_in", "Running-in ends", True, plan.due("free")),
        )
    )


def dash_table(plan: Plan) -> Table:
    """Return the card for the dash: a row for each reading of the odometer at which something changes or falls due."""
    distances = sorted({one.begin for one in plan.ceilings} | {due.distance for due in plan.dues})
    rows = []
    for distance in distances:
        dues = [due for due in plan.dues if due.distance == distance]
        day = min((due.day for due in dues if distance), default=plan.day(distance) if distance else plan.start)
        labels = [due.label for due in dues]
        if not distance:
            labels = ["First start", *(f"{due.label} on {day_words(due.day)}" for due in dues)]
        when = ": ".join(filter(None, (day_words(day), "; ".join(labels))))
        rows.append(Row(cells=(plan.reading(distance), plan.ceiling_at(distance).speed, when)))
    return Table(
        key="dash",
        title="Card for the dash: oil lamp on, stop at once",
        columns=(
            Column(key="odometer", label=f"From, {word(plan.unit)}"),
            Column(key="ceiling", label="Highest r/min", places=0, strong=True),
            Column(key="due", label="When", wide=True),
        ),
        rows=tuple(rows),
        formula="odometer = at the first start + distance; day = first day on the road + 7 · distance ÷ distance in a "
        "week; an interval in months that ends sooner wins",
        source=COMMON_PRACTICE,
        given=(("odometer", plan.odometer), (f"{word(plan.unit)} in a week", plan.weekly)),
        on_paper=True,
    )


def checks(plan: Plan) -> tuple[Check, ...]:
    """Return what falls due on the road, as the next checks of the job sheet."""
    return tuple(
        Check(
            key=due.key,
            what=f"{due.label}: {due.deed}",
            due=day_words(due.day),
            distance=f"{plan.reading(due.distance)} {word(plan.unit)}",
        )
        for due in plan.dues
        if due.distance
    )


def ceiling_table(plan: Plan, stroke: Any) -> Table:
    """Return each ceiling with its share of the highest speed and the piston's mean speed at it."""
    per_speed = magnitude_in(stroke, "mm") / 30000  # m/s for each r/min: 2 · stroke ÷ 1000 ÷ 60
    return Table(
        key="ceilings",
        title="Engine and piston speed by distance",
        columns=(
            Column(key="until", label=f"Until, {word(plan.unit)}", strong=True),
            Column(key="share", label="Share", unit="%", places=0),
            Column(key="speed", label="r/min", unit="r/min", places=0, strong=True),
            Column(key="piston", label="Piston, mean", unit="m/s"),
        ),
        rows=tuple(
            Row(
                cells=(
                    "on from there" if one.until is None else plan.reading(one.until),
                    quantity(100 * one.share, "%"),
                    quantity(one.speed, "r/min"),
                    quantity(per_speed * one.speed, "m/s"),
                )
            )
            for one in plan.ceilings
        ),
        formula="ceiling = share · highest speed, down to the next mark; mean piston speed = 2 · stroke · speed",
        source=COMMON_PRACTICE,
        given=(("highest speed", quantity(plan.ceilings[-1].speed, "r/min")), ("stroke", stroke)),
        folded=True,
    )


def gear_table(plan: Plan, gears: Sequence[Any]) -> Table:
    """Return the road speed of each ceiling in each gear, down to the next whole one."""
    shown = "km/h" if plan.unit == "km" else "mph"
    each = [magnitude_in(gear, shown) / 1000 for gear in gears]
    return Table(
        key="gears",
        title=f"For the dash without a revolution counter: highest {shown} in each gear",
        columns=(
            Column(key="until", label=f"Until, {word(plan.unit)}", strong=True),
            *(Column(key=f"gear_{number}", label=f"Gear {number}", places=0) for number in range(1, len(each) + 1)),
        ),
        rows=tuple(
            Row(
                cells=(
                    "run in" if one.until is None else plan.reading(one.until),
                    *(math.floor(one.speed * gear + 1e-9) for gear in each),
                )
            )
            for one in plan.ceilings
        ),
        formula="road speed = ceiling ÷ 1000 · road speed at 1000 r/min, down to the next whole one",
        source=Source("proportion: the gearing does not slip", "identity"),
        given=tuple((f"gear {number}", gear) for number, gear in enumerate(gears, 1)),
        folded=True,
        on_paper=True,
    )


def watch_table(run: Run, pressure: Any, given: tuple[tuple[str, Any], ...]) -> Table:
    """Return the first run minute by minute, with the limits."""
    limits = (pressure, run.temperature) if run.temperature else (pressure,)
    rows = [
        Row(
            cells=(
                "plugs out",
                f"{BURSTS} bursts, {BURST_SECONDS} s each, a minute's rest",
                *(None for _ in limits),
                "Gauge climbs on the starter, rockers wet. Else do not start.",
            )
        ),
        *(
            Row(
                cells=(
                    spell.minutes,
                    spell.deed if spell.on_road else f"{spell.deed}: {run.speed}",
                    *limits,
                    spell.look,
                )
            )
            for spell in spells(run)
        ),
    ]
    return Table(
        key="watch",
        title="The first run, by the minute",
        columns=(
            Column(key="minutes", label="Minutes", strong=True),
            Column(key="deed", label="Do", wide=True),
            Column(key="pressure", label="Oil at least", unit="bar"),
            *((Column(key="temperature", label="Oil at most"),) if run.temperature else ()),
            Column(key="look", label="Look at", wide=True),
        ),
        rows=tuple(rows),
        formula="least pressure = on the straight line between the hot figures at idle and at speed, at the lower end "
        "of the fast idle; cold oil stands above it",
        source=STRAIGHT,
        given=given,
        folded=True,
    )


def pressure_table(readings: Sequence[tuple[str, Any, Any]]) -> tuple[Table, bool]:
    """Return what the gauge showed, judged against the least, and whether any of it is too low."""
    rows, low = [], False
    for where, read, least in readings:
        verdict = judged(magnitude_in(read, "bar"), uncertainty_in(read, "bar") or 0.0, low=magnitude_in(least, "bar"))
        low = low or verdict == "out"
        rows.append(Row(cells=(where, read, least, _VERDICTS[verdict]), chosen=verdict != "in"))
    table = Table(
        key="pressure",
        title="Oil pressure, hot",
        columns=(
            Column(key="where", label="At"),
            Column(key="read", label="Read", unit="bar", places=2, strong=True),
            Column(key="least", label="Least", unit="bar", places=2),
            Column(key="verdict", label="Verdict", wide=True),
        ),
        rows=tuple(rows),
        formula="enough where reading − U reaches the least; too low where reading + U stays below it",
        source=DECISION,
    )
    return table, low


_LEFT, _RIGHT, _FOOT, _TALLEST = 12.0, 328.0, 190.0, 140.0


def stair(plan: Plan) -> Figure:
    """Draw the ceilings as a stair, each tread as wide as the next whatever its distance."""
    return _stair(tuple((one.begin, one.speed) for one in plan.ceilings), word(plan.unit))


@lru_cache(maxsize=32)
def _stair(treads: tuple[tuple[int, float], ...], unit: str) -> Figure:
    drawing = Drawing(340, 238)
    width = (_RIGHT - _LEFT) / len(treads)
    highest = treads[-1][1]
    for number, (begin, speed) in enumerate(treads):
        x, height = _LEFT + number * width, _TALLEST * speed / highest
        drawing.rectangle(x, _FOOT - height, width, height, "part" if number < len(treads) - 1 else "spacer")
        drawing.text(x + width / 2, _FOOT - height - 11, f"{speed:.0f}", "number")
        drawing.text(x if number else x + 4, _FOOT + 14, f"{begin}")
    drawing.text(_RIGHT, _FOOT + 14, "on", anchor="end")
    drawing.text(170, _FOOT + 36, f"r/min by {unit} since the first start")
    said = "; ".join(f"from {begin} {unit} {speed:.0f} r/min" for begin, speed in treads)
    return Figure(
        key="stair",
        title="Highest engine speed by distance (treads not to scale)",
        svg=drawing.svg(f"Highest engine speed by distance, a stair: {said}."),
    )


_ON_THE_LOAD = {
    "rollers": Caution(
        "danger",
        "A vehicle that climbs off the rollers goes over people and kills; a tyre that lets go flies. Trained "
        "operator, strapped to the machine's rules, nobody in front, behind or beside the wheels.",
    ),
    "road": Caution(
        "warning",
        "Brakes that were touched may fail at the first bend, and that kills. Prove them at walking pace first. "
        "Local codes say what a vehicle must have before a trial run.",
    ),
}


def cautions(run: Run, weak: bool) -> tuple[Caution, ...]:
    """Return what can hurt somebody, or the engine, on the way."""
    low = (
        (
            Caution(
                "warning",
                "Oil pressure is below its least. Bearings run dry and seize, and under way that can kill. Do not "
                "run it on: find out why before the next start.",
            ),
        )
        if weak
        else ()
    )
    return (
        Caution(
            "danger",
            "Carbon monoxide has no smell and kills indoors. Run it in the open, or with the exhaust led outside and "
            "the doors wide open.",
        ),
        _ON_THE_LOAD[run.load],
        *low,
        Caution(
            "warning",
            "Spun with its plugs out, it blows fuel mist from the holes: a spark lights it, and it burns face and "
            "hands. Fuel off, coil lead off, plug leads capped, extinguisher in reach.",
        ),
        Caution(
            "warning",
            "Fan, belt and high voltage: guards on, hair and sleeves tied, no hand on leads or near the fan while it "
            "runs.",
        ),
        Caution(
            "caution", "Oil, heads and exhaust burn for an hour after a run. Drain oil warm, not hot, with gloves."
        ),
        Caution(
            "notice",
            "The makers of engine, rings, camshaft and oil have plans of their own. Those win over this one.",
        ),
    )


def notes(run: Run) -> tuple[str, ...]:
    """Return what the plan rests on."""
    load = (
        "A new cam or new tappets are run at their fast idle first and take no load until then; never a slow idle."
        if run.new_cam
        else "Load presses the rings to the barrel; release draws oil up to wash and cool them."
    )
    return (
        "Switch off at once for: oil lamp or gauge below its least, knock, a hiss or smell of fuel, a stream of oil, "
        "a cylinder that does not fire, temperature that keeps rising.",
        load,
        "Never labour it: a low gear and light throttle rather than a high gear and the pedal down. Free revving, no "
        "steady motorway speed, no trailer, no long idling.",
        "Days assume even driving. Where the odometer is ahead of the calendar, the odometer counts.",
    )
