"""Which valves to set now, to which gap, and how far to turn the crank to the next ones.

Every valve is set where its cam rests on the base circle, and the plan says how far inside. For
four-stroke engines with solid tappets and one pair of clearances.
"""

from __future__ import annotations

from types import SimpleNamespace

from calculators import Choice, Field, Form, Groups, Measure, Number, Report, Rows, Section, Series, magnitude_in
from calculators._fields import BLADES, EXHAUST_CLEARANCE, FIRING_INTERVALS, INLET_CLEARANCE
from calculators._lash.drawing import dials, engine_figure, proof_figure
from calculators._lash.engine import EVENTS
from calculators._lash.gap_record import LABEL, record_cautions, record_table
from calculators._lash.job import planned_job
from calculators._lash.report import cautions, lead, notes, plan_values, proof_table, stops_table
from calculators._lash.walk import walk
from calculators._words import word
from calculators.formulas.base_circle import KINDS

TITLE = "Lash turn plan"
_CYLINDER = Number(low=1, high=12, why="more cylinders than twelve are not planned here")
_SENSES = {"clockwise": "Clockwise", "anticlockwise": "Anticlockwise"}
_EVENT = Measure(
    own="°", low=-30, high=110, why="no cam of a four-stroke engine opens or closes farther off", exact=True
)
_GAP = Measure(own="mm", low=0, high=5, why="a valve with more lash than this no longer opens")
_METHODS = {
    "own": "Each cylinder at its own firing top dead centre",
    "companion": "Each cylinder while its companion rocks",
    "opening": "Inlet as the exhaust opens, exhaust as the inlet closes",
    "two": "Two positions, one whole turn apart",
    "fewest": "Fewest stops",
}


def _event(key: str, card: str, help_: str) -> Field:
    return Field(
        key=key,
        label=EVENTS[key],
        help=f"{help_}; the other side of it is a minus.",
        kind=_EVENT,
        card=f"cam_events.{card}",
        optional=True,
        reading=card,
    )


def _valve_count(kind: str) -> Field:
    return Field(
        key=f"{kind}_valves",
        label=f"{word(kind).capitalize()} valves a cylinder",
        help="One number for all cylinders, or one for each in the order of their numbers: 2 2 1 1.",
        kind=Series(of=Number(low=1, high=3, why="more of a kind are not made"), fewest=1, most=12, like="1"),
        default="1",
        reading=f"{kind}_valves",
    )


def _gap_column(kind: str, column: str) -> Field:
    return Field(
        key=f"{kind}_{column}",
        label=f"{word(kind).capitalize()} {LABEL[column]}",
        kind=Series(of=_GAP, fewest=1, most=3, like="0.15"),
        optional=True,
        reading=f"{kind}_gap_{column}",
        instrument="feelers",
    )


