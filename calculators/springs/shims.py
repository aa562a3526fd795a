"""The shims that bring every valve's springs to their seat load, and even them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators._units import figures, plain, printed
from calculators._verdict import best_of, verdict_on
from calculators._words import listed
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
    Stage,
    Step,
    Table,
    TableRow,
    Value,
    Walk,
    length,
    magnitude_in,
    measure,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.entries import listed as several
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.shim_choice import even_shims, shim_stacks
from calculators.springs import one_spring, readings
from calculators.springs.loads import FLIES
from calculators.springs.nest import DECISION, SPRING, Spring, height_for, load_of
from calculators.springs.shim_drawing import shims_under

_SPRINGS = "The springs"


class Installed(Row):
    """How long the springs of one valve would stand without shims."""

    height = one_spring.valve_height(example="38.6; 38.1; 39.0; 38.4")


@dataclass(frozen=True, slots=True)
class Fitting:
    """One valve: the shims for it in mm, the height then, and what the springs do there."""

    number: int
    pile: tuple[float, ...]
    height: Any
    seat: Any
    open: Any
    margin: Any
    verdict: Verdict

    @property
    def shims(self) -> str:
        return " + ".join(plain(shim) for shim in self.pile) or "none"


class Shims(Question):
    """Of all piles of up to two shims those that even the springs, then come nearest to the load wanted.

    Loads as the springs were measured; a pile that would take the coils too near to each other is not proposed.
    """

    asks = "Which shims bring each spring to its length?"

    valves = Table(
        Installed,
        each="Valve {}",
        most=24,
        hint="Seat of the spring to the retainer: valve, retainer and collets fitted without spring, pulled shut.",
    )
    seat_load = one_spring.load(
        "Seat load wanted",
        hint="Valve shut, both springs together; the maker's figure.",
        card="springs.seat_load",
        example="265 N",
        shared_as="wanted_seat_load",
        said="{} wanted",
    )
    shims = several(
        length(
            "Shims",
            0.1,
            5,
            why="thinner is foil, thicker is a spacer",
            exact=True,
            hint="Thicknesses that you have, each once.",
            usual="0.25 0.5 0.75 1",
            shared_as="spring_shims",
            said="shims {}",
        ),
        1,
        8,
        like="0.25 0.5 1",
    )
    load_band = measure(
        "Tolerance of the seat load",
        "%",
        0.5,
        30,
        why="tighter cannot be shimmed",
        exact=True,
        hint="Either way, of the load wanted.",
        usual="5 %",
        shared_as="seat_load_band",
        refines="What is wanted",
        said="± {}",
    )
    least_margin = one_spring.least_margin()
    valve_lift = optional(shared.valve_lift(refines=_SPRINGS))
    rate = measure(
        "Rate",
        "N/mm",
        0.5,
        1000,
        why=one_spring.OF_SUCH_ENGINES,
        hint="Worked out from two loads or from the wire, or your own.",
        shared_as="spring_rate.1",
        refines=_SPRINGS,
        said="{}",
    )
    begins = one_spring.height(
        "Length at which its load begins",
        hint="Free length; worked out where two loads were measured.",
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
        wanted = height_for(springs, magnitude_in(self.seat_load, "N"))
        said = "; ".join(f"valve {one.number}: {one.shims}{' mm' if one.pile else ''}" for one in fitted)
        return Answer(
            headline=_headline(fitted),
            says=f"Shims: {said}.",
            drawing=shims_under([(one.number, one.pile, best_of(one.height)) for one in fitted], best_of(wanted)),
            values=self._numbers(springs, wanted, fitted),
            warnings=(FLIES, *self._warnings(fitted)),
            steps=_walk(fitted),
            tables=(self._table(fitted),),
            notes=(
                "A shim goes under the spring, on the head; a hardened one lies against the spring (common practice, "
                "no source).",
                "The maker's loads and lengths win over any figure here.",
            ),
        )

    def _springs(self) -> tuple[Spring, ...]:
        outer = Spring(number_in(self.rate, "N/mm"), number_in(self.begins, "mm"))
        if self.inner_rate is None and self.inner_begins is None:
            return (outer,)
        if self.inner_rate is None:
            raise Lacking(FieldError("inner_rate", "Enter the rate of the inner spring too, in newtons a millimetre"))
        if self.inner_begins is None:
            message = "Enter the length at which the load of the inner spring begins too, in millimetres"
            raise Lacking(FieldError("inner_begins", message))
        return outer, Spring(number_in(self.inner_rate, "N/mm"), number_in(self.inner_begins, "mm"))

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

    def _numbers(self, springs: Sequence[Spring], wanted: Any, fitted: Sequence[Fitting]) -> tuple[Value, ...]:
        heights = sorted((one.height for one in fitted), key=best_of)
        values = [
            Value(
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
        ]
        if len(fitted) > 1:
            values.append(
                Value(
                    key="spread",
                    label="Heights then differ by",
                    quantity=quantity(heights[-1] - heights[0], "mm"),
                    units=("mm",),
                    formula="longest − shortest, with their shims",
                    source=DECISION,
                )
            )
        return tuple(values)

    def _warnings(self, fitted: Sequence[Fitting]) -> tuple[Caution, ...]:
        least = magnitude_in(self.least_margin, "mm")
        told = []
        near = [one.number for one in fitted if one.margin is not None and verdict_on(one.margin, least) != "in"]
        if near:
            told.append(
                Caution(
                    "warning",
                    f"Valve {listed(near)}: the coil-bind margin is not surely {plain(least)} mm at full lift. Coils "
                    "that touch bend pushrods and drop valves, and at speed that can kill.",
                )
            )
        if fitted[0].margin is None:
            message = "Coil bind is not looked at here: work it out first, or shims may press the coils together."
            told.append(Caution("notice", message))
        wanted = magnitude_in(self.seat_load, "N")
        off = [one for one in fitted if one.verdict == "out"]
        strong = [one.number for one in off if not one.pile and best_of(one.seat) > wanted]
        weak = [one.number for one in off if one.number not in strong]
        if weak:
            told.append(
                Caution(
                    "notice",
                    f"Valve {listed(weak)}: no pile of these shims gives the seat load wanted. Look at the seat and "
                    "the valve before you buy thicker shims: a valve sunk in its seat makes the spring long.",
                )
            )
        if strong:
            told.append(
                Caution(
                    "notice",
                    f"Valve {listed(strong)}: the spring stands too short, and presses more than is wanted without "
                    "any shim. Look for a shim or washer left under it, for the wrong retainer or collets, and for a "
                    "valve that stands high in its seat.",
                )
            )
        if close := [one.number for one in fitted if one.verdict == "too close to call"]:
            told.append(
                Caution(
                    "notice",
                    f"Valve {listed(close)}: too close to call. The seat load is not known well enough for a band of "
                    f"{printed(self.load_band, '%')}. Press the springs on a tester: two loads at two lengths.",
                )
            )
        return tuple(told)

    def _table(self, fitted: Sequence[Fitting]) -> ResultTable:
        return ResultTable(
            key="valves",
            title="Valve by valve, with its shims",
            columns=(
                Column(key="valve", label="Valve"),
                Column(key="shims", label="Shims, mm", strong=True),
                Column(key="height", label="Height then", unit="mm"),
                Column(key="seat", label="Seat load", unit="N"),
                Column(key="open", label="Full lift", unit="N"),
                Column(key="margin", label="Coil-bind margin", unit="mm", places=1),
                Column(key="verdict", label="Seat load"),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        one.number,
                        one.shims,
                        quantity(one.height, "mm"),
                        quantity(one.seat, "N"),
                        None if one.open is None else quantity(one.open, "N"),
                        None if one.margin is None else quantity(one.margin, "mm"),
                        one.verdict,
                    )
                )
                for one in fitted
            ),
            formula="of all piles of up to two shims that keep the seat load and the coil-bind margin, those with the "
            "least spread of heights, then nearest to the height wanted",
            source=DECISION,
            given=(("seat load wanted", self.seat_load), ("tolerance", self.load_band)),
        )


def _headline(fitted: Sequence[Fitting]) -> str:
    """Return the piles in the order of the valves; how many there are where they are too many to read from afar."""
    piles = [one.shims for one in fitted]
    if set(piles) == {"none"}:
        return "No shims"
    if len(set(piles)) == 1:
        return f"{piles[0]} mm under each" if len(piles) > 1 else f"{piles[0]} mm"
    whole = "Valve " + " · ".join(f"{one.number}: {one.shims}" for one in fitted) + " mm"
    if len(whole) <= LONGEST_HEADLINE:
        return whole
    return f"{sum(bool(one.pile) for one in fitted)} of {len(fitted)} valves want shims"


def _walk(fitted: Sequence[Fitting]) -> tuple[Walk, ...]:
    steps = tuple(
        Step(
            key=str(one.number),
            label=str(one.number),
            words=f"Valve {one.number}: {_put(one)}; the springs stand at {figures(best_of(one.height), 2)} mm.",
            large=f"{one.number} · {one.shims}{' mm' if one.pile else ''}",
        )
        for one in fitted
    )
    return (Walk(key="shims", title="Valve by valve", stages=(Stage(title="Shims", steps=steps),)),)


def _put(one: Fitting) -> str:
    return f"put {one.shims} mm under them" if one.pile else "no shim"
