"""The shims that bring every valve's springs to their seat load, and even them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from calculators.bench import (
    DECISION,
    Answer,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    Row,
    Table,
    Value,
    length,
    magnitude_in,
    measure,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.entries import either_way, listed
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, verdict_on
from calculators.formulas.shim_choice import even_shims, shim_stacks
from calculators.springs import one_spring, readings
from calculators.springs.loads import FLIES
from calculators.springs.nest import INSIDE, SPRING, Spring, height_for, load_of
from calculators.springs.shim_drawing import shims_under
from calculators.springs.shims_told import Fitting, headline, table, walk, warnings

_SPRINGS = "The springs"


class Installed(Row):
    """How long the springs of one valve would stand without shims."""

    height = one_spring.valve_height(example="38.6; 38.1; 39.0; 38.4")


class Shims(Question):
    """Finds the stacks of up to two shims that make the springs most equal, then nearest to the load wanted.

    Loads are as measured; a stack that brings the coils too close together is not proposed.
    """

    asks = "Which shims bring each spring to its length?"
    tells = "Shims under the springs"
    deed = "Put shims under the valve springs"

    valves = Table(
        Installed,
        each="Valve {}",
        most=24,
        hint="Seat of the spring to the retainer: valve, retainer and collets fitted without the spring, valve pulled "
        "shut.",
    )
    seat_load = one_spring.load(
        "Seat load wanted",
        exact=True,
        hint="Valve shut, both springs together; the maker's figure.",
        card=CardFacts.springs.seat_load.path,
        example="265 N",
        shared_as="wanted_seat_load",
        said="{} wanted",
    )
    shims = listed(
        length(
            "Shims",
            0.1,
            5,
            why="thinner is foil, thicker is a spacer",
            exact=True,
            hint="The thicknesses you have, each once.",
            usual="0.25 0.5 0.75 1",
            shared_as="spring_shims",
            said="shims {}",
        ),
        1,
        8,
        like="0.25 0.5 1",
    )
    load_band = either_way(
        measure(
            "Tolerance of the seat load",
            "%",
            0.5,
            30,
            why="less cannot be shimmed",
            exact=True,
            hint="Plus or minus, of the load wanted.",
            usual="5 %",
            shared_as="seat_load_band",
            refines="What is wanted",
            said="± {}",
        )
    )
    least_margin = one_spring.least_margin()
    valve_lift = optional(shared.valve_lift(refines=_SPRINGS))
    rate = one_spring.rate(refines=_SPRINGS)
    begins = one_spring.height(
        "Length at which its load begins",
        hint="Free length; worked out if two loads were measured.",
        shared_as="spring_begins.1",
        refines=_SPRINGS,
        said="from {}",
    )
    solid = optional(
        one_spring.height(
            "Length at which its coils touch", shared_as="spring_solid.1", refines=_SPRINGS, said="bound at {}"
        )
    )
    inner_rate = one_spring.inner(rate)
    inner_begins = one_spring.inner(begins)
    inner_solid = one_spring.inner(solid)
    length_error = readings.length_error()
    length_scatter = readings.length_scatter()

    def answer(self) -> Answer:
        if not self.valves:
            raise Lacking(FieldError("height.1", "Enter the installed heights, one row a valve"))
        springs = self._springs()
        self._refuse_a_load_too_great(springs)
        fitted = self._fitted(springs)
        load = magnitude_in(self.seat_load, "N")
        wanted = height_for(springs, load)
        said = "; ".join(f"valve {one.number}: {one.shims}{' mm' if one.pile else ''}" for one in fitted)
        return Answer(
            headline=headline(fitted),
            says=f"Shims: {said}.",
            record=f"Shims under the valve springs: {said}.",
            drawing=shims_under([(one.number, one.pile, best_of(one.height)) for one in fitted], best_of(wanted)),
            values=tuple(self._numbers(springs, wanted, fitted)),
            warnings=(FLIES, *warnings(fitted, load, self.load_band, magnitude_in(self.least_margin, "mm"))),
            steps=walk(fitted),
            tables=(table(fitted, self.seat_load, self.load_band),),
            notes=(
                "Shims go under the spring, on the head, with a hardened one against the spring (common practice, "
                "no source).",
                "The maker's loads and lengths win over any figure here.",
            ),
        )

    def _springs(self) -> tuple[Spring, ...]:
        outer = Spring(number_in(self.rate, "N/mm"), number_in(self.begins, "mm"))
        rate, begins = self.inner_rate, self.inner_begins
        if rate is None and begins is None:
            return (outer,)
        if rate is None:
            raise Lacking(*INSIDE.lacking({"rate": (rate, "rate, in newtons a millimetre")}))
        if begins is None:
            message = "Enter the length at which the load of the inner spring begins, in millimetres"
            raise Lacking(FieldError("inner_begins", message))
        return outer, Spring(number_in(rate, "N/mm"), number_in(begins, "mm"))

    @property
    def _bound(self) -> Any:
        """Length at which the first coils touch, in mm; None where nobody told it of each spring."""
        solids = [self.solid, *([self.inner_solid] if self.inner_rate is not None else [])]
        known = [number_in(solid, "mm") for solid in solids if solid is not None]
        return max(known, key=best_of) if len(known) == len(solids) else None

    def _refuse_a_load_too_great(self, springs: Sequence[Spring]) -> None:
        if self._bound is None:
            return
        most = best_of(load_of(springs, best_of(self._bound)))
        if magnitude_in(self.seat_load, "N") >= most:
            message = f"must be less than {figures(most, 0)} N, at which the coils of these springs touch"
            raise InputErrors(FieldError("seat_load", f"Seat load wanted {message}"))

    def _fitted(self, springs: Sequence[Spring]) -> tuple[Fitting, ...]:
        errors = self.length_error, self.length_scatter
        heights = [
            readings.by_calliper(of.height, f"Installed height of valve {row}", *errors)
            for row, of in enumerate(self.valves, 1)
        ]
        load, share = magnitude_in(self.seat_load, "N"), magnitude_in(self.load_band, "%") / 100
        lift = None if self.valve_lift is None else number_in(self.valve_lift, "mm")
        bound = self._bound
        least = 0.0
        if bound is not None and lift is not None:
            least = best_of(bound) + best_of(lift) + magnitude_in(self.least_margin, "mm")
        piles = even_shims(
            tuple(best_of(height) for height in heights),
            shim_stacks(tuple(magnitude_in(shim, "mm") for shim in self.shims)),
            best_of(height_for(springs, load)),
            share * load / sum(best_of(spring.rate) for spring in springs),
            least,
        )
        fitted = []
        for number, (found, pile) in enumerate(zip(heights, piles, strict=True), 1):
            height = found - sum(pile)
            seat = load_of(springs, height)
            fitted.append(
                Fitting(
                    number=number,
                    pile=pile,
                    height=height,
                    seat=seat,
                    open=None if lift is None else load_of(springs, height - lift),
                    margin=None if lift is None or bound is None else height - lift - bound,
                    verdict=verdict_on(seat, (1 - share) * load, (1 + share) * load),
                )
            )
        return tuple(fitted)

    def _numbers(self, springs: Sequence[Spring], wanted: Any, fitted: Sequence[Fitting]) -> Iterator[Value]:
        heights = sorted((one.height for one in fitted), key=best_of)
        yield Value(
            key="wanted_height",
            label="Height for the seat load wanted",
            quantity=quantity(wanted, "mm"),
            units=("mm", "in"),
            formula="(Σ rate × length at which its load begins − seat load) ÷ Σ rate",
            source=SPRING,
            given=(
                ("seat load", self.seat_load),
                ("rate", quantity(sum(spring.rate for spring in springs), "N/mm")),
            ),
        )
        if len(fitted) > 1:
            yield Value(
                key="spread",
                label="Heights then differ by",
                quantity=quantity(heights[-1] - heights[0], "mm"),
                formula="longest − shortest, with their shims",
                source=DECISION,
            )