FORM = Form(
    (
        Section(
            title="The engine",
            fields=(
                Field(
                    key="cylinders",
                    label="Number of cylinders",
                    reading="cylinders",
                    kind=_CYLINDER,
                    card="layout.cylinders",
                    example="4",
                ),
                Field(
                    key="banks",
                    label="Cylinders by bank",
                    reading="banks",
                    help="Each bank counted from the pulley end: 1 2 / 3 4. An inline engine is one bank.",
                    kind=Groups(of=_CYLINDER, most=12),
                    card="layout.banks",
                    example="1 2 / 3 4",
                ),
                Field(
                    key="firing_order",
                    label="Firing order",
                    reading="firing_order",
                    kind=Series(of=_CYLINDER, fewest=1, most=12, run_on=True),
                    card="layout.firing_order",
                    example="1 4 3 2",
                ),
                Field(
                    key="crank_rotation",
                    label="Crank rotation",
                    reading="crank_rotation",
                    help="As the engine runs, seen from the pulley end. From the flywheel end it is the other way.",
                    kind=Choice(options=_SENSES),
                    card="layout.crank_rotation",
                    example="clockwise",
                ),
                Field(
                    key="rotor_rotation",
                    label="Rotor rotation",
                    reading="rotor_rotation",
                    help="As the engine runs, seen from above the distributor cap.",
                    kind=Choice(options={**_SENSES, "none": "No distributor"}),
                    card="layout.rotor_rotation",
                    default="none",
                ),
                Field(
                    key="notch",
                    label="Notch of number 1",
                    help="On the distributor's rim, seen from above, clockwise from the side away from the pulley.",
                    kind=Measure(own="°", low=0, high=360, why="one turn", exact=True),
                    default="0°",
                    reading="rotor_notch",
                ),
            ),
        ),
        Section(
            title="The gaps",
            fields=(
                INLET_CLEARANCE,
                EXHAUST_CLEARANCE,
                BLADES,
            ),
        ),
        Section(
            title="The turning",
            fields=(
                Field(
                    key="method",
                    label="Method",
                    kind=Choice(options=_METHODS),
                    default="own",
                ),
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
                    key="end",
                    label="Where you stand",
                    kind=Choice(options={"pulley": "At the pulley end", "flywheel": "At the flywheel end"}),
                    default="pulley",
                ),
                Field(
                    key="crank_limit",
                    label="Error limit of the crank angle",
                    help="Plus or minus: how nearly you hold the crank at a stop. A valve less far inside its base "
                    "circle is not set.",
                    kind=Measure(
                        own="°", low=0, high=20, why="held less truly, a mark says nothing", exact=True, plus_minus=True
                    ),
                    default="5°",
                ),
            ),
        ),
        Section(
            title="The firing and the cams",
            help="Leave all four openings and closings empty where you do not know them: the plan then allows for any "
            "ordinary cam.",
            fields=(
                FIRING_INTERVALS,
                _valve_count("inlet"),
                _valve_count("exhaust"),
                _event("inlet_opens", "inlet_opens_before_top", "Before top dead centre"),
                _event("inlet_closes", "inlet_closes_after_bottom", "After bottom dead centre"),
                _event("exhaust_opens", "exhaust_opens_before_bottom", "Before bottom dead centre"),
                _event("exhaust_closes", "exhaust_closes_after_top", "After top dead centre"),
                Field(
                    key="event_lift",
                    label="Lift of the cam events",
                    help="The lift at which they are told.",
                    kind=Measure(own="mm", low=0, high=3, why="events are told near the seat", exact=True),
                    card="cam_events.at_lift",
                    optional=True,
                    reading="event_lift",
                ),
                Field(
                    key="ramp",
                    label="Ramp beyond each event",
                    help="From that lift to the base circle, from the cam maker. Empty: 30°, and 30° more for each mm "
                    "of that lift.",
                    kind=Measure(own="°", low=0, high=90, why="no ramp is longer", exact=True),
                    optional=True,
                    reading="cam_ramp",
                ),
            ),
            folded=True,
        ),
        Rows(
            key="record",
            title="The record of the gaps",
            help="Type what you know; several valves of a kind at one cylinder in one box: 0.15 0.15.",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            fields=tuple(_gap_column(kind, column) for kind in KINDS for column in LABEL),
            folded=True,
        ),
        Section(
            title="How true the gaps are read",
            fields=(
                Field(
                    key="gap_limit",
                    label="Error limit of the gap readings",
                    help="Plus or minus. A ± typed with a gap wins over it.",
                    kind=Measure(
                        own="mm",
                        low=0,
                        high=0.2,
                        why="read less truly, a gap says nothing",
                        exact=True,
                        plus_minus=True,
                    ),
                    default="0.02 mm",
                ),
            ),
            folded=True,
        ),
    ),
    sets_aside=("blades", "firing_intervals"),
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the stops in the order of turning, with the gap, the blades and the proof for each valve."""
    job = planned_job(inputs)
    notch = magnitude_in(inputs.notch, "°")
    record = (record_table(job.record, inputs.gap_limit),) if job.record else ()
    return Report(
        lead=lead(job),
        values=plan_values(job),
        tables=(stops_table(job), proof_table(job), *record),
        figures=(
            *dials(job.plan, job.end, job.running, job.hand, job.rotor, notch),
            proof_figure(job.plan),
            engine_figure(inputs.banks, job.plan),
        ),
        walks=(walk(job),),
        cautions=(*cautions(job), *record_cautions(job.record)),
        notes=notes(job),
    )
