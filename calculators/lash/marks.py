"""Where on the pulley each cylinder's mark stands, and where each cylinder stands in the engine."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from calculators.bench import (
    GEOMETRY,
    Answer,
    Column,
    Drawing,
    Figure,
    InputErrors,
    Question,
    ResultTable,
    TableRow,
    Value,
    around,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.engine_from_above import from_above
from calculators.bench.words import listed, word
from calculators.formulas.base_circle import CYCLE
from calculators.formulas.firing import SAME_MARK, begun_at, companion, firing_angles, pulley_angle, rotor_angle
from calculators.formulas.rim_marks import rim_distance
from calculators.lash import asked
from calculators.lash.engine import firing_intervals, numbering_errors
from calculators.lash.plan_tables import FOUR_STROKE
from calculators.lash.round import seen_from
from calculators.lash.stop_words import degrees, places

_UNEVEN, _WHERE = "Uneven firing", "Where you stand, and the engine from above"
Marks = Mapping[float, tuple[int, ...]]
"""Angle after number 1's mark, as the marks pass with the engine running → the cylinders that are at it."""


class CylinderMarks(Question):
    """For the top dead centre marks of a four-stroke engine, not the ignition timing mark."""

    asks = "Where on the pulley is each cylinder's mark?"
    tells = "Marks on the pulley"

    cylinders = shared.cylinders()
    firing_order = shared.firing_order()
    crank_rotation = shared.crank_rotation(hint="As the engine runs, seen from the pulley end.", said="{}")
    pulley_diameter = optional(
        card_entry(
            CardFacts.dimensions.pulley_diameter,
            "Rim diameter",
            hint="Over the face with the marks, to paint those that are missing.",
            shared_as="pulley_diameter",
            said="rim {}",
        )
    )
    firing_intervals = shared.firing_intervals(refines=_UNEVEN)
    end = asked.end(refines=_WHERE)
    banks = asked.banks(refines=_WHERE)

    def answer(self) -> Answer:
        intervals, unequal = firing_intervals(self.firing_intervals, self.cylinders)
        if errors := [*numbering_errors(self.cylinders, self.firing_order, self.banks), *unequal]:
            raise InputErrors(*errors)
        fires = firing_angles(*begun_at(1, self.firing_order, intervals))
        marks = _marks(fires)
        running = seen_from(self.crank_rotation, self.end)
        return Answer(
            headline=_headline(marks),
            says=f"Counted {word(_against(running))} from number 1's mark, seen from the {word(self.end)} end: "
            f"{listed(_said(angle, numbers) for angle, numbers in marks.items())}.",
            drawing=_pulley(marks, running, self.end),
            values=(
                Value(
                    key="marks",
                    label="Marks the pulley needs",
                    quantity=len(marks),
                    formula="one for each different crank angle, less whole turns, at which a cylinder fires",
                    source=FOUR_STROKE,
                    given=tuple((f"number {one} fires at", quantity(angle, "°")) for one, angle in fires.items()),
                ),
                *(self._along(angle, numbers) for angle, numbers in marks.items() if angle and self.pulley_diameter),
            ),
            tables=(self._table(fires),),
            figures=(_engine(self.banks, fires),) if self.banks else (),
            notes=(
                "Each mark comes up twice in a cycle: once for the firing top dead centre of a cylinder, once a whole "
                "turn away for its overlap. On overlap, a nudge of the crank moves both rockers.",
                "Use the top dead centre mark, not the ignition timing mark. Count marks from number 1's, in the order "
                "in which they pass the case mark as the engine runs; paint those that are missing.",
                "The card does not say which bank is on which side; banks are counted from the pulley end only.",
            ),
        )

    def _along(self, angle: float, numbers: Sequence[int]) -> Value:
        diameter = self.pulley_diameter
        around_rim = rim_distance(angle, number_in(diameter, "mm"))
        return Value(
            key=f"rim_{'_'.join(map(str, numbers))}",
            label=f"Along the rim from number 1's mark to that of {listed(numbers)}",
            quantity=quantity(around_rim, "mm"),
            places=1,
            formula="π × diameter × angle ÷ 360°",
            source=GEOMETRY,
            given=(("diameter", diameter), ("angle", quantity(angle, "°"))),
        )

    def _table(self, fires: Mapping[int, float]) -> ResultTable:
        decimals = places(*fires.values())
        return ResultTable(
            key="cylinders",
            title="Cylinder by cylinder, as they fire",
            columns=(
                Column(key="cylinder", label="Cylinder", strong=True),
                Column(key="fires", label="Fires at crank angle", unit="°", places=decimals),
                Column(key="mark", label="Mark", unit="°", places=decimals),
                Column(key="overlap", label="On overlap then"),
                Column(key="rotor", label="Rotor from number 1's notch", unit="°", places=places(*_halved(fires))),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        cylinder,
                        quantity(angle, "°"),
                        quantity(pulley_angle(angle), "°"),
                        companion(cylinder, fires),
                        quantity(rotor_angle(angle), "°"),
                    )
                )
                for cylinder, angle in fires.items()
            ),
            formula="crank angle from number 1's firing top dead centre; mark = crank angle less whole turns; rotor = "
            "crank angle ÷ 2",
            source=FOUR_STROKE,
        )


