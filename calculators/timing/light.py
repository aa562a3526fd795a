"""What the timing light shows against the advance that is wanted, and which way the distributor goes."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    Answer,
    FieldError,
    Finding,
    FoundPart,
    InputErrors,
    Lacking,
    Question,
    Row,
    Table,
    angle,
    choice,
    optional,
    quantity,
    read_by_instrument,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.units import magnitude_in, number_in, plain
from calculators.bench.verdict import best_of, expanded_of, verdict_on
from calculators.formulas.ignition_timing import advance_at, evening_shift, guarded_shift
from calculators.timing import asked
from calculators.timing.advance import Curve, Light, Timing
from calculators.timing.advance_drawing import curve_figure
from calculators.timing.advance_told import cautions, headline, light_table, says, values
from calculators.timing.cautions import ARRIVE, MAKER_WINS

_CURVE = "The curve wanted"


class Reading(Row):
    """One reading of the light."""

    light_speed = asked.speed("Speed", example="850; 1500; 2000; 2500; 3000; 3500", shared_as="light_speed")
    light_advance = angle(
        "Advance",
        -60,
        90,
        why="no timing light shows more",
        example="7.5; 12; 17.5; 24.5; 29; 33.5",
        shared_as="light_advance",
        read_by="timing_light",
    )


class Bend(Row):
    """One bend of the curve."""

    bend_speed = asked.speed("Speed of the bend", shared_as="bend_speed")
    bend_advance = asked.advance("Advance there", shared_as="bend_advance")


class TimingLight(Question):
    """For the weights alone, vacuum hose off and plugged if the maker says so; degrees and speeds of the crank.

    It cannot hear the engine knock and does not know the fuel.
    """

    asks = "Is the advance right, and which way do I turn the distributor?"
    tells = "Ignition timing, by light"
    judges = True

    static_advance = asked.static_advance()
    full_advance = asked.full_advance()
    full_speed = asked.speed(
        "Speed of full advance",
        card=CardFacts.running.full_advance_speed.path,
        example="3000 r/min",
        shared_as="full_advance_speed",
        said="at {}",
    )
    light = Table(
        Reading,
        each="Reading {}",
        most=12,
        hint="Vacuum hose off and plugged if the maker says so. Degrees before the top; minus for after.",
    )
    start_speed = asked.speed(
        "Speed at which the advance begins",
        hint="At the crank. A distributor's own sheet shows half the degrees and half the speed.",
        card=CardFacts.running.advance_start_speed.path,
        usual="1000 r/min",
        shared_as="advance_start_speed",
        refines=_CURVE,
        said="from {}",
    )
    tolerance = asked.limit(
        "Tolerance of the advance",
        15,
        "2°",
        card=CardFacts.running.advance_tolerance.path,
        shared_as="advance_tolerance",
        refines=_CURVE,
        said="± {}",
    )
    between = Table(
        Bend,
        each="Bend {}",
        most=6,
        refines="Bends of the curve between",
        hint="If the curve is one straight line, leave empty.",
    )
    light_from = choice(
        "Mark read with the light",
        {"true": "The true top mark", "old": "The old mark, as the stop found it"},
        usual="true",
        shared_as="light_from",
        refines="Read by another mark",
        said="{}",
    )
    old_mark_early = optional(
        angle(
            "Old mark comes early by",
            -60,
            60,
            why="more means that another mark was used",
            hint="From the stop in the plug hole; minus for late.",
            shared_as="old_mark_early",
            refines="Read by another mark",
            said="early by {}",
        )
    )
    light_error = asked.limit(
        "Error limit of the timing light",
        10,
        "1°",
        hint="Plus or minus, the same at every reading.",
        shared_as="light_error",
        refines=asked.READINGS,
        said="light ± {}",
    )
    light_read_to = asked.limit(
        "Light read to",
        5,
        "0.5°",
        hint="Plus or minus, random at each reading: the mark dances.",
        shared_as="light_read_to",
        refines=asked.READINGS,
        said="read to ± {}",
    )

    def answer(self) -> Answer:
        curve = self._curve()
        if not self.light:
            raise Lacking(
                FieldError("light_speed.1", "Enter the speed of reading 1, in revolutions a minute"),
                FieldError("light_advance.1", "Enter the advance of reading 1, in degrees"),
            )
        timing = self._timed(curve)
        return Answer(
            headline=headline(timing),
            says=says(timing),
            drawing=curve_figure(
                timing.curve,
                timing.tolerance,
                tuple((of.speed, best_of(of.advance), expanded_of(of.advance), of.verdict) for of in timing.readings),
            ),
            values=tuple(values(timing)),
            warnings=tuple(cautions(timing)),
            tables=(light_table(timing),),
            findings=(
                Finding(
                    key="light",
                    what="ignition timing ahead of its curve by",
                    gloss="when the spark comes",
                    parts=tuple(
                        FoundPart(f"at {plain(of.speed)} r/min", quantity(of.deviation, "°"), of.verdict)
                        for of in timing.readings
                    ),
                    units=("°",),
                    places=1,
                    low=-self.tolerance,
                    high=self.tolerance,
                    limits=("tolerance",),
                ),
            ),
            notes=(
                MAKER_WINS,
                ARRIVE,
                "If static and full advance cannot both be right, set full advance: it protects the pistons (common "
                "practice, no source).",
                "Also read each plug lead in turn. More than about three degrees between them means a worn distributor "
                "(common practice, no source).",
                "The revolution counter is assumed to be right.",
            ),
        )

    def _curve(self) -> Curve:
        static, full = magnitude_in(self.static_advance, "°"), magnitude_in(self.full_advance, "°")
        asked.refuse_full_below_static(self.static_advance, self.full_advance)
        start, end = magnitude_in(self.start_speed, "r/min"), magnitude_in(self.full_speed, "r/min")
        if end <= start:
            message = f"Speed of full advance must be above the speed at which the advance begins, {plain(start)} r/min"
            raise InputErrors(FieldError("full_speed", message))
        bends = [(magnitude_in(of.bend_speed, "r/min"), magnitude_in(of.bend_advance, "°")) for of in self.between]
        curve = ((start, static), *bends, (end, full))
        for row, (before, here, after) in enumerate(zip(curve, curve[1:], curve[2:], strict=False), 1):
            if not before[0] < here[0] < end or after[0] <= here[0]:
                message = f"must rise from one bend to the next, between {plain(start)} and {plain(end)} r/min"
                raise InputErrors(FieldError(f"bend_speed.{row}", f"Speed of bend {row} {message}"))
        return curve

    def _timed(self, curve: Curve) -> Timing:
        tolerance, end = magnitude_in(self.tolerance, "°"), curve[-1][0]
        shown = read_by_instrument(
            [of.light_advance for of in self.light],
            "°",
            instrument="timing light",
            limit=self.light_error,
            read_to=self.light_read_to,
        )
        early = self._early()
        readings = []
        for of, advance in zip(self.light, shown, strict=True):
            turns = magnitude_in(of.light_speed, "r/min")
            wanted, true = advance_at(turns, curve), advance + early
            readings.append(Light(turns, true, wanted, verdict_on(true - wanted, -tolerance, tolerance)))
        deviations = [best_of(of.deviation) for of in readings]
        at_full = [best_of(of.deviation) for of in readings if of.speed >= end]
        shift = guarded_shift(deviations, at_full, tolerance)
        return Timing(
            curve=curve,
            tolerance=tolerance,
            full=curve[-1][1],
            readings=tuple(sorted(readings, key=lambda of: of.speed)),
            shift=shift,
            rest=max(abs(deviation - shift) for deviation in deviations),
            guarded=shift > evening_shift(deviations)[0],
            full_read=bool(at_full),
        )

    def _early(self) -> Any:
        """Return what a reading by the mark in use is short of the truth."""
        if self.light_from == "true":
            return 0.0
        if self.old_mark_early is None:
            raise Lacking(FieldError("old_mark_early", "Enter by how much the old mark comes early, in degrees"))
        return number_in(self.old_mark_early, "°")
