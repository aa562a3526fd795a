"""The joints to make: what they are, what was typed of them, and the plan in words and steps."""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import SimpleNamespace

from calculators._errors import FieldError, InputErrors
from calculators._report import COMMON_PRACTICE, Attachment, Column, Row, Source, Stage, Step, Table, Value, Walk
from calculators._units import figures, magnitude_in, plain, quantity
from calculators.formulas.cure_plan import DAY, Plan, Task, circle, cold_factor, planned, warm_factor

ORDER = Source(
    "J. R. Jackson (1955), the job with the longest time behind it first; search of the orders with a bound", "memory"
)

JOINTS = {
    "barrel_foot": ("barrel foot", "Clean and dry both faces, thin even bead, barrel straight down."),
    "barrel_head": ("barrel in the head", "Clean seat; sealer only where the engine maker asks for it."),
    "stud": ("head stud that runs into oil", "Degrease thread and hole; sealer on the thread, none on the tip."),
    "tube": ("pushrod tubes", "New seals, seams of the tubes upwards, ends smooth."),
    "cover": ("rocker covers", "Gasket stuck to the cover alone, dry to the head."),
    "cooler": ("oil cooler", "New seals, none forgotten in the case; nuts in small steps."),
    "pipe": ("oil pipe with hollow bolt", "New washers on both sides of the eye, holes of the bolt clear."),
    "manifold": ("inlet manifold", "Flanges flat; no sealer where it can be drawn in."),
    "exhaust": ("exhaust flange", "New ring, no sealer that oil or heat can loosen."),
    "case": ("case joint or cover plate", "Thin bead inside of the bolt holes, none near an oilway."),
    "drain": ("drain plug or strainer plate", "New washers and gaskets, faces wiped dry."),
}
"""Kind of joint → its name, and what to mind."""

MOST_LONGER = 8.0
"""So many times the sheet's times that the cold is no longer reckoned with, but refused."""

LEAST_OPEN = 1 / MOST_LONGER
"""So small a share of the open time left by warmth is refused."""

CHECKS = (
    ("washers", "Washers", "See a new washer on both sides of every eye of an oil pipe."),
    ("eyes", "Eyes", "See that no eye of an oil pipe touches metal, and that each pipe lies without strain."),
    ("hollow", "Bolts", "See that every hollow bolt is the one of its place, with its holes clear, at its torque."),
    ("hoses", "Hoses", "Bend every hose: no cracks, no soft spot. See it clear of exhaust, fan and belt."),
    ("clamps", "Clamps", "See each clamp behind the bead of its pipe, square and tight."),
    ("filter", "Filter", "See the filter's seal oiled, the old one gone, and the filter tight by hand."),
    ("drain", "Drain", "Drain plug and strainer tight, new washers, safety wire where there was one."),
    ("oil", "Oil", "Fill the oil to the mark, and write on the windscreen that it is filled."),
    ("paper", "Paper", "Lay clean paper under the engine, so that the first drop shows."),
)
"""Before the first oil pressure: key, label and deed."""


@dataclass(frozen=True, slots=True)
class Joint:
    """One joint as planned; the clock in minutes from the first midnight, the open time as it is here."""

    number: int
    name: str
    mind: str
    open_time: float | None
    task: Task
    begins: float

    @property
    def ends(self) -> float:
        return self.begins + self.task.work

    @property
    def cured(self) -> float:
        return self.ends + self.task.cure


@dataclass(frozen=True, slots=True)
class Sealing:
    """The whole plan: the joints in the order they are made, the clock of the workshop, the cold and the warmth."""

    joints: tuple[Joint, ...]
    plan: Plan
    start: float
    opens: float
    shuts: float
    longer: float
    shorter: float

    @property
    def last(self) -> Joint:
        """The joint that cures last: what the oil waits for."""
        return max(self.joints, key=lambda joint: joint.cured)


