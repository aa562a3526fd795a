"""The first run of a rebuilt engine, from the starter with the plugs out to the look round it as it cools."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Column,
    FieldError,
    InputErrors,
    Question,
    ResultTable,
    TableRow,
    Value,
    Worked,
    choice,
    count,
    magnitude_in,
    measure,
    optional,
    printed,
    quantity,
    symbol_of,
)
from calculators.running_in.cautions import BURNS, CARBON_MONOXIDE, FAN, FUEL_MIST, ROLLERS
from calculators.running_in.fast_idle import cam, fast_idle, speeds_of
from calculators.running_in.first_minutes import (
    BURST_SECONDS,
    BURSTS,
    LOADS,
    RUN_ON,
    Spell,
    first_walk,
    minutes_strip,
    spells,
)
from calculators.running_in.oil_pressure import STRAIGHT, SWITCH_OFF
from calculators.running_in.speed_limit import first_ceiling

_FAST = "Fast idle"
_LIMITS = "Limits to keep"
_WARMING = 10
"""Minutes of light throttle on the first drive, if the first run left none for the road."""


class FirstRun(Question):
    """Common practice for a rebuilt top end; the plan of the engine, ring or camshaft maker wins over it."""

    asks = "How do I run the engine the first time, minute by minute?"
    tells = "First run"
    deed = "Run the engine for the first time"
    works_out = ("first_drive_minutes",)

    cam = cam()
    load = choice("First load", LOADS, usual="road", shared_as="first_load", said="first load: {}")
    minutes = count(
        "Minutes of the first run",
        5,
        40,
        why="less does not warm it, more overheats a standing engine",
        hint="A new cam runs at its fast idle for all of them. If the load comes on the road, all but five are driven.",
        usual="20",
        shared_as="first_run_minutes",
        said="{} minutes",
    )
    fast_idle = fast_idle(refines=_FAST)
    least_pressure = optional(
        measure(
            "Least oil pressure at the fast idle",
            "bar",
            0.1,
            15,
            why="no such oil pump gives more",
            exact=True,
            hint="Worked out from the maker's two figures, or typed.",
            shared_as="least_oil_pressure",
            refines=_LIMITS,
            said="oil at least {}",
        )
    )
    temperature = optional(
        measure(
            "Highest oil temperature",
            "°C",
            60,
            180,
            why="oil in such engines",
            exact=True,
            hint="From the maker, if you have a gauge for it.",
            example="120 °C",
            shared_as="oil_temperature_highest",
            refines=_LIMITS,
            said="oil below {}",
        )
    )
    ceiling = optional(first_ceiling(refines=_LIMITS))

    def answer(self) -> Answer:
        low, high = self._fast_idle()
        speed = f"{low:.0f} to {high:.0f} r/min"
        found = spells(self.minutes, self.load, self._is_new)
        driven = self.minutes - found[-1].end
        headline = f"{found[-1].end} min at {speed}" + (f", then {driven} on the road" if driven else "")
        return Answer(
            headline=headline,
            says=self._sentence(found, speed, driven),
            record=f"First run: {headline}.",
            drawing=minutes_strip(found, self.minutes, speed),
            values=(
                Value(
                    key="fast_idle",
                    label="Fast idle",
                    quantity=speed,
                    formula="as typed, else by whether camshaft and tappets ran together before",
                    source=COMMON_PRACTICE,
                ),
                Value(
                    key="standing",
                    label="Run where it stands",
                    quantity=quantity(found[-1].end, "min"),
                    formula="all the minutes; five if the load comes on the road",
                    source=COMMON_PRACTICE,
                    given=(("minutes of the first run", self.minutes),),
                ),
                *self._pressure_values(),
            ),
            warnings=(CARBON_MONOXIDE, *((ROLLERS,) if self.load == "rollers" else ()), FUEL_MIST, FAN, BURNS),
            steps=first_walk(found, speed, self._limits),
            tables=(self._table(found, speed, driven),),
            notes=tuple(self._notes()),
            worked=(Worked(name="first_drive_minutes", value=driven or _WARMING),),
        )

    @property
    def _is_new(self) -> bool:
        return self.cam == "new"

    def _fast_idle(self) -> tuple[float, float]:
        """Return the fast idle, which the first ceiling must allow."""
        low, high = speeds_of(self.cam, self.fast_idle)
        ceiling = high if self.ceiling is None else magnitude_in(self.ceiling, "r/min")
        if ceiling < high and self.fast_idle:
            message = f"Fast idle must be lower: it goes up to {high:.0f} r/min, and the first ceiling is "
            raise InputErrors(FieldError("fast_idle", f"{message}{ceiling:.0f} r/min"))
        if ceiling < high:
            message = f"First ceiling must be higher: it comes to {ceiling:.0f} r/min, and the fast idle goes up to "
            raise InputErrors(FieldError("ceiling", f"{message}{high:.0f} r/min"))
        return low, high

    @property
    def _pressure(self) -> str:
        return "" if self.least_pressure is None else printed(self.least_pressure, symbol_of(self.least_pressure))

    @property
    def _hottest(self) -> str:
        return "" if self.temperature is None else printed(self.temperature, symbol_of(self.temperature), 0)

    @property
    def _limits(self) -> str:
        if self._pressure and self._hottest:
            return f"At least {self._pressure}, oil below {self._hottest}."
        if self._pressure:
            return f"At least {self._pressure}."
        return f"Oil below {self._hottest}." if self._hottest else ""

    def _sentence(self, found: Sequence[Spell], speed: str, driven: int) -> str:
        told = f"Start it and hold {speed} for {found[-1].end} minutes"
        if any(spell.loaded for spell in found):
            told += ", from the third minute on ten seconds of light load and twenty off"
        if driven:
            told += f"; after the cold check drive the other {driven}"
        return f"{told}."

    def _pressure_values(self) -> Iterator[Value]:
        if self.least_pressure is not None:
            yield Value(
                key="least_pressure",
                label="Least oil pressure at the fast idle",
                quantity=self.least_pressure,
                units=(symbol_of(self.least_pressure),),
                formula="on the straight line between the hot figures at idle and at speed, at the lower end of the "
                "fast idle; cold oil reads above it",
                source=STRAIGHT,
            )

    def _table(self, found: Sequence[Spell], speed: str, driven: int) -> ResultTable:
        limits = tuple(
            (key, label, text)
            for key, label, text in (
                ("pressure", "Oil at least", self._pressure),
                ("temperature", "Oil at most", self._hottest),
            )
            if text
        )
        texts = tuple(text for _, _, text in limits)
        rows = [
            (
                "plugs out",
                f"{BURSTS} bursts, {BURST_SECONDS} s each, a minute's rest",
                *("–" for _ in limits),
                "Gauge climbs on the starter, rockers wet. Else do not start.",
            ),
            *((spell.minutes, f"{spell.deed}: {speed}", *texts, spell.look) for spell in found),
        ]
        if driven:
            deed = "On the road after the cold check: light throttle, medium speed"
            rows.append((f"{found[-1].end} to {self.minutes}", deed, *texts, RUN_ON))
        return ResultTable(
            key="watch",
            title="The first run, by the minute",
            columns=(
                Column(key="minutes", label="Minutes", strong=True),
                Column(key="deed", label="Do", wide=True),
                *(Column(key=key, label=label) for key, label, _ in limits),
                Column(key="look", label="Look at", wide=True),
            ),
            rows=tuple(TableRow(cells=row) for row in rows),
            formula="spells of a few minutes, shorter at the beginning",
            source=COMMON_PRACTICE,
        )

    def _notes(self) -> Iterator[str]:
        yield SWITCH_OFF
        yield (
            "Run a new cam or new tappets at their fast idle first, with no load until then and never at a slow idle."
            if self._is_new
            else "Load presses the rings to the barrel; releasing draws oil up to wash and cool them."
        )
        yield "Minutes, fast idle, load and release are common practice, no source; the camshaft's maker wins."
        yield "Plans from the makers of engine, rings, camshaft and oil win over this one."
