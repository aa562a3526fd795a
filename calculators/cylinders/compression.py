"""Compression of each cylinder, dry, wet and after the job, and what the pattern points to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Literal

from calculators.bench import (
    COMMON_PRACTICE,
    DECISION,
    Answer,
    Column,
    FieldError,
    Finding,
    FoundPart,
    Lacking,
    Question,
    ResultTable,
    Row,
    Source,
    Stage,
    Step,
    Table,
    TableRow,
    Value,
    Walk,
    Worked,
    magnitude_in,
    quantity,
    shared,
)
from calculators.bench.units import printed, symbol_of
from calculators.bench.verdict import best_of, verdict_on
from calculators.bench.words import word
from calculators.cylinders import gauge
from calculators.cylinders.cautions import SPARK, TOO_CLOSE, lash_first
from calculators.cylinders.gauge import ATMOSPHERE, in_bar, in_percent
from calculators.cylinders.pattern import Read, pattern, pattern_after
from calculators.cylinders.pressures_drawing import Readings, drawn, pressures_figure
from calculators.cylinders.telling import BEFORE, each, sentences_of, sheet, together
from calculators.cylinders.wet_and_dry import VALVE_OR_JOINT, lift_of, recovered, verdicts_on
from calculators.formulas.standard_atmosphere import SEA_LEVEL


class Pressures(Row):
    """What the gauge read of one cylinder."""

    dry = gauge.pressure("Dry pressure", "dry", "Before the job, as found.", "7.4; 5.6; 7.2; 5.4")
    wet = gauge.pressure("Wet pressure", "wet", "With a teaspoon of oil in the cylinder.", "7.9; 7.3; 7.6; 5.8")
    dry_after = gauge.pressure("Dry pressure after the job", "dry_after", "", "7.9; 7.8; 8.0; 7.7")


class Compression(Question):
    """For cylinders tested alike: warm, plugs out, throttle open, same number of compressions, strong battery.

    The maker's limits are taken as for sea level and adjusted to your altitude. It is a pointer; only
    a look with the head off is proof.
    """

    asks = "Are the compressions good, and what do they point to?"
    tells = "Compression test"
    deed = "Test the compression"
    judges = True
    works_out = ("compression_verdict", "oil_lifts")

    cylinders = shared.cylinders()
    least_pressure = gauge.least_pressure()
    most_spread = gauge.most_spread()
    pressures = Table(
        Pressures,
        each="Cylinder {}",
        most=12,
        count="cylinders",
        hint="Warm, all plugs out, throttle wide open, the same six to eight compressions for each.",
    )
    altitude = gauge.altitude()
    air_temperature = gauge.air_temperature()
    gauge_error = gauge.gauge_error()
    gauge_scatter = gauge.gauge_scatter()

    def answer(self) -> Answer:
        found = self._read()
        before, after = pattern(found, self._least, self._spread), pattern_after(found, self._least, self._spread)
        suspects = {of.number: of.suspect for of in found}
        verdicts = [verdict for of in found for verdict in (of.verdict, of.verdict_after)]
        return Answer(
            headline=together(before[0], after[0]),
            says=" ".join(filter(None, (before[1], *sentences_of(suspects), after[1]))),
            drawing=pressures_figure(
                tuple(Readings(of.number, drawn(of.dry), drawn(of.wet), drawn(of.after), None) for of in found),
                None if self._least is None else best_of(self._least),
            ),
            values=tuple(self._values(found)),
            warnings=(
                SPARK,
                *lash_first([number for number, words in suspects.items() if words == VALVE_OR_JOINT]),
                *((TOO_CLOSE,) if "too close to call" in verdicts else ()),
            ),
            steps=_walk(found),
            tables=(self._table(found),),
            attachments=(_sheet(found),),
            notes=(
                "In a flat engine oil runs to the low side of the bore: the wet test seals less than it does upright. "
                "Turn the crank twice before you read, and trust the leakage test more than this one (common practice, "
                "no source).",
                gauge.MAY_DIFFER,
                gauge.LIMITS_WIN,
            ),
            findings=tuple(self._findings(found)),
            worked=tuple(
                Worked(name=f"{name}.{of.number}", value=value)
                for of in found
                for name, value in (("compression_verdict", of.verdict), ("oil_lifts", of.lift))
                if value
            ),
        )

    @property
    def _air(self) -> Any:
        return gauge.air_bar(self.altitude, self.air_temperature)

    @property
    def _least(self) -> Any | None:
        return self._here(self.least_pressure)

    @property
    def _spread(self) -> Any | None:
        return self._here(self.most_spread)

    def _here(self, limit: Any | None) -> Any | None:
        """Return a limit for sea level as it is in this air, in bar."""
        return None if limit is None else magnitude_in(limit, "bar") * self._air * 1e5 / SEA_LEVEL

    def _read(self) -> tuple[Read, ...]:
        dry, wet, after = (
            [gauge.bar_of(reading, self.gauge_error, self.gauge_scatter) for reading in readings]
            for readings in zip(*((row.dry, row.wet, row.dry_after) for row in self.pressures), strict=True)
        )
        if all(reading is None for reading in (*dry, *wet, *after)):
            raise Lacking(FieldError("dry.1", "Enter the dry pressure of cylinder 1, in bar"))
        verdicts, verdicts_after = (verdicts_on(readings, self._least, self._spread) for readings in (dry, after))
        shares = recovered(dry, wet, verdicts)
        return tuple(
            Read(
                number=place + 1,
                dry=dry[place],
                wet=wet[place],
                after=after[place],
                verdict=verdicts[place],
                verdict_after=verdicts_after[place],
                share=shares[place],
                lift=lift_of(dry[place], wet[place], shares[place]),
            )
            for place in range(self.cylinders)
        )

    def _findings(self, found: Sequence[Read]) -> Iterator[Finding]:
        limits = [key for key in ("least_pressure", "most_spread") if getattr(self, key) is not None]
        dry = [(of.number, of.dry, of.verdict) for of in found]
        then = [(of.number, of.after, of.verdict_after) for of in found]
        when: Literal["before", "after"]
        for when, cylinders in (("before", dry), ("after", then)):
            read = [(number, pressure, verdict) for number, pressure, verdict in cylinders if pressure is not None]
            if read:
                yield Finding(
                    key="compression",
                    what="compression",
                    gloss="pressure that a cylinder builds up",
                    parts=tuple(
                        FoundPart(f"cylinder {number}", quantity(pressure, "bar"), verdict)
                        for number, pressure, verdict in read
                    ),
                    units=("bar", "psi"),
                    low=None if self._least is None else quantity(self._least, "bar"),
                    apart=None if self._spread is None else quantity(self._spread, "bar"),
                    limits=tuple(limits),
                    when=when,
                )

    def _values(self, found: Sequence[Read]) -> Iterator[Value]:
        for key, words, readings in (
            ("spread", "dry", [(of.dry, of.number) for of in found]),
            ("spread_after", "after the job", [(of.after, of.number) for of in found]),
        ):
            yield from self._spread_value(key, words, readings)
        air = printed(quantity(self._air, "bar"), "kPa", 1)
        yield Value(
            key="air_pressure",
            label="Air pressure here",
            quantity=quantity(self._air, "bar"),
            units=("kPa",),
            places=1,
            formula="101.325 kPa × (T ÷ (T + 0.0065 K/m × altitude)) ^ 5.2559",
            source=ATMOSPHERE,
            given=(
                ("altitude", printed(self.altitude, symbol_of(self.altitude), 0)),
                ("T", quantity(magnitude_in(self.air_temperature, "K"), "K")),
            ),
        )
        if self._least is not None:
            yield Value(
                key="least_here",
                label="Least pressure for this air",
                quantity=quantity(self._least, "bar"),
                units=("bar", "psi"),
                formula="the maker's least pressure × air pressure here ÷ 101.325 kPa: gauge readings follow the "
                "outside pressure",
                source=ATMOSPHERE,
                given=(("maker's", self.least_pressure), ("air pressure", air)),
            )

    def _spread_value(self, key: str, words: str, readings: list[tuple[Any | None, int]]) -> Iterator[Value]:
        known = [(reading, number) for reading, number in readings if reading is not None]
        if len(known) < 2:
            return
        best = max(known, key=lambda pair: best_of(pair[0]))
        worst = min((pair for pair in known if pair is not best), key=lambda pair: best_of(pair[0]))
        spread = best[0] - worst[0]
        verdict = f": {word(verdict_on(spread, high=self._spread))}" if self._spread is not None else ""
        limit = () if self._spread is None else (("most", quantity(self._spread, "bar")),)
        yield Value(
            key=key,
            label=f"Greatest difference, {word(words)}, cylinder {best[1]} less {worst[1]}{verdict}",
            quantity=quantity(spread, "bar"),
            units=("bar", "psi"),
            formula="greatest reading less the least; in or out only if all of it, ± included, is",
            source=DECISION,
            given=(("greatest", quantity(best[0], "bar")), ("least", quantity(worst[0], "bar")), *limit),
        )

    def _table(self, found: Sequence[Read]) -> ResultTable:
        columns: tuple[tuple[Column, list[Any]], ...] = (
            (Column(key="dry", label="Dry", unit="bar", strong=True), [in_bar(of.dry) for of in found]),
            (Column(key="wet", label="Wet", unit="bar"), [in_bar(of.wet) for of in found]),
            (Column(key="rise", label="Rise", unit="bar"), [in_bar(of.rise) for of in found]),
            (
                Column(key="recovered", label="Share recovered", unit="%", places=0),
                [in_percent(of.share) for of in found],
            ),
            (Column(key="verdict", label="Verdict"), [of.verdict for of in found]),
            (Column(key="after", label="After the job", unit="bar"), [in_bar(of.after) for of in found]),
            (Column(key="verdict_after", label="Verdict then"), [of.verdict_after for of in found]),
        )
        shown = [(column, cells) for column, cells in columns if any(cell is not None for cell in cells)]
        return ResultTable(
            key="cylinders",
            title="Cylinder by cylinder",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                *(column for column, _ in shown),
                Column(key="points_to", label="Points to", wide=True),
            ),
            rows=tuple(
                TableRow(
                    cells=(str(of.number), *(cells[place] for _, cells in shown), of.suspect),
                    chosen="out" in (of.verdict, of.verdict_after),
                )
                for place, of in enumerate(found)
            ),
            formula="a cylinder is low by the best dry reading minus its own; share recovered: the wet rise, less the "
            "least rise of a sound cylinder; half or more: rings or bore; less: a valve or a joint",
            source=Source(f"{COMMON_PRACTICE}; the verdicts: {DECISION}"),
            given=tuple(
                (name, quantity(limit, "bar"))
                for name, limit in (("least", self._least), ("most difference", self._spread))
                if limit is not None
            ),
        )


def _walk(found: Sequence[Read]) -> Walk:
    numbers = [of.number for of in found]
    low = [of.number for of in found if of.verdict not in (None, "in")]
    throttle = Step(
        key="open",
        label="Throttle open",
        words="Tie the throttle wide open and take the air cleaner off.",
        large="Throttle open",
    )
    return Walk(
        key="compression",
        title="Cylinder by cylinder",
        stages=(
            Stage(title=BEFORE.title, steps=(*BEFORE.steps, throttle)),
            each(
                "dry",
                "Dry",
                numbers,
                "Screw the gauge into cylinder {}, crank six to eight compressions, write the reading down.",
            ),
            each(
                "wet",
                "Wet, the low ones" if low else "Wet",
                low or numbers,
                "A teaspoon of oil into cylinder {}, crank twice with the gauge out, then test it again.",
            ),
        ),
    )


def _sheet(found: Sequence[Read]) -> Any:
    return sheet(
        "compression.csv",
        ("cylinder", "dry, bar", "wet, bar", "dry after, bar", "verdict", "points to"),
        (
            (
                of.number,
                *("" if one is None else f"{best_of(one):.4g}" for one in (of.dry, of.wet, of.after)),
                word(of.verdict or ""),
                word(of.suspect),
            )
            for of in found
        ),
    )
