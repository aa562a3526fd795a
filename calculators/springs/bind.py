"""What is left at full lift before coils touch, or the retainer meets its guide."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.bench import (
    DECISION,
    Answer,
    Caution,
    Column,
    InputErrors,
    Lacking,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    Value,
    Worked,
    length,
    magnitude_in,
    number_in,
    quantity,
    shared,
)
from calculators.bench.units import figures, plain
from calculators.bench.verdict import best_of, verdict_on
from calculators.bench.words import listed
from calculators.springs import one_spring, readings
from calculators.springs.nest import INSIDE, OUTER, SPRING, Which, lift_left
from calculators.springs.spring_drawing import Height, springs_at


class Guide(Row):
    """The room above one valve's guide."""

    to_guide = length(
        "Room between retainer and guide",
        0,
        60,
        why="valves of such engines",
        shared_as="retainer_to_guide",
        read_by="calliper",
        example="10.4; 10.1; 10.6; 8.9",
    )


class Bind(Question):
    """For closed and ground springs at rest. With uneven pitch, some coils touch earlier."""

    asks = "How far is it from coil bind at full lift?"
    tells = "Room to coil bind"
    works_out = ("spring_solid",)

    fitted_length = one_spring.fitted_length()
    valve_lift = shared.valve_lift()
    wire = one_spring.wire()
    total = one_spring.total()
    inner_wire = one_spring.inner(wire)
    inner_total = one_spring.inner(total)
    guides = Table(
        Guide,
        each="Valve {}",
        most=24,
        refines="Retainer and guide",
        hint="Or to the stem seal. Valve, retainer and collets fitted without the spring, valve pulled shut.",
    )
    least_margin = one_spring.least_margin()
    wire_error = readings.wire_error()
    coils_error = readings.coils_error()
    length_error = readings.length_error()
    length_scatter = readings.length_scatter()

    def answer(self) -> Answer:
        lift_left(self.fitted_length, self.valve_lift)
        fitted, lift = number_in(self.fitted_length, "mm"), number_in(self.valve_lift, "mm")
        solids = self._solids()
        margins = [fitted - lift - solid for _, solid in solids]
        margin = min(margins, key=best_of)
        least = magnitude_in(self.least_margin, "mm")
        verdict = verdict_on(margin, least)
        rooms = self._rooms(lift)
        left = f"{figures(best_of(margin), 1)} mm before the coils touch"
        headline = _HEADLINES[verdict].format(left)
        if best_of(margin) < 0:
            headline = f"Coils touch {figures(-best_of(margin), 1)} mm before full lift"
        return Answer(
            headline=headline,
            says=f"At {figures(best_of(fitted), 1)} mm and a lift of {figures(best_of(lift), 1)} mm: "
            f"{headline[0].lower()}{headline[1:]}; at least {plain(least)} mm is wanted.",
            drawing=springs_at(
                (
                    Height("fitted", best_of(fitted)),
                    Height("full lift", best_of(fitted - lift)),
                    Height("bound", max(best_of(solid) for _, solid in solids)),
                ),
                (self.total,) if self.inner_total is None else (self.total, self.inner_total),
                f"{figures(best_of(margin), 1)} mm left",
            ),
            values=self._numbers(margin, solids),
            warnings=tuple(_warnings(verdict, rooms, least)),
            tables=(_springs(solids, margins, least), *((_guides(rooms, least),) if rooms else ())),
            notes=("The maker's figure for the margin wins over any other.",),
            worked=tuple(
                Worked(name=f"spring_solid.{row}", value=quantity(solid, "mm"))
                for row, (_, solid) in enumerate(solids, 1)
            ),
        )

    def _solids(self) -> list[tuple[Which, Any]]:
        coils = readings.counted(self.total, "Total coils", self.coils_error)
        found = [(OUTER, coils * readings.by_micrometer(self.wire, self.wire_error))]
        wire, total = self.inner_wire, self.inner_total
        if wire is not None and total is not None:
            coils = readings.counted(total, "Total coils of the inner spring", self.coils_error)
            found.append((INSIDE, coils * readings.by_micrometer(wire, self.wire_error)))
        elif wire is not None or total is not None:
            needed = {"wire": (wire, "wire diameter, in millimetres"), "total": (total, "total coils")}
            raise Lacking(*INSIDE.lacking(needed))
        fitted = magnitude_in(self.fitted_length, "mm")
        if too_long := [(which, solid) for which, solid in found if best_of(solid) >= fitted]:
            raise InputErrors(
                *(
                    which.error(
                        "total",
                        "Total coils",
                        f"must be fewer, or its wire thinner: they take up {figures(best_of(solid), 2)} mm of the "
                        f"fitted {figures(fitted, 2)} mm",
                    )
                    for which, solid in too_long
                )
            )
        return found

    def _rooms(self, lift: Any) -> list[Any]:
        errors = self.length_error, self.length_scatter
        return [
            readings.by_calliper(of.to_guide, f"Room between retainer and guide of valve {row}", *errors) - lift
            for row, of in enumerate(self.guides, 1)
        ]

    def _numbers(self, margin: Any, solids: list[tuple[Which, Any]]) -> tuple[Value, ...]:
        touching = tuple((f"coils touch at, {which.name}", quantity(solid, "mm")) for which, solid in solids)
        return (
            Value(
                key="margin",
                label="Coil-bind margin at full lift",
                quantity=quantity(margin, "mm"),
                units=("mm", "thou"),
                formula="fitted length − valve lift − total coils × wire diameter; the least of the springs",
                source=SPRING,
                given=(("fitted length", self.fitted_length), ("valve lift", self.valve_lift), *touching),
            ),
            *(
                Value(
                    key=f"{which.prefix}solid",
                    label=f"Coils touch at, {which.name} spring",
                    quantity=quantity(solid, "mm"),
                    units=("mm", "in"),
                    formula="total coils × wire diameter",
                    source=SPRING,
                )
                for which, solid in solids
            ),
        )


