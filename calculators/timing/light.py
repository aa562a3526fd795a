"""What the timing light shows against the advance that is wanted, and which way the distributor goes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators._timing.drawing import curve_figure
from calculators._timing.spark import Curve, Light, Timing, runs_back
from calculators._timing.values import DECISION, timing_values, turn_to
from calculators._units import figures, magnitude_in, number_in, plain, printed
from calculators._verdict import best_of, expanded_of, verdict_on
from calculators.bench import (
    Answer,
    Caution,
    Column,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    angle,
    choice,
    optional,
    quantity,
    read_by_instrument,
)
from calculators.formulas.ignition_timing import advance_at, evening_shift, guarded_shift
from calculators.timing import asked
from calculators.timing.cautions import ARRIVE, MAKER_WINS, UNDER_THE_LIGHT

_CURVE = "The curve wanted"
_TURNED = 0.05
"""Degrees of the crank: nobody turns a distributor by less."""


class Reading(Row):
    """One reading of the light."""

    light_speed = asked.speed("Speed", example="850; 1500; 2000; 2500; 3000; 3500", shared_as="light_speed")
    light_advance = angle(
        "Advance",
        -60,
        90,
        why="no light shows more",
        example="7.5; 12; 17.5; 24.5; 29; 33.5",
        shared_as="light_advance",
        read_by="timing_light",
    )


class Bend(Row):
    """One bend of the curve."""

    bend_speed = asked.speed("Speed of the bend", shared_as="bend_speed")
    bend_advance = asked.advance("Advance there", shared_as="bend_advance")


class TimingLight(Question):
    """Of weights alone, the vacuum hose off and plugged where the maker wants it so; degrees and speeds of the crank.

    It does not hear the engine knock, and does not know the fuel.
    """

    asks = "Is the advance right, and which way do I turn the distributor?"

    static_advance = asked.static_advance()
    full_advance = asked.full_advance()
    full_speed = asked.speed(
        "Speed of full advance",
        card="running.full_advance_speed",
        example="3000 r/min",
        shared_as="full_advance_speed",
        said="at {}",
    )
    light = Table(
        Reading,
        each="Reading {}",
        most=12,
        hint="Vacuum hose off and plugged where the maker wants it so. Degrees before the top; minus for after.",
    )
    start_speed = asked.speed(
        "Speed at which the advance begins",
        hint="Of the crank. A sheet for the distributor alone has half the degrees and half the speed.",
        card="running.advance_start_speed",
        usual="1000 r/min",
        shared_as="advance_start_speed",
        refines=_CURVE,
        said="from {}",
    )
    tolerance = asked.limit(
        "Tolerance of the advance",
        15,
        "2°",
        card="running.advance_tolerance",
        shared_as="advance_tolerance",
        refines=_CURVE,
        said="± {}",
    )
    between = Table(
        Bend, each="Bend {}", most=6, refines="Bends of the curve between", hint="Where it is one straight line, none."
    )
    light_from = choice(
        "Mark that the light was read by",
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
            why="beyond, another mark was taken",
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
        hint="Plus or minus, alike at every reading.",
        shared_as="light_error",
        refines=asked.READINGS,
        said="light ± {}",
    )
    light_read_to = asked.limit(
        "Light read to",
        5,
        "0.5°",
        hint="Plus or minus, by itself at each reading: the mark dances.",
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
            headline=_headline(timing),
            says=_says(timing),
            drawing=curve_figure(
                timing.curve,
                timing.tolerance,
                tuple((of.speed, best_of(of.advance), expanded_of(of.advance), of.verdict) for of in timing.readings),
            ),
            values=tuple(timing_values(timing)),
            warnings=tuple(_cautions(timing)),
            tables=(_table(timing),),
            notes=(
                MAKER_WINS,
                ARRIVE,
                "Where standing still and full advance cannot both be right, full advance guards the pistons (common "
                "practice, no source).",
                "Read each plug lead in turn as well. More than about three degrees between them is a worn distributor "
                "(common practice, no source).",
            ),
        )

    def _curve(self) -> Curve:
        static, full = magnitude_in(self.static_advance, "°"), magnitude_in(self.full_advance, "°")
        if full < static:
            least = printed(self.static_advance, "°", 1)
            message = f"Full advance must be no less than the static advance, {least}"
            raise InputErrors(FieldError("full_advance", message))
        start, end = magnitude_in(self.start_speed, "r/min"), magnitude_in(self.full_speed, "r/min")
        if end <= start:
            message = f"Speed of full advance must be above the speed at which the advance begins, {plain(start)} r/min"
            raise InputErrors(FieldError("full_speed", message))
        bends = [(magnitude_in(of.bend_speed, "r/min"), magnitude_in(of.bend_advance, "°")) for of in self.between]
        curve = ((start, static), *bends, (end, full))
        for row, (before, here, after) in enumerate(zip(curve, curve[1:], curve[2:], strict=False), 1):
            if not before[0] < here[0] < end or after[0] <= here[0]:
                message = f"must rise from bend to bend, between {plain(start)} and {plain(end)} r/min"
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


def _is_turned(timing: Timing) -> bool:
    return timing.shift is not None and abs(timing.shift) >= _TURNED


def _headline(timing: Timing) -> str:
    """Return what to do, in three words and a number."""
    count, shift, rest = len(timing.readings), timing.shift or 0.0, timing.rest or 0.0
    if all(of.verdict == "in" for of in timing.readings):
        return "In: leave it" if count == 1 else f"All {count} in: leave it"
    if shift <= -_TURNED and not timing.full_read:
        return "Read full advance first"
    turned = f"{turn_to(shift).removesuffix(' it').capitalize()} by {figures(abs(shift), 1)}°"
    if rest > timing.tolerance:
        return f"{turned}, and mend the curve" if timing.guarded and _is_turned(timing) else "Mend the curve"
    return turned if _is_turned(timing) else "Too close to call"


def _says(timing: Timing) -> str:
    shift, rest, count = timing.shift or 0.0, timing.rest or 0.0, len(timing.readings)
    keeping = sum(of.verdict == "in" for of in timing.readings)
    told = f"Of {count} readings of the light {keeping} {'is' if keeping == 1 else 'are'} in"
    turned = f"{turn_to(shift)} by {figures(abs(shift), 1)}° of the crank"
    if count == keeping:
        return f"{told}."
    if shift <= -_TURNED and not timing.full_read:
        return f"{told}; read it at full advance, {timing.curve[-1][0]:.0f} r/min or more, before you advance it."
    if timing.guarded and rest > timing.tolerance:
        return (
            f"{told}, and no turn of the distributor brings all within {figures(timing.tolerance, 1)}° with full "
            f"advance right: {turned if _is_turned(timing) else 'do not advance it'}, for full advance is then "
            "right, and look at weights, springs and shaft."
        )
    if rest > timing.tolerance:
        return (
            f"{told}, and no turn of the distributor brings all within {figures(timing.tolerance, 1)}°: "
            "look at weights, springs and shaft."
        )
    if _is_turned(timing):
        return f"{told}; {turned} and read again."
    return f"{told}; read the others again with a better light."


def _cautions(timing: Timing) -> Iterator[Caution]:
    yield UNDER_THE_LIGHT
    beyond = [of for of in timing.readings if best_of(of.advance) > timing.full + timing.tolerance]
    if beyond:
        most = max(beyond, key=lambda of: best_of(of.advance))
        yield Caution(
            "warning",
            f"{figures(best_of(most.advance), 1)}° at {most.speed:.0f} r/min is beyond full advance and its tolerance. "
            "Too early a spark holes pistons. Do not load the engine until it is retarded.",
        )
    if runs_back(timing):
        yield Caution(
            "caution", "The advance falls while the speed rises. Look at the weights before you set anything."
        )


def _table(timing: Timing) -> ResultTable:
    return ResultTable(
        key="light",
        title="What the light shows, and what the curve wants",
        columns=(
            Column(key="speed", label="Speed", unit="r/min", places=0),
            Column(key="read", label="Read", unit="°", places=1, strong=True),
            Column(key="wanted", label="Wanted", unit="°", places=1),
            Column(key="deviation", label="Off", unit="°", places=1),
            Column(key="verdict", label="Verdict"),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    quantity(of.speed, "r/min"),
                    quantity(of.advance, "°"),
                    quantity(of.wanted, "°"),
                    quantity(best_of(of.deviation), "°"),
                    of.verdict,
                ),
                chosen=of.verdict == "out",
            )
            for of in timing.readings
        ),
        formula="wanted: straight from bend to bend, level before the first and behind the last; in where the whole "
        "reading, with its uncertainty, is within the tolerance",
        source=DECISION,
        given=(
            ("tolerance", quantity(timing.tolerance, "°")),
            ("curve", "; ".join(f"{figures(angle, 1)}° at {speed:.0f} r/min" for speed, angle in timing.curve)),
        ),
    )
