"""How the tests are told: the sentence, the values, the tables, the walk, and what to beware of."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator
from types import SimpleNamespace
from typing import Any

from calculators._cylinder_tests.drawing import Readings, leaks_figure, pressures_figure
from calculators._cylinder_tests.findings import (
    HEARD,
    NOTHING_TO_JUDGE_BY,
    TELLS,
    THEN,
    VALVE_OR_JOINT,
    Cylinder,
    Leak,
    Tests,
)
from calculators._report import (
    COMMON_PRACTICE,
    Attachment,
    Caution,
    Column,
    Figure,
    Report,
    Row,
    Source,
    Stage,
    Step,
    Table,
    Value,
    Walk,
)
from calculators._units import figures, magnitude_in, printed, printed_bare, quantity, symbol_of
from calculators._verdict import best_of, expanded_of
from calculators._words import listed, word

_Pick = Callable[[Cylinder], Any]
_DECISION = Source("ISO 14253-1, decision rules; U with k = 2, JCGM 100:2008 (GUM), 6.2", "memory")
_ATMOSPHERE = Source("ISO 2533:1975, Standard atmosphere, clause 2", "memory")
_TESTER = Source("definition of the two gauges of a leakage tester", "identity")
_FLOW = Source("Aeronautical Engineer's Data Book, p. 255, compressible flow; the orifice's coefficient as typed")


def report(inputs: SimpleNamespace, tests: Tests) -> Report:
    """Return the whole answer."""
    return Report(
        lead=" ".join(_sentences(tests)),
        values=tuple(_values(inputs, tests)),
        tables=tuple(_tables(inputs, tests)),
        figures=tuple(_figures(inputs, tests)),
        walks=(_walk(inputs, tests),),
        attachments=(_sheet(tests),),
        cautions=tuple(_cautions(tests)),
        notes=tuple(_notes(tests)),
    )


def _sentences(tests: Tests) -> Iterator[str]:
    yield f"{tests.pattern[0].upper()}{tests.pattern[1:]}."
    if tests.pattern == NOTHING_TO_JUDGE_BY:
        limits = tests.least is not None or tests.spread_limit is not None
        least = "the maker's least pressure, or the most difference between cylinders, under Limits and gauges"
        yield f"Enter {'the dry pressures' if limits else least}."
    if tests.spread is not None:
        verdict = f": {word(tests.spread_verdict)}" if tests.spread_verdict else ""
        yield f"Dry readings lie {figures(best_of(tests.spread), 1)} bar apart{verdict}."
    grouped: dict[str, list[int]] = {}
    for cylinder in tests.cylinders:
        if cylinder.points_to not in ("nothing", "not tested"):
            grouped.setdefault(cylinder.points_to, []).append(cylinder.number)
    for suspect, numbers in grouped.items():
        yield f"Cylinder{'s' if len(numbers) > 1 else ''} {listed(numbers)}: {suspect}."
    if tests.spread_after is not None:
        verdict = f": {word(tests.spread_after_verdict)}" if tests.spread_after_verdict else ""
        yield f"After the job they lie {figures(best_of(tests.spread_after), 1)} bar apart{verdict}."
    if tests.low_after:
        yield f"Still below the least pressure after the job: {listed(tests.low_after)}."
    if tests.leaking_after:
        yield f"Still leaking after the job: {listed(tests.leaking_after)}."


def _values(inputs: SimpleNamespace, tests: Tests) -> Iterator[Value]:
    yield Value(
        key="pattern",
        label="The pattern",
        quantity=tests.pattern,
        formula="low: out against the least pressure or against the best cylinder; all alike where the spread is in",
        source=COMMON_PRACTICE,
        lead=True,
    )
    yield from _spread_values(tests)
    for key, label, leaks in (
        ("worst_leak", "Worst leakage", [cylinder.leak for cylinder in tests.cylinders]),
        ("worst_leak_after", "Worst leakage after the job", [cylinder.leak_after for cylinder in tests.cylinders]),
    ):
        known = [(leak, number) for number, leak in enumerate(leaks, 1) if leak]
        if known:
            worst, number = max(known, key=lambda pair: best_of(pair[0].share))
            yield Value(
                key=key,
                label=f"{label}, cylinder {number}: {word(worst.verdict)}",
                quantity=quantity(worst.share, "%"),
                units=("%",),
                places=0,
                formula="100 × (supply − held) ÷ supply, on the gauges; in or out only where the whole of it is",
                source=_TESTER,
                given=(
                    ("supply", inputs.supply),
                    ("held", quantity(worst.held, "bar")),
                    ("most", inputs.most_leakage),
                ),
                lead=key == "worst_leak",
            )
    yield from _air_values(inputs, tests)


def _spread_values(tests: Tests) -> Iterator[Value]:
    which: tuple[tuple[str, str, Any, Any, _Pick], ...] = (
        ("spread", "dry", tests.spread, tests.spread_verdict, lambda cylinder: cylinder.dry),
        (
            "spread_after",
            "after the job",
            tests.spread_after,
            tests.spread_after_verdict,
            lambda cylinder: cylinder.after,
        ),
    )
    for key, words, spread, verdict, pick in which:
        if spread is None:
            continue
        known = [cylinder for cylinder in tests.cylinders if pick(cylinder) is not None]
        best = max(known, key=lambda cylinder: best_of(pick(cylinder)))
        others = [cylinder for cylinder in known if cylinder is not best]
        worst = min(others, key=lambda cylinder: best_of(pick(cylinder)))
        limit = () if tests.spread_limit is None else (("most", quantity(tests.spread_limit, "bar")),)
        yield Value(
            key=key,
            label=f"Greatest difference, {word(words)}, cylinder {best.number} less {worst.number}"
            + (f": {word(verdict)}" if verdict else ""),
            quantity=quantity(spread, "bar"),
            units=("bar", "psi"),
            formula="greatest reading less the least; in or out only where the whole of it, with its uncertainty, is",
            source=_DECISION,
            given=(("greatest", quantity(pick(best), "bar")), ("least", quantity(pick(worst), "bar")), *limit),
            lead=key == "spread",
        )


def _air_values(inputs: SimpleNamespace, tests: Tests) -> Iterator[Value]:
    yield Value(
        key="air_pressure",
        label="Air pressure here",
        quantity=quantity(tests.air, "bar"),
        units=("kPa",),
        places=1,
        formula="101.325 kPa × (T ÷ (T + 0.0065 K/m × altitude)) ^ 5.2559",
        source=_ATMOSPHERE,
        given=(
            ("altitude", printed(inputs.altitude, symbol_of(inputs.altitude), 0)),
            ("T", quantity(magnitude_in(inputs.air_temperature, "K"), "K")),
        ),
    )
    if tests.least is not None:
        yield Value(
            key="least_here",
            label="Least pressure for this air",
            quantity=quantity(tests.least, "bar"),
            units=("bar", "psi"),
            formula="the maker's least pressure × air pressure here ÷ 101.325 kPa: what a gauge shows goes with the "
            "air outside",
            source=_ATMOSPHERE,
            given=(("maker's", inputs.least_pressure), ("air pressure", printed(quantity(tests.air, "bar"), "kPa", 1))),
        )
    known = [cylinder for cylinder in tests.cylinders if cylinder.expected is not None]
    if known:
        lowest = min(known, key=lambda cylinder: best_of(cylinder.expected))
        yield Value(
            key="expected",
            label=f"To be expected in cylinder {lowest.number}",
            quantity=quantity(lowest.expected, "bar"),
            units=("bar", "psi"),
            formula="air pressure × (effective ratio ^ exponent − 1); effective ratio = 1 + stroke left when the inlet "
            "valve shuts × (ratio − 1)",
            source=COMMON_PRACTICE,
            given=(
                ("ratio, to 1", inputs.ratio[lowest.number - 1]),
                ("stroke left", quantity(100 * (tests.left or 0), "%")),
                ("exponent", printed_bare(tests.exponent, 2)),
                ("air pressure", printed(quantity(tests.air, "bar"), "kPa", 1)),
            ),
        )


_PRESSURES: tuple[tuple[Column, _Pick], ...] = (
    (Column(key="dry", label="Dry", unit="bar", strong=True), lambda cylinder: _bar(cylinder.dry)),
    (Column(key="wet", label="Wet", unit="bar"), lambda cylinder: _bar(cylinder.wet)),
    (Column(key="rise", label="Rise", unit="bar"), lambda cylinder: _bar(cylinder.rise)),
    (
        Column(key="recovered", label="Of what it lacks", unit="%", places=0),
        lambda cylinder: _share(cylinder.recovered),
    ),
    (Column(key="expected", label="To be expected", unit="bar"), lambda cylinder: _bar(cylinder.expected)),
    (Column(key="beside", label="Against that"), lambda cylinder: cylinder.beside),
    (Column(key="after", label="After the job", unit="bar"), lambda cylinder: _bar(cylinder.after)),
    (Column(key="verdict", label="Verdict"), lambda cylinder: cylinder.verdict),
)


def _bar(number: Any | None) -> Any | None:
    return None if number is None else quantity(number, "bar")


def _share(number: Any | None) -> Any | None:
    return None if number is None else quantity(number, "%")


def _tables(inputs: SimpleNamespace, tests: Tests) -> Iterator[Table]:
    cylinders = tests.cylinders
    shown = [(column, pick) for column, pick in _PRESSURES if any(pick(cylinder) is not None for cylinder in cylinders)]
    yield Table(
        key="cylinders",
        title="Cylinder by cylinder",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            *(column for column, _ in shown),
            Column(key="points_to", label="Points to", wide=True),
        ),
        rows=tuple(
            Row(
                cells=(str(cylinder.number), *(pick(cylinder) for _, pick in shown), cylinder.points_to),
                chosen=cylinder.verdict == "out" or bool(cylinder.leak and cylinder.leak.verdict == "out"),
            )
            for cylinder in cylinders
        ),
        formula="it lacks what the best dry cylinder has more; of that, the wet rise less the least rise of a sound "
        "cylinder; half or more of it given back: rings or bore, less: a valve or a joint",
        source=Source(f"{COMMON_PRACTICE}; the verdicts: {_DECISION}"),
        given=tuple(
            (name, quantity(limit, "bar"))
            for name, limit in (("least", tests.least), ("most difference", tests.spread_limit))
            if limit is not None
        ),
    )
    if any(cylinder.leak or cylinder.leak_after for cylinder in cylinders):
        yield _leaks_table(inputs, cylinders)
    yield Table(
        key="listen",
        title="Where to listen, and what it tells",
        columns=(
            Column(key="place", label="Heard at"),
            Column(key="tells", label="Tells of"),
            Column(key="next", label="Then look at", wide=True),
        ),
        rows=tuple(Row(cells=(HEARD[place], TELLS[place], THEN[place])) for place in TELLS),
        formula="air goes the way that the leak leaves open; a little past the rings is heard at every oil filler",
        source=COMMON_PRACTICE,
        folded=True,
    )


def _leaks_table(inputs: SimpleNamespace, cylinders: tuple[Cylinder, ...]) -> Table:
    picks: tuple[tuple[Column, Callable[[Leak], Any]], ...] = (
        (Column(key="held", label="Held", unit="bar"), lambda leak: _bar(leak.held)),
        (Column(key="share", label="Leakage", unit="%", places=0, strong=True), lambda leak: _share(leak.share)),
        (
            Column(key="hole", label="As a hole of", unit="mm"),
            lambda leak: None if leak.hole is None else quantity(leak.hole, "mm"),
        ),
        (Column(key="flow", label="Free air, l/min", places=1), lambda leak: leak.flow),
        (Column(key="leak_verdict", label="Verdict"), lambda leak: leak.verdict),
    )
    leaks: list[tuple[str, Leak | None, str | None]] = [
        (str(cylinder.number), cylinder.leak, HEARD[cylinder.heard]) for cylinder in cylinders if cylinder.leak
    ]
    leaks += [(f"{cylinder.number}, after", cylinder.leak_after, None) for cylinder in cylinders if cylinder.leak_after]
    known = [(name, leak, heard) for name, leak, heard in leaks if leak]
    shown = [(column, pick) for column, pick in picks if any(pick(leak) is not None for _, leak, _ in known)]
    return Table(
        key="leakage",
        title="Leakage",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            *(column for column, _ in shown),
            Column(key="heard", label="Heard at", wide=True),
        ),
        rows=tuple(
            Row(
                cells=(name, *(pick(leak) for _, pick in shown), heard),
                chosen=leak.verdict == "out",
            )
            for name, leak, heard in known
        ),
        formula="leakage: 100 × (supply − held) ÷ supply; flow: p·A·C·ψ ÷ √(R·T), ψ by the ratio of absolute "
        "pressures, γ = 1.4, choked below 0.528; hole and flow are best estimates; the hole passes from "
        "cylinder to open air what the orifice passes into it",
        source=_FLOW,
        given=(
            ("supply", inputs.supply),
            *((("orifice", inputs.orifice), ("C", inputs.discharge)) if inputs.orifice is not None else ()),
            ("most", inputs.most_leakage),
        ),
    )


def _figures(inputs: SimpleNamespace, tests: Tests) -> Iterator[Figure]:
    cylinders = tests.cylinders
    yield pressures_figure(
        tuple(
            Readings(cylinder.number, *map(_pair, (cylinder.dry, cylinder.wet, cylinder.after, cylinder.expected)))
            for cylinder in cylinders
        ),
        tests.least,
    )
    if any(cylinder.leak or cylinder.leak_after for cylinder in cylinders):
        yield leaks_figure(
            tuple(
                (
                    cylinder.number,
                    _pair(cylinder.leak.share if cylinder.leak else None),
                    _pair(cylinder.leak_after.share if cylinder.leak_after else None),
                )
                for cylinder in cylinders
            ),
            magnitude_in(inputs.most_leakage, "%"),
        )


def _pair(number: Any | None) -> tuple[float, float] | None:
    return None if number is None else (best_of(number), expanded_of(number))


def _sheet(tests: Tests) -> Attachment:
    """Return every reading as a table for a spreadsheet."""
    page = io.StringIO()
    lines = csv.writer(page, lineterminator="\r\n")
    lines.writerow(
        ("cylinder", "dry, bar", "wet, bar", "dry after, bar", "leakage, %", "leakage after, %", "verdict", "points to")
    )
    for cylinder in tests.cylinders:
        numbers = (
            cylinder.dry,
            cylinder.wet,
            cylinder.after,
            cylinder.leak.share if cylinder.leak else None,
            cylinder.leak_after.share if cylinder.leak_after else None,
        )
        texts = ("" if number is None else f"{best_of(number):.4g}" for number in numbers)
        lines.writerow((cylinder.number, *texts, word(cylinder.verdict or ""), word(cylinder.points_to)))
    return Attachment(
        name="cylinder-tests.csv", title="Readings as a table", media_type="text/csv", text=page.getvalue()
    )


def _walk(inputs: SimpleNamespace, tests: Tests) -> Walk:
    safe = (
        ("warm", "Warm", "Warm the engine on the road or in the open, then stop it.", "Warm, then stop"),
        (
            "dead",
            "Spark off, fuel off",
            "Disconnect the coil so that it cannot fire, close the fuel, and take all plugs out.",
            "Coil off, fuel off",
        ),
        ("open", "Throttle open", "Tie the throttle wide open and take the air cleaner off.", "Throttle open"),
    )
    numbers = [cylinder.number for cylinder in tests.cylinders]
    low = [cylinder.number for cylinder in tests.cylinders if cylinder.verdict not in (None, "in")]
    air = printed(inputs.supply, symbol_of(inputs.supply)) if inputs.supply is not None else "the supply pressure"
    return Walk(
        key="tests",
        title="Cylinder by cylinder",
        stages=(
            Stage(title="Before", steps=tuple(Step(key=k, label=n, words=w, large=b) for k, n, w, b in safe)),
            _each(
                "dry", "Dry", numbers, "Screw the gauge into cylinder {}, crank six to eight compressions, write it."
            ),
            _each(
                "wet",
                "Wet, the low ones" if low else "Wet",
                low or numbers,
                "A teaspoon of oil into cylinder {}, crank twice with the gauge out, then test it again.",
            ),
            _each(
                "leak",
                "Leakage, at its firing top",
                numbers,
                f"Hold the crank at the firing top of cylinder {{}}, raise the air slowly to {air}, read, listen.",
            ),
        ),
    )


def _each(key: str, title: str, numbers: list[int], words: str) -> Stage:
    return Stage(
        title=title,
        steps=tuple(
            Step(
                key=f"{key}_{number}",
                label=str(number),
                words=words.replace("{}", str(number)),
                large=f"{title.partition(',')[0]} · {number}",
            )
            for number in numbers
        ),
    )


def _cautions(tests: Tests) -> Iterator[Caution]:
    yield Caution(
        "warning",
        "With the plugs out the coil still fires and mixture sprays from the holes: it shocks and it burns. Disconnect "
        "the coil, close the fuel, keep flames and faces away from the plug holes.",
    )
    yield Caution(
        "warning",
        "Air in a cylinder throws the crank round, and a bar on it breaks arms. Exactly at firing top dead centre, out "
        "of gear, wheels chocked. Very low pressure first, 1.4 bar (20 psi) at the most, and no arm inside the circle "
        "of fan, pulley or bar. For more, a lock in the ring gear that stops both ways, and the bar off the nut.",
    )
    valves = [
        cylinder.number
        for cylinder in tests.cylinders
        if cylinder.points_to in (TELLS["exhaust"], TELLS["inlet"], VALVE_OR_JOINT)
    ]
    if valves:
        yield Caution(
            "notice",
            f"Check the lash of cylinder{'s' if len(valves) > 1 else ''} {listed(valves)} before anything is taken "
            "off: a valve without lash does not shut.",
        )
    if any(cylinder.beside == "above" for cylinder in tests.cylinders):
        yield Caution(
            "caution",
            "A reading above what its ratio gives means carbon, oil or another ratio. Find out which before the engine "
            "is loaded: it may knock.",
        )
    if any("too close" in str(verdict) for verdict in _verdicts(tests)):
        yield Caution("notice", "Too close to call is not a pass. Test again, with a finer gauge if you can.")
    yield Caution("notice", "The engine maker's limits win over any figure here.")


def _verdicts(tests: Tests) -> Iterator[Any]:
    for cylinder in tests.cylinders:
        yield cylinder.verdict
        yield cylinder.leak.verdict if cylinder.leak else None
        yield cylinder.leak_after.verdict if cylinder.leak_after else None
    yield tests.spread_after_verdict


def _notes(tests: Tests) -> Iterator[str]:
    yield (
        "In a flat engine oil runs to the low side of the bore: the wet test seals less than it does upright. Turn the "
        "crank twice before you read, and trust the leakage test more (common practice, no source)."
    )
    yield (
        "Leakage past the rings alone, a little and alike in all, is what a sound engine shows "
        "(common practice, no source)."
    )
    if any(cylinder.expected is not None for cylinder in tests.cylinders):
        yield (
            "What is to be expected is wide, because nobody knows what the starter and the walls take. Compare the "
            "cylinders with each other first."
        )
