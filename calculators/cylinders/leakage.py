"""How much of the air each cylinder lets out, through what hole, and where it is heard."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Literal

from calculators.bench import (
    Answer,
    Entry,
    FieldError,
    Finding,
    FoundPart,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    Row,
    Source,
    Stage,
    Step,
    Table,
    Value,
    Walk,
    Worked,
    choice,
    length,
    magnitude_in,
    measure,
    number,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.units import printed, symbol_of
from calculators.bench.verdict import best_of
from calculators.bench.words import listed, word
from calculators.cylinders import gauge
from calculators.cylinders.cautions import CRANK, SPARK_OFF, TOO_CLOSE, lash_first
from calculators.cylinders.heard import HEARD, TELLS
from calculators.cylinders.leak import Leak, Tester
from calculators.cylinders.leak_tables import leak_table, listen_table
from calculators.cylinders.leak_told import suspect, told, told_after
from calculators.cylinders.leaks_drawing import leaks_figure
from calculators.cylinders.pressures_drawing import drawn
from calculators.cylinders.telling import BEFORE, each, sheet, together

_TESTER = Source("definition of the two gauges of a leakage tester", "identity")
_ORIFICE = "The tester's orifice"
_GOOD = "How good the tester is"


def _held(label: str, key: str, hint: str, example: str) -> Entry[Quantity | None]:
    return optional(
        measure(
            label,
            "bar",
            0,
            12,
            why="shop air",
            hint=hint,
            example=example,
            shared_as=key,
            read_by="leakage_tester",
        )
    )


heard_at = optional(
    choice("Place where it is heard", HEARD, example="oil; oil; nowhere; exhaust", shared_as="leak_heard")
)


class Tested(Row):
    """What the tester showed of one cylinder."""

    held = _held("Held pressure", "held", "What the cylinder's gauge shows.", "5.0; 4.1; 5.1; 3.6")
    flow = optional(
        number(
            "Flow in l/min",
            0,
            2000,
            why="shop air",
            hint="Free air, where the tester has a flow meter instead.",
            shared_as="flow",
            read_by="leakage_tester",
        )
    )
    heard = heard_at()
    held_after = _held("Held pressure after the job", "held_after", "", "5.1; 5.1; 5.2; 5.0")


class Leakage(Question):
    """For a tester with an orifice: two gauges, or a flow meter.

    Compare readings of one tester only, or the holes. Assumes an ideal gas without friction through the orifice. It is
    a pointer; only a look with the head off is proof.
    """

    asks = "What leaks, how much, and where?"
    tells = "Leakage test"
    deed = "Test for leakage"
    judges = True
    works_out = ("leak_verdict",)

    cylinders = shared.cylinders()
    supply = measure(
        "Supply pressure",
        "bar",
        0.3,
        12,
        why="shop air",
        hint="Before the orifice, with air flowing.",
        example="5.5 bar",
        shared_as="leak_supply",
        read_by="leakage_tester",
        said="from {}",
    )
    most_leakage = measure(
        "Most leakage",
        "%",
        1,
        90,
        why="a share of the whole",
        exact=True,
        hint="Below 10 % is good, common practice; FAA AC 43.13-1B, 8-14, lets a quarter go. The maker's limit wins.",
        usual="20%",
        shared_as="most_leakage",
        said="at most {}",
    )
    leaks = Table(
        Tested,
        each="Cylinder {}",
        most=12,
        count="cylinders",
        hint="Piston at its firing top, crank held. Gauge behind the orifice, or the flow: if you type a flow, the "
        "held pressure is ignored.",
    )
    orifice = optional(
        length(
            "Orifice",
            0.2,
            6,
            why="leakage testers",
            exact=True,
            hint="Its diameter. Gives the leak as a hole of that size.",
            example="1 mm",
            shared_as="leak_orifice",
            refines=_ORIFICE,
            said="{}",
        )
    )
    discharge = number(
        "Discharge coefficient of the orifice",
        0.5,
        1,
        why="a jet cannot be wider than its hole",
        hint="0.8 for a drilled one, near 1 for a rounded one. Common practice.",
        usual="0.8",
        shared_as="leak_discharge",
        refines=_ORIFICE,
        said="coefficient {}",
    )
    altitude = gauge.altitude()
    air_temperature = gauge.air_temperature()
    leak_error = gauge.tester_error()
    flow_error = shared.error_limit(
        "Error limit of the flow meter",
        "%",
        50,
        why="a less accurate meter is no use",
        hint="Plus or minus, of what it shows.",
        usual="5%",
        shared_as="leak_flow_error",
        refines=_GOOD,
        said="flow ± {}",
    )

    def answer(self) -> Answer:
        found, after = self._found()
        heard = [row.heard or "nowhere" for row in self.leaks]
        suspects = {
            number: suspect(leak, place) for number, (leak, place) in enumerate(zip(found, heard, strict=True), 1)
        }
        before, then = told(found, suspects), told_after(after)
        valves = [number for number, words in suspects.items() if words in (TELLS["exhaust"], TELLS["inlet"])]
        verdicts = [leak.verdict for leak in (*found, *after) if leak]
        both = [number for number, row in enumerate(self.leaks, 1) if row.held is not None and row.flow is not None]
        return Answer(
            headline=together(before[0], then[0]),
            says=" ".join(filter(None, (before[1], then[1]))),
            drawing=leaks_figure(
                tuple(
                    (number, drawn(leak and leak.share), drawn(leak_after and leak_after.share))
                    for number, (leak, leak_after) in enumerate(zip(found, after, strict=True), 1)
                ),
                magnitude_in(self.most_leakage, "%"),
            ),
            values=(
                *self._worst("worst_leak", "Worst leakage", found),
                *self._worst("worst_leak_after", "Worst leakage after the job", after),
            ),
            warnings=(
                CRANK,
                SPARK_OFF,
                *lash_first(valves),
                *((TOO_CLOSE,) if "too close to call" in verdicts else ()),
            ),
            steps=self._walk(),
            tables=(
                leak_table(found, after, heard, self.supply, self.orifice, self.discharge, self.most_leakage),
                listen_table(),
            ),
            attachments=(_sheet(found, after, suspects),),
            notes=(
                *((f"The held pressure of {listed(both)} is ignored: you typed a flow.",) if both else ()),
                "A sound engine leaks a little past the rings, about the same in every cylinder "
                "(common practice, no source).",
                "Aircraft practice tests with 80 psi through 0.040 in for bores below 5 in (FAA AC 43.13-1B, change "
                "1, paragraph 8-14). Testers with other orifices read differently.",
                gauge.LIMITS_WIN,
            ),
            findings=tuple(self._findings(found, after)),
            worked=tuple(
                Worked(name=f"leak_verdict.{number}", value=leak.verdict)
                for number, leak in enumerate(found, 1)
                if leak
            ),
        )

    def _found(self) -> tuple[list[Leak | None], list[Leak | None]]:
        columns = [(row.held, row.flow, row.held_after) for row in self.leaks]
        if all(one is None for row in columns for one in row):
            raise Lacking(FieldError("held.1", "Enter what the leakage tester shows: held pressure or flow"))
        tester = Tester(
            supply=self.supply,
            error=self.leak_error,
            flow_share=magnitude_in(self.flow_error, "%") / 100,
            orifice=self.orifice,
            discharge=self.discharge,
            air=gauge.air_bar(self.altitude, self.air_temperature),
            kelvin=number_in(self.air_temperature, "K"),
            most=magnitude_in(self.most_leakage, "%"),
        )
        errors: list[FieldError] = []
        before: list[Leak | None] = []
        after: list[Leak | None] = []
        for place, (held, flow, held_after) in enumerate(columns, 1):
            for leaks, key, one, metered in ((before, "held", held, flow), (after, "held_after", held_after, None)):
                try:
                    leaks.append(tester.leak(key, place, one, metered))
                except Lacking:
                    raise
                except InputErrors as wrong:
                    errors += wrong.errors
        if errors:
            raise InputErrors(*errors)
        return before, after

    def _findings(self, found: Sequence[Leak | None], after: Sequence[Leak | None]) -> Iterator[Finding]:
        when: Literal["before", "after"]
        for when, leaks in (("before", found), ("after", after)):
            if any(leaks):
                yield Finding(
                    key="leakage",
                    what="leakage of the cylinders",
                    gloss="share of the air that a cylinder lets out",
                    parts=tuple(
                        FoundPart(f"cylinder {number}", quantity(leak.share, "%"), leak.verdict)
                        for number, leak in enumerate(leaks, 1)
                        if leak
                    ),
                    units=("%",),
                    places=0,
                    high=self.most_leakage,
                    limits=("most_leakage",),
                    when=when,
                )

    def _worst(self, key: str, label: str, leaks: Sequence[Leak | None]) -> Iterator[Value]:
        known = [(leak, number) for number, leak in enumerate(leaks, 1) if leak]
        if not known:
            return
        worst, number = max(known, key=lambda pair: best_of(pair[0].share))
        yield Value(
            key=key,
            label=f"{label}, cylinder {number}: {word(worst.verdict)}",
            quantity=quantity(worst.share, "%"),
            places=0,
            formula="100 × (supply − held) ÷ supply, on the gauges; in or out only if all of it is",
            source=_TESTER,
            given=(("supply", self.supply), ("held", quantity(worst.held, "bar")), ("most", self.most_leakage)),
        )

    def _walk(self) -> Walk:
        air = printed(self.supply, symbol_of(self.supply))
        last = (
            Step(key="air_off", label="Air off", words="Air off, and the cylinder empty.", large="Air off"),
            Step(
                key="free",
                label="Lock off",
                words="Lock and bar off before anybody reaches for the key; then plugs, coil and fuel back.",
                large="Lock and bar off",
            ),
        )
        return Walk(
            key="leakage",
            title="Cylinder by cylinder",
            stages=(
                BEFORE,
                each(
                    "leak",
                    "Leakage, at its firing top",
                    range(1, self.cylinders + 1),
                    f"Hold the crank at the firing top of cylinder {{}}, raise the air slowly to {air}, read, listen.",
                ),
                Stage(title="After", steps=last),
            ),
        )


def _sheet(found: Sequence[Leak | None], after: Sequence[Leak | None], suspects: dict[int, str]) -> Any:
    return sheet(
        "leakage.csv",
        ("cylinder", "leakage, %", "leakage after, %", "verdict", "points to"),
        (
            (
                number,
                *("" if one is None else f"{best_of(one.share):.4g}" for one in (leak, leak_after)),
                word(leak.verdict) if leak else "",
                word(suspects[number]),
            )
            for number, (leak, leak_after) in enumerate(zip(found, after, strict=True), 1)
        ),
    )