def clock(moment: float) -> str:
    """Return a moment as the bench says it, to the full minute upwards.

    Examples
    --------
    >>> clock(545.2), clock(1440 + 570)
    ('day 1, 09:06', 'day 2, 09:30')
    """
    minutes = int(-(-round(moment, 6) // 1))
    day, minute = divmod(minutes, int(DAY))
    return f"day {day + 1}, {minute // 60:02d}:{minute % 60:02d}"


def read_sealing(inputs: SimpleNamespace) -> Sealing:
    """Plan the joints that were typed.

    Raises
    ------
    InputErrors
        Hours that do not fit, work longer than a day, a joint that waits for itself or for one that is not there.
    """
    opens, shuts = 60.0 * inputs.opens, 60.0 * inputs.shuts
    if shuts <= opens:
        raise InputErrors(FieldError("shuts", "Hour the workshop shuts must be later than the hour it opens"))
    celsius = [magnitude_in(getattr(inputs, key), "°C") for key in ("shop_temperature", "sheet_temperature")]
    longer = cold_factor(celsius[0], celsius[1], inputs.doubling)
    if longer > MOST_LONGER:
        told = f"so cold, a sealer would take {figures(longer, 0)} times as long, and may never cure"
        raise InputErrors(FieldError("shop_temperature", f"Workshop temperature must be higher: {told}"))
    shorter = warm_factor(celsius[0], celsius[1], inputs.doubling)
    if shorter < LEAST_OPEN:
        told = f"so warm, a bead would skin in {figures(100 * shorter, 0)}% of its open time"
        raise InputErrors(FieldError("shop_temperature", f"Workshop temperature must be lower: {told}"))
    tasks = _tasks(inputs, longer, opens, shuts)
    start = 60.0 * inputs.start_hour + inputs.start_minute
    plan = planned(tasks, start, opens, shuts)
    joints = []
    for place, begins in zip(plan.order, plan.begins, strict=True):
        name, mind = JOINTS[inputs.joint[place]]
        sheet = inputs.open_time[place]
        here = None if sheet is None else shorter * magnitude_in(sheet, "min")
        joints.append(Joint(place + 1, name, mind, here, tasks[place], begins))
    return Sealing(tuple(joints), plan, start, opens, shuts, longer, shorter)


def _tasks(inputs: SimpleNamespace, longer: float, opens: float, shuts: float) -> tuple[Task, ...]:
    tasks, errors = [], []
    columns = (inputs.work, inputs.setting, inputs.cure, inputs.earlier)
    for number, (work, setting, cure, earlier) in enumerate(zip(*columns, strict=True), 1):
        minutes = [0.0 if one is None else magnitude_in(one, "min") for one in (work, setting, cure)]
        if minutes[0] > shuts - opens:
            errors.append(
                FieldError(
                    f"work.{number}",
                    f"Work of joint {number} must be no longer than the workshop is open, {shuts - opens:g} min",
                )
            )
        if earlier is not None and (earlier > len(inputs.work) or earlier == number):
            known = f"another joint, 1 to {len(inputs.work)}" if len(inputs.work) > 1 else "empty, with one joint"
            errors.append(FieldError(f"earlier.{number}", f"Earlier joint of joint {number} must be {known}"))
            earlier = None
        after = None if earlier is None else earlier - 1
        tasks.append(Task(minutes[0], longer * minutes[1], longer * minutes[2], after))
    if errors:
        raise InputErrors(*errors)
    at = circle(tasks)
    if at is not None:
        message = f"Earlier joint of joint {at + 1} leads back to joint {at + 1}. Leave one of them empty."
        raise InputErrors(FieldError(f"earlier.{at + 1}", message))
    return tuple(tasks)


def lead(sealing: Sealing) -> str:
    """Say when the oil may go in, and in which order to work."""
    order = " – ".join(str(joint.number) for joint in sealing.joints)
    last = sealing.last
    made = f"Make the joints in the order {order}: oil" if len(sealing.joints) > 1 else "Oil"
    return f"{made} may go in on {clock(sealing.plan.done)}, when joint {last.number}, {last.name}, has cured."


def plan_values(sealing: Sealing, inputs: SimpleNamespace) -> tuple[Value, ...]:
    """Return when the oil may go in, how long it takes, and how sure the order is."""
    last, plan = sealing.last, sealing.plan
    hands = sum(joint.task.work for joint in sealing.joints)
    return (
        Value(
            key="oil",
            label="Oil may go in",
            quantity=clock(plan.done),
            formula="the latest of all joints: begin + work + cure × 2 ^ ((sheet − workshop) ÷ degrees that double it)",
            source=COMMON_PRACTICE,
            lead=True,
            given=(
                (f"joint {last.number} begins", clock(last.begins)),
                ("work", quantity(last.task.work, "min")),
                ("cure", quantity(last.task.cure / 60, "h")),
            ),
        ),
        Value(
            key="elapsed",
            label="From the start until then",
            quantity=quantity((plan.done - sealing.start) / 60, "h"),
            units=("h", "d"),
            formula="time of oil − time of the start",
            source=Source("clock arithmetic", "identity"),
            given=(("start", clock(sealing.start)), ("oil", clock(plan.done))),
        ),
        Value(
            key="hands",
            label="Work of the hands in it",
            quantity=quantity(hands, "min"),
            units=("min", "h"),
            formula="sum of the work",
            source=Source("addition", "identity"),
            given=tuple((f"joint {joint.number}", quantity(joint.task.work, "min")) for joint in sealing.joints),
        ),
        Value(
            key="order",
            label="How good the order is",
            quantity="no order is sooner"
            if plan.proved
            else f"another could be sooner by {figures((plan.done - plan.bound) / 60, 1)} h at the most",
            formula="orders weighed one by one; left out where work and cure still to come cannot beat the best so far",
            source=ORDER,
            given=(("joints", len(sealing.joints)), ("none before", clock(plan.bound))),
        ),
        Value(
            key="longer",
            label="Cure here, against the product's sheet",
            quantity=sealing.longer,
            places=2,
            formula="2 ^ ((temperature of the sheet − of the workshop) ÷ degrees that double it); 1 where it is warmer",
            source=COMMON_PRACTICE,
            given=(
                ("workshop", inputs.shop_temperature),
                ("sheet", inputs.sheet_temperature),
                ("degrees that double it", plain(inputs.doubling)),
            ),
        ),
        Value(
            key="shorter",
            label="Open time here, against the product's sheet",
            quantity=sealing.shorter,
            places=2,
            formula="2 ^ ((temperature of the sheet − of the workshop) ÷ degrees that double it); 1 where it is colder",
            source=COMMON_PRACTICE,
            given=(
                ("workshop", inputs.shop_temperature),
                ("sheet", inputs.sheet_temperature),
                ("degrees that double it", plain(inputs.doubling)),
            ),
        ),
    )


def plan_table(sealing: Sealing) -> Table:
    """Return each joint with its clock, in the order of the work."""
    last = sealing.last
    return Table(
        key="plan",
        title="The joints against the clock",
        columns=(
            Column(key="joint", label="Joint", strong=True),
            Column(key="name", label="What"),
            Column(key="begin", label="Begin"),
            Column(key="open", label="Bead to last bolt, min"),
            Column(key="end", label="Done by hand"),
            Column(key="cured", label="May meet oil"),
        ),
        rows=tuple(
            Row(
                cells=(
                    str(joint.number),
                    joint.name,
                    clock(joint.begins),
                    None if joint.open_time is None else _minutes(joint.open_time),
                    clock(joint.ends),
                    clock(joint.cured),
                ),
                chosen=joint is last,
            )
            for joint in sealing.joints
        ),
        formula="Work is not broken off and lies within the hours of the workshop; cure goes on by night. A joint "
        "begins when the hands are free and the earlier joint has set",
        source=ORDER,
        given=(
            ("open", f"{clock(sealing.opens)[7:]} to {figures(sealing.shuts / 60, 0)}:00"),
            ("cure longer in the cold", f"{figures(sealing.longer, 2)} times"),
            ("open shorter in the warmth", f"{figures(sealing.shorter, 2)} times"),
        ),
    )


def _minutes(open_time: float) -> str:
    """Print an open time to a tenth of a minute, never longer than it is."""
    return plain(math.floor(10 * open_time + 1e-6) / 10)


def plan_walk(sealing: Sealing) -> Walk:
    """Return the joints as steps with their minutes, then the checks before the first oil pressure."""
    joints = []
    for joint in sealing.joints:
        begin = clock(joint.begins)
        within = ""
        if joint.open_time is not None:
            within = f" Last bolt within {_minutes(joint.open_time)} min of the first bead."
        joints.append(
            Step(
                key=f"joint_{joint.number}",
                label=f"{joint.number}: {joint.name}",
                words=f"On {begin}, make joint {joint.number}, {joint.name}. {joint.mind}{within}",
                large=f"{joint.number} · {begin[-5:]}",
                minutes=joint.task.work,
            )
        )
    oil = clock(sealing.plan.done)
    joints.append(
        Step(
            key="cured",
            label="Cured",
            words=f"Leave everything alone until {oil}. Then cut a spare bead on its plate: it must have cured right "
            "through.",
            large=oil,
        )
    )
    checks = tuple(Step(key=key, label=label, words=words, large=label) for key, label, words in CHECKS)
    return Walk(
        key="sealing",
        title="The joints, then the checks",
        stages=(
            Stage(title="Joints in their order", steps=tuple(joints)),
            Stage(title="Before the first oil pressure", steps=checks),
        ),
    )


def plan_file(sealing: Sealing) -> Attachment:
    """Return the plan as comma-separated values (RFC 4180)."""
    lines = ["joint,what,begin,done by hand,may meet oil"]
    for joint in sealing.joints:
        moments = (clock(moment).replace(",", "") for moment in (joint.begins, joint.ends, joint.cured))
        lines.append(",".join((str(joint.number), joint.name, *moments)))
    return Attachment(
        name="sealing-plan.csv",
        title="Take the plan as a table",
        media_type="text/csv",
        text="\r\n".join((*lines, "")),
    )
