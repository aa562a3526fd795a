"""The plan for setting the lash: what to do in one sentence, values, tables, cautions and notes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calculators._lash.drawing import (
    cylinder_alone,
    degrees,
    mark_words,
    places,
    rotor_words,
    set_words,
)
from calculators._lash.job import WITHIN, Job, both, in_inches, looked_for
from calculators._report import (
    COMMON_PRACTICE,
    CONVERSION,
    GEOMETRY,
    Caution,
    Column,
    Row,
    Source,
    Table,
    Value,
)
from calculators._units import printed, quantity
from calculators._words import listed, word
from calculators.formulas.base_circle import CYCLE, KINDS, Kind
from calculators.formulas.feeler_blades import MOST_BLADES
from calculators.formulas.firing import companion
from calculators.formulas.lash_stops import Method, Stop

FOUR_STROKE = Source("four-stroke cycle: two turns of the crank to one of the camshaft", "identity")

_MOST_TOLD = 3
_EVEN = 0.1  # degrees: turns that differ by less are alike
_LONGEST_STRONG = 14  # letters that a phone shows in one line beside others


def lead(job: Job) -> str:
    """Return the one sentence or two that say what to do."""
    gaps = f"inlet {both(job.gaps['inlet'])}, exhaust {both(job.gaps['exhaust'])}"
    turns = [stop.turn for stop in job.stops[1:]]
    way = f"{word(job.turning)} ({word(job.hand)}, seen from the {word(job.end)} end)"
    start = f"Start with number {job.plan.begin} at its firing top dead centre"
    if job.by_cylinder and turns:
        steps = "by the turn of each stop"
        if max(turns) - min(turns) < _EVEN:
            steps = f"{degrees(turns[0])} at a time" if len(turns) > 1 else degrees(turns[0])
        order = ", ".join(str(stop.settings[0].valve.cylinder) for stop in job.stops)
        told = f"{start}. Turn the crank {way} {steps}: set the valves of {order}, {gaps}."
        if job.method == "companion":
            told += " Each stop is where both valves of its companion rock."
    elif cylinder_alone(job.stops[0]) and not turns:
        told = f"Set the valves of number 1 at its firing top dead centre: {gaps}."
    elif len(job.stops) <= _MOST_TOLD:
        first, *later = job.stops
        told = f"{start}, turn the crank {way} by {degrees(first.turn)}" if first.turn else start
        told += f" and set: {set_words(first)}."
        for number, stop in enumerate(later):
            onward = "Turn on" if number or first.turn else f"Turn the crank {way}"
            told += f" {onward} by {degrees(stop.turn)} and set: {set_words(stop)}."
        told += f" Gaps: {gaps}."
    else:
        told = f"{start}. Turn the crank {way} through {len(job.stops)} stops, as the table says, and set {gaps}."
    closed = [entry.valve.words for entry in job.record if entry.moved == "closed"]
    return f"{told} Closed since last time: {listed(closed)}." if closed else told


def plan_values(job: Job) -> tuple[Value, ...]:
    """Return the order, the blades, the turning and the least distance inside a base circle."""
    total = job.stops[-1].turned
    shallow = job.plan.shallowest
    order = (
        Value(
            key="order",
            label="Order of cylinders",
            quantity=" – ".join(str(stop.settings[0].valve.cylinder) for stop in job.stops),
            formula="the firing order from number 1 on" + (", reversed" if job.backwards else ""),
            source=FOUR_STROKE,
            lead=True,
            given=(("firing order", " ".join(map(str, job.fires))), ("turned", job.turning)),
        )
        if job.by_cylinder
        else Value(
            key="stop_count",
            label="Number of stops",
            quantity=len(job.stops),
            formula=_COUNTED[job.method],
            source=COMMON_PRACTICE if job.method == "opening" else FOUR_STROKE,
            lead=True,
            given=(("valves", sum(len(stop.settings) for stop in job.stops)), *job.cams.given),
        )
    )
    return (
        order,
        *(value for kind in KINDS for value in _gap_values(job, kind)),
        Value(
            key="total_turning",
            label="Turning in all, to the last stop",
            quantity=quantity(total, "°"),
            units=("°",),
            places=places(total),
            formula=f"sum of the turns from number {job.plan.begin}'s firing top dead centre to the last stop; back "
            f"to number {job.plan.begin} it is 720°, two whole turns",
            source=FOUR_STROKE,
            lead=True,
            given=tuple((f"stop {number}", quantity(stop.turn, "°")) for number, stop in enumerate(job.stops, 1)),
        ),
        Value(
            key="least_inside",
            label=f"Least distance inside a base circle, {shallow.valve.words}",
            quantity=quantity(shallow.least, "°"),
            units=("°",),
            places=places(shallow.least),
            formula=_PROOF,
            source=_proof_source(job),
            given=(*job.cams.given, ("error limit of the crank angle, ±", job.slack)),
        ),
    )


_COUNTED: Mapping[Method, str] = {
    "opening": "two for each cylinder: its exhaust valve opens, its inlet valve has closed; places within half a "
    "degree are one",
    "two": "number 1's firing top dead centre and one whole turn on; each valve where it lies deeper",
    "fewest": "no smaller set of crank angles meets every base circle, drawn in by the error limit of the crank angle; "
    "at dead centres where those are as few; each valve where it lies deepest",
}
_PROOF = (
    "back: crank angle − (firing top dead centre + valve closing + ramp); on: (firing top dead centre + valve opening "
    "− ramp) − crank angle; both modulo 720°; a place found by a valve's lift may be off by half its ramp"
)


def _proof_source(job: Job) -> Source:
    return GEOMETRY if not job.cams.assumed else Source("plane geometry, with a cam that is assumed", "common practice")


def _gap_values(job: Job, kind: Kind) -> tuple[Value, ...]:
    gap, stack, packed = job.gaps[kind], job.stacks[kind], job.packed[kind]
    made = quantity(stack.thickness, "mm")
    alone = len(stack.chosen) == 1
    in_thou = alone and packed.endswith(" thou")
    return (
        Value(
            key=f"{kind}_blades",
            label=f"{word(kind).capitalize()} blades",
            quantity=made,
            units=("mm",) if in_thou else ("mm", "thou"),
            words=packed if alone and packed.endswith(" mm") else f"{packed} = {printed(made, 'mm')}",
            formula=f"of all stacks of up to {MOST_BLADES} blades the nearest within {WITHIN} mm, else the nearest "
            "wider one, else the nearest; of equals the fewest blades, then the wider gap",
            source=COMMON_PRACTICE,
            lead=True,
            given=(("clearance", gap), ("blades", packed)),
        ),
        Value(
            key=f"{kind}_clearance",
            label=f"{word(kind).capitalize()} clearance",
            quantity=gap,
            units=("thou", "mm") if in_inches(gap) else ("mm", "thou"),
            formula="the engine maker's figure; 1 thou = 0.0254 mm",
            source=CONVERSION,
            given=(("clearance", gap),),
        ),
        Value(
            key=f"{kind}_error",
            label=f"{word(kind).capitalize()} blades wider than the clearance, by",
            quantity=quantity(stack.error, "mm"),
            units=("mm",),
            places=3,
            formula="sum of the blades − clearance",
            source=GEOMETRY,
            given=(("sum of the blades", made), ("clearance", gap)),
        ),
    )


def stops_table(job: Job) -> Table:
    """Return the stops in the order of the hand, and the way back to the first."""
    last_turn = CYCLE - job.stops[-1].turned
    columns = [
        Column(key="stop", label="Stop"),
        Column(
            key="turn",
            label=f"Turn {word(job.hand)}",
            unit="°",
            places=places(last_turn, *(stop.turn for stop in job.stops)),
        ),
        *_valve_columns(job),
        Column(key="mark", label="Mark up", wide=True),
        Column(key="overlap", label="On overlap") if job.method == "own" else _look_column(),
        *([Column(key="rotor", label="Rotor points", wide=True)] if job.rotor else []),
        Column(key="inside", label="Inside by at least", unit="°"),
        Column(key="crank", label="Crank angle", unit="°", places=places(*(stop.crank for stop in job.stops))),
    ]
    rows = [
        Row(
            cells=(
                number,
                quantity(stop.turn, "°") if stop.turn else "start",
                *_valve_cells(job, stop),
                mark_words(stop),
                companion(stop.settings[0].valve.cylinder, job.fires) if job.method == "own" else looked_for(job, stop),
                *([rotor_words(stop.crank, job.backwards, job.rotor)] if job.rotor else []),
                quantity(min(one.least for one in stop.settings), "°"),
                quantity(stop.crank, "°"),
            )
        )
        for number, stop in enumerate(job.stops, 1)
    ]
    back = Stop(job.fires[job.plan.begin], last_turn, CYCLE, ((job.plan.begin, "fires"),), ())
    number = job.plan.begin
    foot = (
        f"back at number {number}, to check",
        quantity(last_turn, "°"),
        *([None] * len(_valve_columns(job))),
        mark_words(back),
        companion(number, job.fires) if job.method == "own" else looked_for(job, back),
        *([rotor_words(back.crank, job.backwards, job.rotor)] if job.rotor else []),
        None,
        quantity(back.crank, "°"),
    )
    return Table(
        key="stops",
        title="Stops",
        columns=tuple(columns),
        rows=(*rows, Row(cells=foot)),
        formula="each turn is the crank angle from the stop before, in the sense of the hand; mark = crank angle less "
        "whole turns, counted from number 1's mark as the marks pass while the engine runs; rotor = crank turned ÷ 2",
        source=FOUR_STROKE,
        given=tuple((f"number {cylinder} fires at", quantity(angle, "°")) for cylinder, angle in job.fires.items()),
    )


def _look_column() -> Column:
    return Column(key="look", label="Look for", wide=True)


def _valve_columns(job: Job) -> tuple[Column, ...]:
    inlet, exhaust = Column(key="inlet", label="Inlet gap"), Column(key="exhaust", label="Exhaust gap")
    if job.by_cylinder:
        return (Column(key="cylinder", label="Set the valves of cylinder", strong=True), inlet, exhaust)
    longest = max(len(_numbers(stop, kind)) for stop in job.stops for kind in KINDS)
    strong = longest <= _LONGEST_STRONG
    return tuple(
        Column(key=f"set_{kind}", label=f"Set the {word(kind)} valves of", strong=strong, wide=not strong)
        for kind in KINDS
    )


def _valve_cells(job: Job, stop: Stop) -> tuple[Any, ...]:
    if job.by_cylinder:
        return (stop.settings[0].valve.cylinder, *map(job.told, KINDS))
    return tuple(_numbers(stop, kind) or None for kind in KINDS)


def _numbers(stop: Stop, kind: Kind) -> str:
    return " ".join(map(str, stop.cylinders(kind)))


def proof_table(job: Job) -> Table:
    """Return, for each valve set at each stop, how far it lies inside its base circle on both sides."""
    angles = [angle for stop in job.stops for one in stop.settings for angle in (stop.crank, one.behind, one.ahead)]
    decimals = places(*angles)
    return Table(
        key="proof",
        title="The proof: how far each valve lies inside its base circle",
        columns=(
            Column(key="stop", label="Stop"),
            Column(key="valve", label="Valve", strong=True),
            Column(key="crank", label="Crank angle", unit="°", places=decimals),
            Column(key="behind", label="Back to its closing ramp", unit="°", places=decimals),
            Column(key="ahead", label="On to its opening ramp", unit="°", places=decimals),
        ),
        rows=tuple(
            Row(
                cells=(
                    number,
                    one.valve.words,
                    quantity(stop.crank, "°"),
                    quantity(one.behind, "°"),
                    quantity(one.ahead, "°"),
                )
            )
            for number, stop in enumerate(job.stops, 1)
            for one in stop.settings
        ),
        formula=_PROOF,
        source=_proof_source(job),
        folded=True,
        given=job.cams.given,
    )


def cautions(job: Job) -> tuple[Caution, ...]:
    """Return what can hurt the hand, the valves and the pulley."""
    found = [
        Caution(
            "warning",
            "An engine that fires while you turn it crushes hands. Ignition off, battery lead off, sparking plugs out.",
        ),
        Caution(
            "notice",
            "Too close a gap holds the valve off its seat when hot, and an exhaust valve burns. "
            "Between two gaps take the wider one.",
        ),
    ]
    if job.end == "pulley" and job.hand == "anticlockwise":
        found.append(
            Caution("notice", "Turned anticlockwise by its bolt, a pulley can come loose. If the bolt moves, stop.")
        )
    if job.method != "own":
        found.append(
            Caution(
                "notice",
                "A miscounted stop sets a valve on its cam, and it will not shut. Before you set a valve, see that its "
                "rocker rocks free and stays free while you nudge the crank to and fro.",
            )
        )
    for kind, stack in job.stacks.items():
        if not stack.near:
            which, side = ("nearest wider one", "wide") if stack.error > 0 else ("nearest, as none is wider,", "close")
            found.append(
                Caution(
                    "notice",
                    f"No stack of these blades comes within {WITHIN} mm of the {word(kind)} clearance, "
                    f"{both(job.gaps[kind])}. The {which} makes {both(quantity(stack.thickness, 'mm'))}, "
                    f"{abs(stack.error):.3f} mm too {side}. Take a set that has the blade.",
                )
            )
    found.append(
        Caution(
            "notice",
            "Set the gaps with the engine cold, unless the maker says hot. The maker's figures, and the way the maker "
            "allows the crank to be turned, win over this plan.",
        )
    )
    return tuple(found)


def notes(job: Job) -> tuple[str, ...]:
    """Return what the plan rests on, and what it does not know."""
    said = []
    if job.by_cylinder or job.method == "two":
        shared = any(companion(cylinder, job.fires) for cylinder in job.fires)
        proof = "that the rotor points to that cylinder's lead, and " if job.rotor and job.by_cylinder else ""
        told = "Two cylinders share each mark; one fires, the other is on overlap. " if shared else ""
        told += "Each mark comes up twice in a cycle, at firing and one whole turn away at overlap. "
        if job.by_cylinder:
            told += f"Before you set a valve, see {proof}that both rockers of the cylinder rock free. "
        said.append(
            f"{told}On overlap both are tight, and a nudge of the crank moves both: turn on by one whole turn."
            if job.by_cylinder
            else f"{told}Be sure that number 1 is at firing, not at overlap, before you begin."
        )
    said.append(f"Base circles by {job.cams.words}.")
    if job.method == "opening":
        said.append(
            "Here the valves themselves tell the place, and need no mark: the crank angles and the turns are about "
            "right only."
        )
    else:
        said.append(
            "Use the mark for top dead centre, not the one for ignition timing. Marks are counted from number 1's as "
            "they pass the case mark while the engine runs; paint those that the pulley lacks."
        )
    said.append("Which bank lies on which side the plan does not know; it counts from the pulley end only.")
    if job.rotor:
        said.append("The rotor is drawn from above, with number 1's notch where you told it.")
    return tuple(said)
