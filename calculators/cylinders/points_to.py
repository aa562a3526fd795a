"""What compression, wet test and leakage point to together, cylinder by cylinder and between neighbours."""

from __future__ import annotations

import itertools
from typing import Any

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Column,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    Value,
    choice,
    optional,
    shared,
)
from calculators.bench.words import listed
from calculators.cylinders.cautions import lash_first
from calculators.cylinders.gauge import LIMITS_WIN
from calculators.cylinders.heard import TELLS, THEN
from calculators.cylinders.leak_told import AGAIN as LEAK_AGAIN
from calculators.cylinders.leak_told import UNHEARD
from calculators.cylinders.leakage import heard_at
from calculators.cylinders.suspects_drawing import suspects_figure
from calculators.cylinders.telling import counted, sentences_of
from calculators.cylinders.wet_and_dry import AGAIN, LIFTS, TESTS_WANTED, VALVE_OR_JOINT, VERDICTS, suspect
from calculators.formulas.firing import misnamed

_HEADLINES = 60
_UNTOLD = "the wet test cannot tell: leakage test"
_SHORT = {
    "rings or bore": ("rings", "or bore"),
    "exhaust valve": ("exhaust", "valve"),
    "inlet valve": ("inlet", "valve"),
    "joint between neighbours": ("joint to the", "neighbour"),
    "joint of barrel and head, plug seat or crack": ("joint, plug", "or crack"),
    VALVE_OR_JOINT: ("a valve or", "the joint"),
    TESTS_WANTED: ("low: test it", "wet"),
    _UNTOLD: ("low: test it", "for leakage"),
    AGAIN: ("wet, dry:", "read again"),
    UNHEARD: ("leaks:", "listen"),
    LEAK_AGAIN: ("leaks? test", "again"),
}
_NEXT = {TELLS[place]: words for place, words in THEN.items()} | {
    VALVE_OR_JOINT: "lash, then leakage test: exhaust, carburettor, neighbour's plug hole",
    UNHEARD: "listen at exhaust, carburettor, oil filler, neighbours; soapy water outside",
}
_JOINT_NEXT = "head joint and head face between the two"


class Found(Row):
    """What each test found of one cylinder."""

    by_gauge = optional(choice("Compression", VERDICTS, shared_as="compression_verdict"))
    by_oil = optional(choice("Does oil lift it", LIFTS, shared_as="oil_lifts"))
    by_tester = optional(choice("Leakage", VERDICTS | {"out": "Leaks"}, shared_as="leak_verdict"))
    heard = heard_at()


