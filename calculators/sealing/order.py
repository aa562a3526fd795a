"""Several joints, one pair of hands: which first, and when all of them may meet oil."""

from __future__ import annotations

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    FieldError,
    Figure,
    InputErrors,
    Lacking,
    Question,
    Row,
    Source,
    Table,
    Value,
    choice,
    count,
    magnitude_in,
    measure,
    optional,
    quantity,
)
from calculators.bench.units import figures
from calculators.formulas.cure_plan import Task, circle, planned
from calculators.sealing import climate, sheet_times
from calculators.sealing.cautions import INWARDS, NOTES, UNCURED, VAPOUR
from calculators.sealing.joint_plan import ORDER, Joint, Sealing, clock, plan_file, plan_table, plan_walk, sentence
from calculators.sealing.joints import JOINTS
from calculators.sealing.strip_drawing import strip

_A_DAY = "a day has 24 hours"
_HOURS = "Hours of the workshop"


class JointRow(Row):
    """One joint of the list."""

    joint = choice(
        "Kind",
        {key: name.capitalize() for key, (name, _) in JOINTS.items()},
        example="case; barrel_foot; stud; cooler; cover",
    )
    work = measure(
        "Work",
        "min",
        1,
        720,
        why="split longer work into two joints",
        exact=True,
        hint="From wiping the faces to the last bolt.",
        example="45; 60; 20; 25; 15",
    )
    open_time = optional(
        sheet_times.open_time(hint="First bead to last bolt. Empty: dry seals.", example="10; 15; 20; ; ")
    )
    setting = optional(
        sheet_times.setting(hint="Until a joint built on it may begin. Empty: none.", example="60; 30; ; ; ")
    )
    cure = optional(sheet_times.cure(hint="From the last bolt. Empty: none.", example="24; 12; 6; ; 2"))
    earlier = optional(
        count(
            "Earlier joint",
            1,
            10,
            why="the joints of this list",
            hint="Number of the joint that must be made first. Empty: none.",
            example="; 1; 2; 1; 3",
        )
    )


class Order(Question):
    """For one pair of hands; work is not interrupted, cure goes on at night.

    The times are the product maker's. Does not know whether a sealer suits the joint, the oil or the fuel.
    """

    asks = "In what order do I make the joints, and when may the oil go in?"
    tells = "Order of the joints"
    deed = "Make the joints in their order"

    start_hour = count(
        "Hour of the start",
        0,
        23,
        why=_A_DAY,
        hint="On day 1, 24-hour clock.",
        usual="8",
        said="begin at {} h",
    )
    start_minute = count("Minutes past that hour", 0, 59, why="an hour has 60 minutes", usual="0", said="{} min past")
    shop_temperature = climate.shop_temperature()
    joints = Table(
        JointRow,
        each="Joint {}",
        most=10,
        hint="Work: from wiping the faces to the last bolt. The times are those on the product's sheet; overnight is "
        "12 h. Leave empty what dry seals do not have. Earlier joint: the number of the one that must be made first.",
    )
    opens = count("Hour the workshop opens", 0, 24, why=_A_DAY, usual="7", refines=_HOURS, said="open from {} h")
    shuts = count(
        "Hour the workshop shuts",
        0,
        24,
        why=_A_DAY,
        hint="0 and 24: work day and night.",
        usual="19",
        refines=_HOURS,
        said="to {} h",
    )
    sheet_temperature = climate.sheet_temperature()
    doubling = climate.doubling()

    def answer(self) -> Answer:
        if not self.joints:
            raise Lacking(FieldError("joint.1", "Enter the joints, one row each"))
        sealing, here = self._planned()
        order = " – ".join(str(joint.number) for joint in sealing.joints)
        oil = clock(sealing.plan.done)
        return Answer(
            headline=f"{order} · oil {oil}" if len(sealing.joints) > 1 else f"Oil {oil}",
            says=sentence(sealing),
            record=f"Order of the joints: {order}." if len(sealing.joints) > 1 else "",
            drawing=_strip(sealing),
            values=(*_values(sealing), *here.values()),
            warnings=(
                VAPOUR,
                INWARDS,
                UNCURED,
                *here.warnings(any(joint.open_time is not None for joint in sealing.joints)),
            ),
            steps=plan_walk(sealing),
            tables=(plan_table(sealing),),
            attachments=(plan_file(sealing),),
            notes=NOTES,
        )

    def _planned(self) -> tuple[Sealing, climate.Climate]:
        opens, shuts = 60.0 * self.opens, 60.0 * self.shuts
        if shuts <= opens:
            raise InputErrors(FieldError("shuts", "Hour the workshop shuts must be later than the hour it opens"))
        here = climate.climate_of(self.shop_temperature, self.sheet_temperature, self.doubling)
        tasks = self._tasks(here.longer, shuts - opens)
        start = 60.0 * self.start_hour + self.start_minute
        plan = planned(tasks, start, opens, shuts)
        joints = []
        for place, begins in zip(plan.order, plan.begins, strict=True):
            row = self.joints[place]
            name, mind = JOINTS[row.joint]
            open_time = None if row.open_time is None else here.shorter * magnitude_in(row.open_time, "min")
            joints.append(Joint(place + 1, name, mind, open_time, tasks[place], begins))
        return Sealing(tuple(joints), plan, start, opens, shuts, here.longer, here.shorter), here

    def _tasks(self, longer: float, open_for: float) -> tuple[Task, ...]:
        tasks, errors, joints = [], [], len(self.joints)
        for number, row in enumerate(self.joints, 1):
            work, setting, cure = (
                0.0 if one is None else magnitude_in(one, "min") for one in (row.work, row.setting, row.cure)
            )
            if work > open_for:
                message = f"Work of joint {number} must be no longer than the workshop is open, {open_for:g} min"
                errors.append(FieldError(f"work.{number}", message))
            earlier = row.earlier
            if earlier is not None and (earlier > joints or earlier == number):
                known = f"another joint, 1 to {joints}" if joints > 1 else "empty, with one joint"
                errors.append(FieldError(f"earlier.{number}", f"Earlier joint of joint {number} must be {known}"))
                earlier = None
            tasks.append(Task(work, longer * setting, longer * cure, None if earlier is None else earlier - 1))
        if errors:
            raise InputErrors(*errors)
        at = circle(tasks)
        if at is not None:
            message = f"Earlier joint of joint {at + 1} leads back to joint {at + 1}. Leave one of them empty."
            raise InputErrors(FieldError(f"earlier.{at + 1}", message))
        return tuple(tasks)


def _values(sealing: Sealing) -> tuple[Value, ...]:
    last, plan = sealing.last, sealing.plan
    return (
        Value(
            key="oil",
            label="Oil may go in",
            quantity=clock(plan.done),
            formula="the latest of all joints: begin + work + cure × 2 ^ ((sheet − workshop) ÷ degrees that double it)",
            source=COMMON_PRACTICE,
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
            quantity=quantity(sum(joint.task.work for joint in sealing.joints), "min"),
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
    )


def _strip(sealing: Sealing) -> Figure:
    rows = tuple((joint.number, joint.begins, joint.ends, joint.cured) for joint in sealing.joints)
    said = tuple(
        f"Joint {joint.number}, {joint.name}: hands {clock(joint.begins)} to {clock(joint.ends)}, "
        f"cured {clock(joint.cured)}"
        for joint in sealing.joints
    )
    return strip(rows, sealing.start, sealing.plan.done, (sealing.opens, sealing.shuts), said, clock(sealing.plan.done))
