"""Joints made by one pair of hands: their clock, as a table, as steps to tick and as a file."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calculators.bench import Attachment, Column, ResultTable, Source, Stage, Step, TableRow, Walk
from calculators.bench.units import figures, plain
from calculators.formulas.cure_plan import DAY, Plan, Task

ORDER = Source(
    "J. R. Jackson (1955), the job with the longest time after it first; bounded search of the orders", "memory"
)

CHECKS = (
    ("washers", "Washers", "Check for a new washer on both sides of every oil pipe eye."),
    ("eyes", "Eyes", "Check that no oil pipe touches metal, and that each pipe lies without strain."),
    ("hollow", "Bolts", "Check that every hollow bolt is in its own place, holes clear, at its torque."),
    ("hoses", "Hoses", "Bend every hose: no cracks, no soft spots. Check that it is clear of exhaust, fan and belt."),
    ("clamps", "Clamps", "Check that each clamp is behind the bead of its pipe, square and tight."),
    ("filter", "Filter", "Check that the filter's seal is oiled, the old one gone, and the filter hand-tight."),
    ("drain", "Drain", "Drain plug and strainer tight, washers new, lock wire where there was any."),
    ("oil", "Oil", "Fill the oil to the mark, and note on the windscreen that it is filled."),
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


def sentence(sealing: Sealing) -> str:
    """Say when the oil may go in, and in which order to work."""
    order = " – ".join(str(joint.number) for joint in sealing.joints)
    last = sealing.last
    made = f"Make the joints in the order {order}: oil" if len(sealing.joints) > 1 else "Oil"
    return f"{made} may go in on {clock(sealing.plan.done)}, when joint {last.number}, {last.name}, has cured."


def plan_table(sealing: Sealing) -> ResultTable:
    """Return each joint with its clock, in the order of the work."""
    last = sealing.last
    return ResultTable(
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
            TableRow(
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
        formula="Work is not interrupted and stays within workshop hours; cure goes on at night. A joint begins when "
        "hands are free and the earlier joint has set",
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
            words=f"Leave everything alone until {oil}. Then cut through a spare bead: it must have cured right "
            "through.",
            large=oil,
        )
    )
    checks = tuple(Step(key=key, label=label, words=words, large=label) for key, label, words in CHECKS)
    return Walk(
        key="sealing",
        title="Joint by joint",
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