def _halved(fires: Mapping[int, float]) -> list[float]:
    return [rotor_angle(angle) for angle in fires.values()]


def _marks(fires: Mapping[int, float]) -> Marks:
    """Return the cylinders at each mark, the marks in the order in which they pass."""
    found: dict[float, list[int]] = {}
    for cylinder, crank in fires.items():
        angle = pulley_angle(crank)
        near = next((mark for mark in found if abs(mark - angle) < SAME_MARK * CYCLE), angle)
        found.setdefault(near, []).append(cylinder)
    return {angle: tuple(sorted(found[angle])) for angle in sorted(found)}


def _headline(marks: Marks) -> str:
    groups = " · ".join(" ".join(map(str, numbers)) for numbers in marks.values())
    angles = [*marks, CYCLE / 2]
    apart = {round(after - before, 1) for before, after in pairwise(angles)}
    whole = "1 mark" if len(marks) == 1 else f"{len(marks)} marks"
    if len(marks) > 1 and len(apart) == 1:
        whole += f" {degrees(angles[1])} apart"
    named = f"{whole}: {groups}"
    return named if len(named) <= LONGEST_HEADLINE else f"{whole}: see the drawing"


def _said(angle: float, numbers: Sequence[int]) -> str:
    return f"{listed(numbers)} at {degrees(angle)}"


def _against(running: str) -> str:
    """Return the way round the rim in which the marks follow one another: against the run."""
    return "anticlockwise" if running == "clockwise" else "clockwise"


def _pulley(marks: Marks, running: str, end: str) -> Figure:
    """Draw the pulley with number 1's mark up, each mark with its cylinders, and how the engine runs."""
    drawing = Drawing(340, 286)
    x, y, radius = 170.0, 140.0, 84.0
    sign = 1 if running == "clockwise" else -1
    drawing.circle(x, y, radius, "part")
    drawing.circle(x, y, 9, "stud")
    drawing.path([(x, y - radius - 1), (x - 7, y - radius - 16), (x + 7, y - radius - 16)], "pointer", closed=True)
    for angle, numbers in marks.items():
        place = -sign * angle
        drawing.line(*around(x, y, radius - 16, place), *around(x, y, radius, place), "edge")
        drawing.text(*around(x, y, radius - 30, place), " ".join(map(str, numbers)), "number", size=16)
        if angle:
            out = around(x, y, radius + 12, place)
            anchor = "middle" if abs(out[0] - x) < 20 else "start" if out[0] > x else "end"
            drawing.text(out[0], out[1], degrees(angle), anchor=anchor)
    drawing.arc(x, y, 30, -sign * 50, sign * 92, "arrow")
    drawing.arrowhead(*around(x, y, 30, sign * 52), 52 if sign > 0 else 128, "arrow", 10)
    drawing.text(x, 268, f"{word(end)} seen from its own end; arrow: as it runs")
    told = "; ".join(_said(angle, numbers) for angle, numbers in marks.items())
    return Figure(
        key="pulley",
        title=f"The {word(end)} with number 1's mark up",
        svg=drawing.svg(
            f"The {word(end)} seen from its own end, number 1's mark up. The engine runs {word(running)}. Marks, "
            f"counted {word(_against(running))} round the rim: {told}."
        ),
    )


def _engine(banks: Sequence[Sequence[int]], fires: Mapping[int, float]) -> Figure:
    lines = {cylinder: (degrees(pulley_angle(angle)),) for cylinder, angle in fires.items()}
    first = {cylinder for cylinder, angle in fires.items() if not pulley_angle(angle)}
    said = "; ".join(
        f"bank {number}, from the pulley end: " + ", ".join(f"{one}, mark at {lines[one][0]}" for one in bank)
        for number, bank in enumerate(banks, 1)
    )
    drawing = from_above(banks, lines, first)
    return Figure(
        key="engine",
        title="The engine from above: each cylinder and its mark",
        svg=drawing.svg(f"The engine from above, its pulley towards you: {said}."),
    )
