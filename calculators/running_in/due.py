"""What falls due in the first thousands of kilometres: at which distance, about which day, and what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from calculators.bench import Attachment, Figure
from calculators.bench.drawing import Drawing
from calculators.bench.words import word
from calculators.formulas.calendar_file import Entry, calendar_file
from calculators.formulas.running_in import day_reached, months_later
from calculators.running_in.days import day_words


@dataclass(frozen=True, slots=True)
class Due:
    """One thing to be done: ``distance`` from the first start, ``label`` in a few words, ``deed`` in whole ones."""

    key: str
    distance: int
    day: date
    label: str
    deed: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Schedule:
    """How far is driven, and when what is wanted.

    Parameters
    ----------
    start : date
        Of the first start.
    odometer : int
        What it shows there.
    unit : str
        Of all distances, a key of ``UNITS``.
    weekly : int
    early, second, end, oil : int
        Distances from the first start.
    oil_interval, lash_interval : int
        From the first oil change, and from the second re-check.
    months : int
        The longest interval.
    nuts, lash : str
        What is checked cold, in words.
    """

    start: date
    odometer: int
    unit: str
    weekly: int
    early: int
    second: int
    end: int
    oil: int
    oil_interval: int
    lash_interval: int
    months: int
    nuts: str
    lash: str

    @property
    def drive(self) -> date:
        """The first day on the road: the engine stands cold overnight before it."""
        return self.start + timedelta(days=1)

    def reading(self, distance: int) -> int:
        """Return what the odometer shows at a distance from the first start."""
        return self.odometer + distance

    def where(self, distance: int) -> str:
        """Return the odometer's reading with its unit."""
        return f"{self.reading(distance)} {word(self.unit)}"

    def day(self, distance: int) -> date:
        """Return the day on which a distance is full."""
        return day_reached(self.drive, distance, self.weekly)

    def dues(self) -> tuple[Due, ...]:
        """Return all that falls due, in the order of the odometer."""
        return tuple(sorted(self._dues(), key=lambda due: (due.distance, due.day)))

    def _dues(self) -> Iterator[Due]:
        lash, nuts = self.lash, self.nuts
        cold = f"Stone cold: oil level, {nuts}, {lash}, exhaust nuts, joints dry, plugs."
        yield Due("cold", 0, self.drive, "Cold check", cold)
        early = f"Stone cold: oil level, {nuts}, {lash}, points gap, then timing by light; belt, clips and joints."
        yield Due("early", self.early, self.day(self.early), "First re-check", early)
        oil_day = self.day(self.oil)
        yield Due("oil", self.oil, oil_day, "First oil change", "Oil and filter, warm; look at strainer and magnet.")
        second_day = self.day(self.second)
        second = f"Stone cold: {nuts}, {lash}; points gap, dwell, timing, compression; last the carburettors."
        yield Due("second", self.second, second_day, "Second re-check", second)
        free = "Highest speed only for moments at first, then as the maker says."
        yield Due("free", self.end, self.day(self.end), "Running-in ends", free)
        yield self._after("next_oil", self.oil, self.oil_interval, oil_day, "Next oil change", "Oil and filter.")
        then = f"Stone cold: {lash}; then timing."
        yield self._after("next_lash", self.second, self.lash_interval, second_day, "Next lash", then)

    def _after(self, key: str, begin: int, interval: int, day: date, label: str, deed: str) -> Due:
        """Return what is due after an interval, by the odometer or by the calendar, whichever comes first."""
        sooner = min(day_reached(day, interval, self.weekly), months_later(day, self.months))
        return Due(key, begin + interval, sooner, label, deed)


def calendar(plan: Schedule, dues: Sequence[Due], first_ceiling: str, vehicle: str) -> Attachment:
    """Return the days as a calendar file; worked out anew for the same start, its entries replace the old ones.

    Parameters
    ----------
    first_ceiling : str
        What holds from the first start on, in words; empty where it is not known.
    vehicle : str
        What the plan is for.
    """
    entries = [
        Entry(
            "start",
            plan.start,
            "First start after the rebuild",
            " ".join(filter(None, (f"Odometer {plan.where(0)}.", first_ceiling))),
        )
    ]
    for due in dues:
        where = f"at {plan.where(due.distance)}" if due.distance else "before the road"
        entries.append(
            Entry(
                due.key,
                due.day,
                f"{due.label}, {where}",
                f"{due.deed}\nDue at {plan.where(due.distance)}; the day is an estimate; the odometer counts.",
            )
        )
    return Attachment(
        name=f"run-in-plan-{plan.start}.ics",
        title="Put the dates into a calendar",
        media_type="text/calendar",
        text=calendar_file(
            "Top-End Bench Book//Run-in plan",
            f"run-in plan/{vehicle}/{plan.start}/{plan.odometer}",
            plan.start,
            entries,
        ),
    )


def milestones(plan: Schedule, dues: Sequence[Due]) -> Figure:
    """Draw the road ahead, from top to bottom: at each reading of the odometer what falls due, and about when."""
    later = [due for due in dues if due.distance]
    places = sorted({due.distance for due in later})
    rows = [[due for due in later if due.distance == distance] for distance in places]
    height = sum(30 + 18 * len(row) for row in rows)
    drawing = Drawing(340, height + 10)
    drawing.line(92, 4, 92, height + 4, "thin")
    drawing.line(100, 4, 100, height + 4, "thin")
    y = 16.0
    for distance, row in zip(places, rows, strict=True):
        drawing.circle(96, y, 6, "chosen")
        drawing.text(82, y, f"{plan.reading(distance)}", "number", anchor="end", size=15)
        for due in row:
            drawing.text(112, y, due.label, "number", anchor="start")
            y += 18
        drawing.text(112, y, f"about {day_words(min(due.day for due in row))}", anchor="start")
        y += 30
    told = "; ".join(f"{plan.reading(due.distance)} {due.label}, about {day_words(due.day)}" for due in later)
    return Figure(
        key="milestones",
        title=f"What falls due by the odometer, in {word(plan.unit)} (not to scale)",
        svg=drawing.svg(f"What falls due by the odometer, in {word(plan.unit)}: {told}."),
    )
