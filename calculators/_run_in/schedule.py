"""What falls due in the first thousands of kilometres: at which odometer reading, about which day, and what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from types import SimpleNamespace

from calculators._errors import FieldError, InputErrors
from calculators._report import Attachment
from calculators._units import printed
from calculators._words import word
from calculators.formulas.calendar_file import Entry, calendar_file
from calculators.formulas.running_in import Ceiling, ceilings, day_reached, months_later

_DAY_WORDS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTH_WORDS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
UNITS = {"km": "Kilometres", "miles": "Miles"}
NUTS = {
    "maker": "Not known yet, the maker's sheet says",
    "again": "Tightened again, the maker asks for it",
    "never": "Left alone, the maker forbids it or tightens by angle",
}
_NUTS_TOLD = {
    "maker": "head nuts only if the maker asks for it",
    "again": "head nuts by the maker's way, before the lash",
    "never": "leave the head nuts alone",
}


@dataclass(frozen=True, slots=True)
class Distances:
    """Where things fall due, from the first start; the intervals from the first oil change and the second check."""

    first: int
    end: int
    early: int
    second: int
    oil: int
    oil_interval: int
    lash_interval: int


USUAL = {
    "km": Distances(first=200, end=600, early=50, second=500, oil=500, oil_interval=5000, lash_interval=5000),
    "miles": Distances(first=120, end=360, early=30, second=300, oil=300, oil_interval=3000, lash_interval=3000),
}
"""Round figures for each kind of odometer (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Due:
    """One thing to be done: ``distance`` from the first start, ``label`` in a few words, ``deed`` in whole ones."""

    key: str
    distance: int
    day: date
    label: str
    deed: str


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole of it, in the order of the distances."""

    start: date
    odometer: int
    unit: str
    weekly: int
    lash: str
    nuts: str
    distances: Distances
    ceilings: tuple[Ceiling, ...]
    dues: tuple[Due, ...]

    @property
    def drive(self) -> date:
        """The first day on the road: the engine stands cold overnight before it."""
        return self.start + timedelta(days=1)

    def reading(self, distance: int) -> int:
        """Return what the odometer shows at a distance from the first start."""
        return self.odometer + distance

    def due(self, key: str) -> Due:
        return next(due for due in self.dues if due.key == key)

    def day(self, distance: int) -> date:
        """Return the day on which a distance is full."""
        return day_reached(self.drive, distance, self.weekly)

    def ceiling_at(self, distance: int) -> Ceiling:
        """Return the ceiling from a distance on."""
        return next(one for one in reversed(self.ceilings) if one.begin <= distance)


def distances_of(inputs: SimpleNamespace) -> Distances:
    """Return the distances typed, and round ones for the odometer's unit where a field is empty.

    Raises
    ------
    InputErrors
        A later one is not beyond an earlier one.
    """
    usual = USUAL[inputs.odometer_unit]
    keys = ("first", "end", "early", "second", "oil", "oil_interval", "lash_interval")
    found = Distances(
        **{key: getattr(usual, key) if getattr(inputs, key) is None else getattr(inputs, key) for key in keys}
    )
    errors = []
    if found.end <= found.first:
        errors.append(
            FieldError("end", f"Distance to the last rise must be over {found.first} {word(inputs.odometer_unit)}")
        )
    if found.second <= found.early:
        message = f"Distance to the second re-check must be over {found.early} {word(inputs.odometer_unit)}"
        errors.append(FieldError("second", message))
    if errors:
        raise InputErrors(*errors)
    return found


def planned(inputs: SimpleNamespace, highest: float, share: float, mark: float, distances: Distances) -> Plan:
    """Return the plan for what was typed.

    Parameters
    ----------
    inputs : SimpleNamespace
        The form's values.
    highest, mark : float, [r/min]
    share : float
        Of the highest speed, for the first ceiling.
    distances : Distances
    """
    plan = Plan(
        start=inputs.start,
        odometer=inputs.odometer,
        unit=inputs.odometer_unit,
        weekly=inputs.weekly,
        lash=_lash(inputs),
        nuts=_NUTS_TOLD[inputs.nuts],
        distances=distances,
        ceilings=ceilings(highest, share, distances.first, distances.end, inputs.rises, mark),
        dues=(),
    )
    return replace(plan, dues=tuple(sorted(_dues(plan, inputs.months), key=lambda due: (due.distance, due.day))))


def day_words(day: date) -> str:
    """Return a day as nobody can mistake it.

    Examples
    --------
    >>> day_words(date(2026, 11, 25))
    'Wed 25 Nov 2026'
    """
    return f"{_DAY_WORDS[day.weekday()]} {day.day} {_MONTH_WORDS[day.month - 1]} {day.year}"


def calendar(plan: Plan, vehicle: str) -> Attachment:
    """Return the plan's days as a calendar file."""
    entries = [
        Entry(
            "start",
            plan.start,
            "First start after the rebuild",
            f"Odometer {plan.odometer} {word(plan.unit)}. Highest {plan.ceilings[0].speed:.0f} r/min until odometer "
            f"{plan.reading(plan.distances.first)}.",
        )
    ]
    for due in plan.dues:
        reading = plan.reading(due.distance)
        where = f"at {reading} {word(plan.unit)}" if due.distance else "before the road"
        entries.append(
            Entry(
                due.key,
                due.day,
                f"{due.label}, {where}",
                f"{due.deed}\nDue at odometer {reading} {word(plan.unit)}; the day is an estimate, the odometer "
                "counts.",
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


def _lash(inputs: SimpleNamespace) -> str:
    if inputs.inlet_clearance is None or inputs.exhaust_clearance is None:
        return "lash"
    gaps = [printed(gap, "mm") for gap in (inputs.inlet_clearance, inputs.exhaust_clearance)]
    return f"lash {gaps[0]} inlet, {gaps[1]} exhaust"


def _dues(plan: Plan, months: int) -> Iterator[Due]:
    at = plan.distances
    lash, nuts = plan.lash, plan.nuts
    yield Due(
        "cold", 0, plan.drive, "Cold check", f"Stone cold: oil level, {nuts}, {lash}, exhaust nuts, joints dry, plugs."
    )
    yield Due(
        "early",
        at.early,
        plan.day(at.early),
        "First re-check",
        f"Stone cold: oil level, {nuts}, {lash}, points gap, then timing by light; belt, clips and joints.",
    )
    oil_day = plan.day(at.oil)
    yield Due("oil", at.oil, oil_day, "First oil change", "Oil and filter, warm; look at strainer and magnet.")
    second_day = plan.day(at.second)
    yield Due(
        "second",
        at.second,
        second_day,
        "Second re-check",
        f"Stone cold: {nuts}, {lash}; points gap, dwell, timing, compression; last the carburettors.",
    )
    yield Due(
        "free",
        at.end,
        plan.day(at.end),
        "Running-in ends",
        "Highest speed for moments at first, then as the maker says.",
    )
    for key, label, begin, interval, day, deed in (
        ("next_oil", "Next oil change", at.oil, at.oil_interval, oil_day, "Oil and filter."),
        ("next_lash", "Next lash", at.second, at.lash_interval, second_day, f"Stone cold: {lash}; then timing."),
    ):
        by_distance = day_reached(day, interval, plan.weekly)
        sooner = min(by_distance, months_later(day, months))
        yield Due(key, begin + interval, sooner, label, deed)