class PointsTo(Question):
    """Puts the two tests together, as worked out above or typed here.

    Neighbours are side by side under one head. It is a pointer; only a look with the head off is proof.
    """

    asks = "What do the tests point to together?"
    tells = "What the tests point to"

    cylinders = shared.cylinders()
    heads = shared.heads(hint="A slash between the heads: 1 2 / 3 4. Neighbours stand side by side.", said="{}")
    found = Table(
        Found,
        each="Cylinder {}",
        most=12,
        count="cylinders",
        hint="Empty: from the compression and leakage questions, if you answered them.",
    )

    def answer(self) -> Answer:
        wrong = misnamed([number for head in self.heads for number in head], self.cylinders)
        if wrong:
            raise InputErrors(FieldError("heads", f"Cylinders under each head {wrong}"))
        if all(row.by_gauge is None and row.by_tester is None for row in self.found):
            raise Lacking(
                FieldError("by_gauge.1", "Enter what compression gauge or leakage tester found of cylinder 1")
            )
        suspects = self._suspects()
        pointing = {number: words for number, words in suspects.items() if words not in ("nothing", "not tested")}
        valves = [
            number for number, words in suspects.items() if words in (TELLS["exhaust"], TELLS["inlet"], VALVE_OR_JOINT)
        ]
        tested = [number for number, words in suspects.items() if words != "not tested"]
        told = (
            " ".join(sentences_of(suspects))
            or f"Nothing: cylinder{'s' if len(tested) > 1 else ''} {listed(tested)} tested sound."
        )
        return Answer(
            headline=_headline(pointing),
            says=told,
            drawing=suspects_figure(
                self.heads,
                {number: _SHORT.get(words, ("joint to the", "neighbour")) for number, words in pointing.items()},
                told,
            ),
            values=tuple(
                Value(
                    key=f"cylinder_{number}",
                    label=f"Cylinder {number}",
                    quantity=words,
                    formula="first where a leak is heard; else what oil does to a low one; neighbours under one head "
                    "that are low and that oil does not help: the joint between them",
                    source=COMMON_PRACTICE,
                )
                for number, words in suspects.items()
            ),
            warnings=lash_first(valves),
            tables=(self._table(suspects),),
            notes=(
                "In a flat engine trust the leakage test more than this one than the wet one (common practice, no "
                "source).",
                "This is a pointer, not proof: look with the head off.",
                LIMITS_WIN,
            ),
        )

    def _suspects(self) -> dict[int, str]:
        alone = {number: _alone(row) for number, row in enumerate(self.found, 1)}
        dull = {
            number
            for number, row in enumerate(self.found, 1)
            if row.by_gauge == "out" and row.by_oil == "no lift" and alone[number] == VALVE_OR_JOINT
        }
        joints: dict[int, str] = {}
        for head in self.heads:
            for one, other in itertools.pairwise(head):
                if {one, other} <= dull:
                    joints |= dict.fromkeys((one, other), f"the head joint between {listed(sorted((one, other)))}")
        return alone | joints

    def _table(self, suspects: dict[int, str]) -> ResultTable:
        def seen(options: Any, key: str | None) -> str | None:
            return None if key is None else str(options[key])

        return ResultTable(
            key="cylinders",
            title="Cylinder by cylinder",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                Column(key="by_gauge", label="Compression"),
                Column(key="by_tester", label="Leakage"),
                Column(key="points_to", label="Points to", wide=True, strong=True),
                Column(key="next", label="Then look at", wide=True),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        str(number),
                        seen(VERDICTS, row.by_gauge),
                        seen(VERDICTS | {"out": "Leaks"}, row.by_tester),
                        suspects[number],
                        _NEXT.get(suspects[number], _JOINT_NEXT if "between" in suspects[number] else None),
                    ),
                    chosen="out" in (row.by_gauge, row.by_tester),
                )
                for number, row in enumerate(self.found, 1)
            ),
            formula="air goes the way that the leak leaves open; oil seals rings and no valve",
            source=COMMON_PRACTICE,
        )


def _alone(row: Found) -> str:
    """Return what one cylinder points to by itself."""
    heard = TELLS.get(row.heard or "nowhere")
    leaks = row.by_tester in ("out", "too close to call")
    if leaks and heard:
        return heard
    lift: Any = row.by_oil
    verdict: Any = row.by_gauge
    by_gauge = suspect(verdict, lift)
    if by_gauge in (VALVE_OR_JOINT, TESTS_WANTED) and heard:
        return heard
    if by_gauge not in ("nothing", "not tested"):
        return by_gauge
    if leaks:
        return UNHEARD if row.by_tester == "out" else LEAK_AGAIN
    return "nothing" if verdict or row.by_tester else "not tested"


def _headline(pointing: dict[int, str]) -> str:
    if not pointing:
        return "Nothing: what was tested is sound"
    grouped: dict[str, list[int]] = {}
    for number, words in pointing.items():
        grouped.setdefault(words, []).append(number)
    told = "; ".join(f"{listed(numbers)}: {words.partition(':')[0]}" for words, numbers in grouped.items())
    return told if len(told) <= _HEADLINES else f"{counted(list(pointing)).capitalize()}: see the drawing"
