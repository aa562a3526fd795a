"""When each re-check is due, by odometer and by date, with a card for the dash and a file for the calendar."""

from __future__ import annotations

from datetime import date

from calculators.bench import (
    Answer,
    Check,
    FieldError,
    InputErrors,
    Question,
    count,
    day,
    listed,
    magnitude_in,
    measure,
    optional,
    shared,
)
from calculators.bench.words import word
from calculators.running_in.cautions import CRANK, HOT_OIL, JACK
from calculators.running_in.checks_at import NUTS_WORDS, head_nuts, lash_words
from calculators.running_in.dash_card import dash_table, day_values, due_walk
from calculators.running_in.days import day_words
from calculators.running_in.distances import distance, end_of_running_in, odometer, odometer_unit, taken
from calculators.running_in.due import Schedule, calendar, milestones

_DISTANCES = "Distances and months"
_CHECKED = "What is checked cold"
_DASH = "Speed ceilings for the card on the dash"


class Rechecks(Question):
    """Days assume even driving from the day after the first start; where the odometer is ahead, it counts.

    Common practice for a rebuilt top end; the makers' intervals win over these.
    """

    asks = "When is each re-check due, and when the oil change?"
    tells = "Re-checks and oil changes"
    deed = "Do what falls due"

    start = day(
        "Date of the first start",
        date(1950, 1, 1),
        date(2150, 12, 31),
        why="engines that run today",
        example="2026-11-25",
        shared_as="first_start",
        said="first start {}",
    )
    odometer_unit = odometer_unit()
    odometer = odometer()
    weekly = count(
        "Distance driven in a week",
        5,
        5000,
        why="less gives no date, more is not driven",
        hint="What the vehicle will really cover; it gives the dates.",
        usual="150",
        shared_as="weekly_distance",
        said="{} a week",
    )
    early = distance(
        "early",
        "Distance to the first re-check",
        "Lash, points, joints.",
        5,
        1000,
        refines=_DISTANCES,
        said="first re-check after {}",
    )
    second = distance(
        "second",
        "Distance to the second re-check",
        "Everything once more.",
        50,
        3000,
        refines=_DISTANCES,
        said="second after {}",
    )
    oil = distance(
        "oil",
        "Distance to the first oil change",
        "With filter or strainer.",
        20,
        3000,
        refines=_DISTANCES,
        said="oil after {}",
    )
    end = end_of_running_in(refines=_DISTANCES)
    oil_interval = distance(
        "oil_interval",
        "Oil interval",
        "After the first change; the maker's.",
        500,
        30000,
        refines=_DISTANCES,
        said="oil every {}",
    )
    lash_interval = distance(
        "lash_interval",
        "Lash interval",
        "After the second re-check; the maker's.",
        500,
        30000,
        refines=_DISTANCES,
        said="lash every {}",
    )
    months = count(
        "Longest interval in months",
        1,
        36,
        why="oil ages and seals settle even unused",
        hint="Whichever comes first.",
        usual="12",
        shared_as="service_months",
        refines=_DISTANCES,
        said="{} months at most",
    )
    nuts = head_nuts(refines=_CHECKED)
    inlet_clearance = optional(shared.inlet_clearance(refines=_CHECKED))
    exhaust_clearance = optional(shared.exhaust_clearance(refines=_CHECKED))
    ceilings = optional(
        listed(
            measure(
                "Speed ceilings",
                "r/min",
                300,
                20000,
                why="engines of this kind",
                exact=True,
                hint="In order; worked out from the highest speed, or typed.",
                shared_as="run_in_ceilings",
                refines=_DASH,
                said="{}",
            ),
            1,
            7,
            like="3000 3500 4000",
        )
    )
    ceilings_from = optional(
        listed(
            count(
                "Distances from which they hold",
                0,
                5000,
                why="no running-in takes longer",
                hint="From the first start, the first of them 0.",
                shared_as="run_in_ceilings_from",
                refines=_DASH,
                said="from {}",
            ),
            1,
            7,
            like="0 200 400",
        )
    )

    def answer(self) -> Answer:
        plan, steps = self._schedule(), self._ceilings()
        dues = plan.dues()
        by_key = {due.key: due for due in dues}
        early, second, oil = (by_key[key] for key in ("early", "second", "oil"))
        first = f"Highest {steps[0][1]} r/min until odometer {plan.reading(steps[1][0])}." if len(steps) > 1 else ""
        return Answer(
            headline=f"Re-check {plan.reading(early.distance)}, {plan.reading(second.distance)} · "
            f"oil {plan.where(oil.distance)}",
            record="Re-checks and oil changes: see What is next.",
            says=f"Re-check it cold at {plan.where(early.distance)}, about {day_words(early.day)}, and at "
            f"{plan.where(second.distance)}, about {day_words(second.day)}; change the oil at "
            f"{plan.where(oil.distance)}, about {day_words(oil.day)}.",
            drawing=milestones(plan, dues),
            values=tuple(day_values(plan, by_key)),
            warnings=(JACK, CRANK, HOT_OIL),
            steps=due_walk(plan, dues),
            tables=(dash_table(plan, dues, steps),),
            attachments=(calendar(plan, dues, first, self.card.title if self.card else ""),),
            checks=tuple(
                Check(
                    key=due.key,
                    what=f"{due.label}: {due.deed}",
                    due="" if due.key == "free" else day_words(due.day),  # no day runs an engine in
                    distance=plan.where(due.distance),
                )
                for due in dues
                if due.distance
            ),
            notes=(
                "The engine cools overnight after the first run: days on the road count from the next day.",
                "Distances and intervals are common practice, no source, unless you type the makers'.",
                "Days assume even driving. Where the odometer is ahead of the calendar, the odometer counts.",
                "Plans from the makers of engine, rings, camshaft and oil win over this one.",
            ),
        )

    def _schedule(self) -> Schedule:
        unit = self.odometer_unit
        early, second = taken("early", self.early, unit), taken("second", self.second, unit)
        if second <= early:
            message = f"Distance to the second re-check must be over {early} {word(unit)}"
            raise InputErrors(FieldError("second", message))
        return Schedule(
            start=self.start,
            odometer=self.odometer,
            unit=unit,
            weekly=self.weekly,
            early=early,
            second=second,
            end=taken("end", self.end, unit),
            oil=taken("oil", self.oil, unit),
            oil_interval=taken("oil_interval", self.oil_interval, unit),
            lash_interval=taken("lash_interval", self.lash_interval, unit),
            months=self.months,
            nuts=NUTS_WORDS[self.nuts],
            lash=lash_words(self.inlet_clearance, self.exhaust_clearance),
        )

    def _ceilings(self) -> tuple[tuple[int, int], ...]:
        """Return from which distance on which speed holds; none where they are not known."""
        if self.ceilings is None:
            return ()
        begins = self.ceilings_from or ()
        if len(begins) != len(self.ceilings) or begins[0] != 0 or sorted(set(begins)) != list(begins):
            message = "Distances from which they hold must rise from 0, one for each of the speed ceilings"
            raise InputErrors(FieldError("ceilings_from", message))
        return tuple(
            (begin, round(magnitude_in(speed, "r/min"))) for begin, speed in zip(begins, self.ceilings, strict=True)
        )
