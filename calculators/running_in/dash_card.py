"""What falls due, as the card for the dash, as days to plan by and as steps to tick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calculators.bench import COMMON_PRACTICE, Column, ResultTable, Stage, Step, TableRow, Value, Walk
from calculators.bench.words import word
from calculators.running_in.days import day_words
from calculators.running_in.due import Due, Schedule


def day_values(plan: Schedule, by_key: dict[str, Due]) -> Iterator[Value]:
    """Yield the days that the reader plans by, as odometer and date."""
    labels = (
        ("early", "first_check", "First re-check"),
        ("oil", "oil_change", "First oil change"),
        ("second", "second_check", "Second re-check"),
        ("free", "run_in", "Running-in ends"),
    )
    for due_key, key, label in labels:
        due = by_key[due_key]
        yield Value(
            key=key,
            label=label,
            quantity=f"{plan.where(due.distance)}, about {day_words(due.day)}",
            formula="odometer = reading at the start + distance; day = first day on the road + 7 · distance ÷ that in "
            "a week",
            source=COMMON_PRACTICE,
            given=(
                ("odometer at the start", plan.odometer),
                ("first day on the road", day_words(plan.drive)),
                (f"{word(plan.unit)} in a week", plan.weekly),
                ("distance", due.distance),
            ),
        )


def dash_table(plan: Schedule, dues: Sequence[Due], steps: Sequence[tuple[int, int]]) -> ResultTable:
    """Return the card for the dash: a row for each reading of the odometer at which something changes or falls due."""
    rows = []
    for distance_ in sorted({begin for begin, _ in steps} | {due.distance for due in dues}):
        here = [due for due in dues if due.distance == distance_]
        about = min((due.day for due in here), default=plan.day(distance_)) if distance_ else plan.start
        labels = [due.label for due in here]
        if not distance_:
            labels = ["First start", *(f"{due.label} on {day_words(due.day)}" for due in here)]
        ceiling = next((speed for begin, speed in reversed(steps) if begin <= distance_), None)
        when = ": ".join(filter(None, (day_words(about), "; ".join(labels))))
        rows.append(TableRow(cells=(plan.reading(distance_), *((ceiling,) if steps else ()), when)))
    return ResultTable(
        key="dash",
        title="Card for the dash: oil lamp on, stop at once",
        columns=(
            Column(key="odometer", label=f"From, {word(plan.unit)}", strong=not steps),
            *((Column(key="ceiling", label="Highest r/min", places=0, strong=True),) if steps else ()),
            Column(key="due", label="When", wide=True),
        ),
        rows=tuple(rows),
        formula="odometer = at the first start + distance; day = first day on the road + 7 · distance ÷ distance in a "
        "week; an interval in months that ends sooner wins",
        source=COMMON_PRACTICE,
        given=(("odometer", plan.odometer), (f"{word(plan.unit)} in a week", plan.weekly)),
        on_paper=True,
    )


def due_walk(plan: Schedule, dues: Sequence[Due]) -> Walk:
    """Return what falls due as steps to tick, the handover last."""
    steps = [
        Step(
            key=f"due_{due.key}",
            label=f"{due.label}, {plan.reading(due.distance)}",
            words=f"{due.label} at odometer {plan.reading(due.distance)}, about {day_words(due.day)}: {due.deed}",
            large=f"{due.label} · {plan.reading(due.distance)}",
        )
        for due in dues
        if due.distance
    ]
    handover = Step(
        key="handover",
        label="Handover",
        words="Card on the dash, dates in both diaries, readings on the job sheet, old parts handed over.",
        large="Hand it over",
    )
    return Walk(
        key="rechecks", title="What falls due", stages=(Stage(title="By the odometer", steps=(*steps, handover)),)
    )