_HEADLINES = {"in": "{}", "out": "Too little: {}", "too close to call": "Too close to call: {}"}


def _warnings(verdict: str, rooms: list[Any], least: float) -> Iterator[Caution]:
    if verdict != "in":
        yield Caution(
            "warning",
            f"At the fitted length the coil-bind margin is not sure to be {plain(least)} mm at full lift. Coils "
            "that "
            "touch bend pushrods and drop valves, and at speed that can kill. Do not fit these springs at this "
            "length.",
        )
    near = [(row, room) for row, room in enumerate(rooms, 1) if verdict_on(room, least) != "in"]
    if near:
        left = listed(figures(best_of(room), 1) for _, room in near)
        yield Caution(
            "warning",
            f"Valve {listed(row for row, _ in near)}: between retainer and guide {left} mm "
            f"{'is' if len(near) == 1 else 'are'} left at full lift, not sure to be the {plain(least)} mm wanted. "
            "A "
            "retainer that strikes its guide breaks it or drops the valve, and at speed that can kill. Shims do "
            "not help: do not fit it until a machine shop has made room.",
        )


def _springs(solids: list[tuple[Which, Any]], margins: list[Any], least: float) -> ResultTable:
    return ResultTable(
        key="springs",
        title="Spring by spring",
        columns=(
            Column(key="spring", label="Spring"),
            Column(key="bound", label="Coils touch at", unit="mm", places=1),
            Column(key="margin", label="Left at full lift", unit="mm", places=1, strong=True),
            Column(key="verdict", label=f"Against {plain(least)} mm"),
        ),
        rows=tuple(
            TableRow(cells=(which.name, quantity(solid, "mm"), quantity(margin, "mm"), verdict_on(margin, least)))
            for (which, solid), margin in zip(solids, margins, strict=True)
        ),
        formula="fitted length − valve lift − total coils × wire diameter; in or out only if all of the ± is",
        source=DECISION,
    )


def _guides(rooms: list[Any], least: float) -> ResultTable:
    return ResultTable(
        key="guides",
        title="Retainer and guide, valve by valve",
        columns=(
            Column(key="valve", label="Valve"),
            Column(key="room", label="Left at full lift", unit="mm", places=1, strong=True),
            Column(key="verdict", label=f"Against {plain(least)} mm"),
        ),
        rows=tuple(
            TableRow(cells=(row, quantity(room, "mm"), verdict_on(room, least)), chosen=verdict_on(room, least) != "in")
            for row, room in enumerate(rooms, 1)
        ),
        formula="room between retainer and guide, valve shut − valve lift; shims do not change it",
        source=DECISION,
    )
