"""The stress of the wire at full lift, against what spring wire bears."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    Column,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    ResultTable,
    Source,
    TableRow,
    Value,
    number_in,
    quantity,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, verdict_on
from calculators.bench.words import listed
from calculators.formulas.helical_spring import shear_stress
from calculators.springs import one_spring, readings
from calculators.springs.nest import INSIDE, OUTER, SPRING, Which, borne, too_wide, unbearable
from calculators.springs.stress_drawing import Stressed, coils_in_section

_STRENGTH = Source("Shigley, Mechanical Engineering Design, 10th edition, tables 10-4 and 10-6, music wire", "memory")


@dataclass(frozen=True, slots=True)
class Wire:
    """One spring's wire: lengths in mm, stresses in MPa."""

    which: Which
    wire: Any
    mean: Any
    stress: Any

    @property
    def surely(self) -> float:
        return borne(self.wire)[0]

    @property
    def verdict(self) -> str:
        return verdict_on(self.stress, high=self.surely)


class Stress(Question):
    """For round wire at rest, with Wahl's correction.

    The limit is that of music wire that was not preset. Alloy valve spring wire, preset and shot-peened, bears more:
    ask its maker.
    """

    asks = "How highly is the wire stressed?"
    tells = "Stress of the spring wire"

    open_load = one_spring.load(
        "Load at full lift",
        hint="Of this spring; worked out from its loads or its wire, or typed.",
        card=CardFacts.springs.open_load.path,
        example="494 N",
        shared_as="spring_open_load.1",
        said="{}",
    )
    wire = one_spring.wire()
    outside = one_spring.outside()
    inner_open_load = one_spring.inner(open_load)
    inner_wire = one_spring.inner(wire)
    inner_outside = one_spring.inner(outside)
    wire_error = readings.wire_error()
    length_error = readings.length_error()
    length_scatter = readings.length_scatter()

    def answer(self) -> Answer:
        wires = self._wires()
        worst = max(wires, key=lambda one: best_of(one.stress) / one.surely)
        stress, surely = figures(best_of(worst.stress), 0), figures(worst.surely, 0)
        said = {
            "in": f"{stress} MPa; it is sure to bear {surely}",
            "out": f"Too much: {stress} MPa, only {surely} sure to be borne",
        }
        headline = said.get(worst.verdict, f"Too close to call: {stress} MPa of {surely}")
        behind = f" of the {worst.which.name} spring" if len(wires) == 2 else ""
        hard = [
            f"{one.which.name} spring with {figures(best_of(one.stress), 0)} MPa"
            for one in wires
            if one.verdict != "in"
        ]
        return Answer(
            headline=headline,
            says=f"At full lift the wire{behind} is stressed to {stress} MPa; wire this thick is sure to bear {surely} "
            "MPa.",
            drawing=coils_in_section(
                best_of(worst.wire),
                best_of(worst.mean),
                Stressed(best_of(worst.stress), *borne(worst.wire)),
            ),
            values=tuple(value for one in wires for value in self._numbers(one, len(wires) == 2)),
            warnings=(
                (
                    Caution(
                        "warning",
                        "At full lift the wire is stressed beyond what wire this thick is sure to bear: "
                        f"{listed(hard)}. A spring that sags or breaks drops its valve, and at speed that can kill. "
                        "Check wire, coils and loads; ask its maker before you fit it.",
                    ),
                )
                if hard
                else ()
            ),
            tables=(_table(wires),) if len(wires) == 2 else (),
            notes=("Nicks, rust pits and a bent end cut what a wire bears to a fraction.",),
        )

    def _wires(self) -> list[Wire]:
        given: list[tuple[Which, Quantity, Quantity, Quantity]] = [(OUTER, self.open_load, self.wire, self.outside)]
        inner = self.inner_open_load, self.inner_wire, self.inner_outside
        if any(part is not None for part in inner):
            load, thickness, outside = inner
            if load is None or thickness is None or outside is None:
                needed = {
                    "open_load": (load, "load at full lift, in newtons"),
                    "wire": (thickness, "wire diameter, in millimetres"),
                    "outside": (outside, "outside diameter, in millimetres"),
                }
                raise Lacking(*INSIDE.lacking(needed))
            given.append((INSIDE, load, thickness, outside))
        found, wrong = [], []
        for which, load, thickness, outside in given:
            wire = readings.by_micrometer(thickness, self.wire_error)
            across = readings.by_calliper(
                outside, f"Outside diameter{which.behind}", self.length_error, self.length_scatter
            )
            pressed, mean = number_in(load, "N"), across - wire
            error = too_wide(which, wire, across) or unbearable(which, pressed, wire, mean)
            if error:
                wrong.append(error)
            else:
                found.append(Wire(which, wire, mean, shear_stress(pressed, wire, mean)))
        if wrong:
            raise InputErrors(*wrong)
        return found

    def _numbers(self, one: Wire, both: bool) -> tuple[Value, ...]:
        behind = f", {one.which.name} spring" if both else ""
        return (
            Value(
                key=f"{one.which.prefix}stress",
                label=f"Shear stress at full lift{behind}",
                quantity=quantity(one.stress, "MPa"),
                places=0,
                formula="K · 8 F D ÷ (π d³), K = (4C − 1) ÷ (4C − 4) + 0.615 ÷ C, C = D ÷ d",
                source=SPRING,
                given=(
                    ("wire d", quantity(one.wire, "mm")),
                    ("mean coil D", quantity(one.mean, "mm")),
                    ("load F", self.open_load if one.which is OUTER else self.inner_open_load),
                ),
            ),
            Value(
                key=f"{one.which.prefix}surely_borne",
                label=f"Sure to be borne by wire this thick{behind}",
                quantity=quantity(one.surely, "MPa"),
                places=0,
                formula="0.45 × 2211 MPa × d^−0.145, d in mm",
                source=_STRENGTH,
                given=(("wire d", quantity(one.wire, "mm")),),
            ),
        )


def _table(wires: list[Wire]) -> ResultTable:
    return ResultTable(
        key="springs",
        title="Spring by spring",
        columns=(
            Column(key="spring", label="Spring"),
            Column(key="stress", label="Stress", unit="MPa", places=0, strong=True),
            Column(key="borne", label="Surely borne", unit="MPa", places=0),
            Column(key="verdict", label="Verdict"),
        ),
        rows=tuple(
            TableRow(cells=(one.which.name, quantity(one.stress, "MPa"), quantity(one.surely, "MPa"), one.verdict))
            for one in wires
        ),
        formula="K · 8 F D ÷ (π d³) against 0.45 of the wire's tensile strength",
        source=_STRENGTH,
    )
