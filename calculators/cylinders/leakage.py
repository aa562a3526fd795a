"""How much of the air each cylinder lets out, through what hole, and where it is heard."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from calculators._cylinder_tests.drawing import leaks_figure
from calculators._cylinder_tests.findings import HEARD, TELLS, THEN, Leak
from calculators._units import figures, number_in, plain, printed, symbol_of
from calculators._verdict import best_of, expanded_of, verdict_on
from calculators._words import listed, word
from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Column,
    Entry,
    FieldError,
    InputErrors,
    Lacking,
    Quantity,
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
    choice,
    length,
    magnitude_in,
    measure,
    number,
    optional,
    quantity,
    read_by_instrument,
    shared,
)
from calculators.bench.entries import either_way
from calculators.bench.instruments import common_error
from calculators.cylinders import gauge
from calculators.cylinders.cautions import CRANK, SPARK_OFF, TOO_CLOSE, lash_first
from calculators.cylinders.gauge import in_bar, in_percent
from calculators.cylinders.telling import BEFORE, counted, each, sentences_of, sheet, together
from calculators.formulas.leakage import CRITICAL, flow_factor, held_ratio, hole_share, leak_share, mass_flow
from calculators.formulas.standard_atmosphere import GAS_CONSTANT

_TESTER = Source("definition of the two gauges of a leakage tester", "identity")
_FLOW = Source("Aeronautical Engineer's Data Book, p. 255, compressible flow; the orifice's coefficient as typed")
_ORIFICE = "The tester's orifice"
_GOOD = "How good the tester is"
_LEAST_HELD = 0.01
"""bar in the cylinder below which no hole is wide enough to be told."""
UNHEARD = "leaks, but where is not heard yet"
AGAIN = "too close to call: test it again"


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


def heard_at() -> Entry[str | None]:
    """Ask where the air is heard."""
    return optional(
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
    """For a tester with an orifice: two gauges, or a flow meter. Compare readings of one tester only, or the holes.

    Ideal gas without friction through the orifice. It points; only the eye, with the head off, proves.
    """

    asks = "What leaks, how much, and where?"
    works_out = ("leak_verdict",)

    cylinders = shared.cylinders()
    supply = measure(
        "Supply pressure",
        "bar",
        0.3,
        12,
        why="shop air",
        hint="Before the orifice, air flowing.",
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
        hint="Piston at its firing top, crank held. Gauge behind the orifice, or the flow: where a flow is typed, the "
        "held pressure is left out.",
    )
    orifice = optional(
        length(
            "Orifice",
            0.2,
            6,
            why="leakage testers",
            hint="Its diameter; with it the leak becomes a hole of a size.",
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
        why="a jet is no wider than its hole",
        hint="0.8 for a drilled one, near 1 for a rounded one. Common practice.",
        usual="0.8",
        shared_as="leak_discharge",
        refines=_ORIFICE,
        said="coefficient {}",
    )
    altitude = gauge.altitude()
    air_temperature = gauge.air_temperature()
    leak_error = gauge.tester_error()
    flow_error = either_way(
        measure(
            "Error limit of the flow meter",
            "%",
            0,
            50,
            why="a meter further off decides nothing",
            exact=True,
            hint="Plus or minus, of what it shows.",
            usual="5%",
            shared_as="leak_flow_error",
            refines=_GOOD,
            said="flow ± {}",
        )
    )

    def answer(self) -> Answer:
        found, after = self._found()
        heard = [row.heard or "nowhere" for row in self.leaks]
        suspects = {
            number: _suspect(leak, place) for number, (leak, place) in enumerate(zip(found, heard, strict=True), 1)
        }
        before, then = _told(found, suspects), _told_after(after)
        valves = [number for number, words in suspects.items() if words in (TELLS["exhaust"], TELLS["inlet"])]
        verdicts = [leak.verdict for leak in (*found, *after) if leak]
        both = [number for number, row in enumerate(self.leaks, 1) if row.held is not None and row.flow is not None]
        return Answer(
            headline=together(before[0], then[0]),
            says=" ".join(filter(None, (before[1], then[1]))),
            drawing=leaks_figure(
                tuple(
                    (number, _pair(leak), _pair(leak_after))
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
            tables=(self._table(found, after, heard), _listen()),
            attachments=(_sheet(found, after, suspects),),
            notes=(
                *((f"The held pressure of {listed(both)} is left out: a flow was typed.",) if both else ()),
                "Leakage past the rings alone, a little and alike in all, is what a sound engine shows "
                "(common practice, no source).",
                "Aircraft practice tests with 80 psi through 0.040 in for bores below 5 in (FAA AC 43.13-1B, change "
                "1, paragraph 8-14). Testers with other orifices read otherwise.",
                gauge.LIMITS_WIN,
            ),
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
        errors: list[FieldError] = []
        before: list[Leak | None] = []
        after: list[Leak | None] = []
        for place, (held, flow, held_after) in enumerate(columns, 1):
            for leaks, key, one, metered in ((before, "held", held, flow), (after, "held_after", held_after, None)):
                try:
                    leaks.append(self._leak(key, place, one, metered))
                except Lacking:
                    raise
                except InputErrors as wrong:
                    errors += wrong.errors
        if errors:
            raise InputErrors(*errors)
        return before, after

    def _leak(self, key: str, place: int, held: Quantity | None, flow: float | None) -> Leak | None:
        if held is None and flow is None:
            return None
        air, kelvin = gauge.air_bar(self.altitude, self.air_temperature), magnitude_in(self.air_temperature, "K")
        supply = self._gauge(self.supply, "supply gauge")
        if flow is not None:
            behind = self._held_by_flow(place, flow, supply, air, kelvin)
        elif held is not None:
            behind = self._gauge(held, "cylinder's gauge")
            if best_of(behind) > best_of(supply):
                label = "Held pressure" if key == "held" else "Held pressure after the job"
                message = (
                    f"{label} of cylinder {place} must be no more than the supply pressure, "
                    f"{printed(self.supply, 'bar')}"
                )
                raise InputErrors(FieldError(f"{key}.{place}", message))
        share = leak_share(supply, behind)
        verdict = verdict_on(share, high=magnitude_in(self.most_leakage, "%"))
        if self.orifice is None:
            return Leak(behind, share, verdict, None, None)
        bore, before, inside = magnitude_in(self.orifice, "mm"), best_of(supply) + air, best_of(behind) + air
        area = math.pi / 4 * (bore / 1000) ** 2 * self.discharge
        through = mass_flow(before * 1e5, inside * 1e5, kelvin, area)
        litres = through * 60_000 * GAS_CONSTANT * kelvin / (air * 1e5)
        hole = None
        if inside - air > _LEAST_HELD:
            hole = bore * math.sqrt(hole_share(before, inside, air) * self.discharge)
        return Leak(behind, share, verdict, hole, litres)

    def _gauge(self, value: Quantity, instrument: str) -> Any:
        return read_by_instrument([value], "bar", instrument=instrument, limit=self.leak_error)[0]

    def _held_by_flow(self, place: int, flow: float, supply: Any, air: float, kelvin: float) -> Any:
        """Return the gauge pressure in the cylinder, in bar, from what flows through the orifice."""
        if self.orifice is None:
            raise Lacking(FieldError("orifice", "Enter the orifice, in millimetres"))
        share = magnitude_in(self.flow_error, "%") / 100
        metered = flow * (1.0 + common_error("tester's flow meter", share))
        area = math.pi / 4 * (number_in(self.orifice, "mm") / 1000) ** 2 * self.discharge
        before = (supply + air) * 1e5
        factor = metered * (air * 1e5) / (60_000 * math.sqrt(GAS_CONSTANT * kelvin)) / (before * area)
        open_end = flow_factor(max(CRITICAL, air / best_of(supply + air)))
        if best_of(factor) >= open_end:
            most = best_of(metered) * open_end / best_of(factor)
            message = (
                f"Flow in l/min of cylinder {place} must be less than {plain(float(f'{most:.3g}'))}, all that this "
                "orifice passes at this supply pressure"
            )
            raise InputErrors(FieldError(f"flow.{place}", message))
        return held_ratio(factor) * (supply + air) - air if best_of(factor) > 0 else supply

    def _worst(self, key: str, label: str, leaks: Sequence[Leak | None]) -> Iterator[Value]:
        known = [(leak, number) for number, leak in enumerate(leaks, 1) if leak]
        if not known:
            return
        worst, number = max(known, key=lambda pair: best_of(pair[0].share))
        yield Value(
            key=key,
            label=f"{label}, cylinder {number}: {word(worst.verdict)}",
            quantity=quantity(worst.share, "%"),
            units=("%",),
            places=0,
            formula="100 × (supply − held) ÷ supply, on the gauges; in or out only where the whole of it is",
            source=_TESTER,
            given=(("supply", self.supply), ("held", quantity(worst.held, "bar")), ("most", self.most_leakage)),
        )

    def _table(self, found: Sequence[Leak | None], after: Sequence[Leak | None], heard: Sequence[str]) -> ResultTable:
        known = [
            *((str(number), leak, HEARD[heard[number - 1]]) for number, leak in enumerate(found, 1) if leak),
            *((f"{number}, after", leak, None) for number, leak in enumerate(after, 1) if leak),
        ]
        picks: tuple[tuple[Column, Callable[[Leak], Any]], ...] = (
            (Column(key="held", label="Held", unit="bar"), lambda leak: in_bar(leak.held)),
            (
                Column(key="share", label="Leakage", unit="%", places=0, strong=True),
                lambda leak: in_percent(leak.share),
            ),
            (
                Column(key="hole", label="As a hole of", unit="mm"),
                lambda leak: None if leak.hole is None else quantity(leak.hole, "mm"),
            ),
            (Column(key="flow", label="Free air, l/min", places=1), lambda leak: leak.flow),
            (Column(key="leak_verdict", label="Verdict"), lambda leak: leak.verdict),
        )
        shown = [(column, pick) for column, pick in picks if any(pick(leak) is not None for _, leak, _ in known)]
        return ResultTable(
            key="leakage",
            title="Leakage",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                *(column for column, _ in shown),
                Column(key="heard", label="Heard at", wide=True),
            ),
            rows=tuple(
                TableRow(cells=(name, *(pick(leak) for _, pick in shown), where), chosen=leak.verdict == "out")
                for name, leak, where in known
            ),
            formula="leakage: 100 × (supply − held) ÷ supply; flow: p·A·C·ψ ÷ √(R·T), ψ by the ratio of absolute "
            "pressures, γ = 1.4, choked below 0.528; hole and flow are best estimates; the hole passes from "
            "cylinder to open air what the orifice passes into it",
            source=_FLOW,
            given=(
                ("supply", self.supply),
                *((("orifice", self.orifice), ("C", self.discharge)) if self.orifice is not None else ()),
                ("most", self.most_leakage),
            ),
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


def _listen() -> ResultTable:
    """Return where to listen, and what each place tells."""
    return ResultTable(
        key="listen",
        title="Where to listen, and what it tells",
        columns=(
            Column(key="place", label="Heard at"),
            Column(key="tells", label="Tells of"),
            Column(key="next", label="Then look at", wide=True),
        ),
        rows=tuple(TableRow(cells=(HEARD[place], TELLS[place], THEN[place])) for place in TELLS),
        formula="air goes the way that the leak leaves open; a little past the rings is heard at every oil filler",
        source=COMMON_PRACTICE,
        folded=True,
    )


def _suspect(leak: Leak | None, heard: str) -> str:
    if leak is None:
        return "not tested"
    if leak.verdict == "in":
        return "nothing"
    if heard in TELLS:
        return TELLS[heard]
    return UNHEARD if leak.verdict == "out" else AGAIN


def _told(found: Sequence[Leak | None], suspects: dict[int, str]) -> tuple[str, str]:
    known = [leak for leak in found if leak]
    if not known:
        return "", ""
    leaking, close = ([n for n, leak in enumerate(found, 1) if leak and leak.verdict == of] for of in _UNSURE)
    most = figures(max(best_of(leak.share) for leak in known), 0)
    told = " ".join(sentences_of(suspects))
    if leaking:
        return f"Leaking: {counted(leaking)}", f"Leaking: {listed(leaking)}. {told}"
    if close:
        return f"Too close to call: {counted(close)}", told
    return f"All hold: {most}% at most", f"All tested hold; the worst leaks {most}%."


_UNSURE = ("out", "too close to call")


def _told_after(after: Sequence[Leak | None]) -> tuple[str, str]:
    if not any(after):
        return "", ""
    leaking, close = ([n for n, leak in enumerate(after, 1) if leak and leak.verdict == of] for of in _UNSURE)
    if leaking:
        return f"after: leaking, {counted(leaking)}", f"Still leaking after the job: {listed(leaking)}."
    if close:
        return "after: too close to call", f"Too close to call after the job: {listed(close)}."
    return "after: all hold", "After the job all tested hold."


def _pair(leak: Leak | None) -> tuple[float, float] | None:
    return None if leak is None else (best_of(leak.share), expanded_of(leak.share))


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
