"""The load of the springs of one valve, shut and at full lift."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    Column,
    Entry,
    FieldError,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    ResultTable,
    TableRow,
    Value,
    Worked,
    magnitude_in,
    number,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.units import figures
from calculators.bench.verdict import best_of
from calculators.springs import one_spring, readings
from calculators.springs.measured import BY_WIRE, Measured, wider_than_its_room
from calculators.springs.nest import INSIDE, OUTER, SPRING, Spring, lift_left, load_of
from calculators.springs.spring_drawing import Height, springs_at

_TESTED = "Loads from a spring tester"
FLIES = Caution(
    "warning",
    "A compressed spring that slips off its tool hits like a hammer. Wear eye protection, keep face and hands out of "
    "its line, and see both collets seated before you let go.",
)
MAKERS_WIN = "The maker's loads, lengths and limits win over any figure here."
OF_THE_WIRE = (
    "A rate from the wire is good to about 5% at best: the wire diameter counts to the fourth power, and coils and "
    "modulus are no better known. Measure two loads if you can."
)
ALL_ALIKE = "Replace the springs of one valve together, and those of an engine as a set (common practice, no source)."


def _pressed_to(which: str) -> Entry[Quantity | None]:
    said = f"{which} {{}}"
    return optional(
        one_spring.height(
            f"{which.capitalize()} length",
            shared_as=f"spring_{which}_length.1",
            refines=_TESTED,
            said=said,
        )
    )


def _load_at(which: str) -> Entry[Quantity | None]:
    return optional(
        one_spring.load(
            f"Load at the {which} length",
            shared_as=f"spring_{which}_load.1",
            read_by="spring_tester",
            refines=_TESTED,
            said="{}",
        )
    )


class Loads(Question):
    """For closed and ground springs of round wire, at rest.

    Two measured loads win over the wire; one load needs the free length. Springs of uneven pitch get stiffer as their
    coils touch.
    """

    asks = "What load does this spring give, valve shut and open?"
    tells = "Spring loads"
    works_out = ("spring_rate", "spring_begins", "spring_seat_load", "spring_open_load")

    fitted_length = one_spring.fitted_length()
    valve_lift = shared.valve_lift()
    free_length = optional(one_spring.free_length())
    wire = optional(one_spring.wire())
    outside = optional(one_spring.outside())
    total = optional(one_spring.total())
    active = one_spring.active()
    length_a = _pressed_to("first")
    load_a = _load_at("first")
    length_b = _pressed_to("second")
    load_b = _load_at("second")
    inner_free_length = one_spring.inner(free_length)
    inner_wire = one_spring.inner(wire)
    inner_outside = one_spring.inner(outside)
    inner_total = one_spring.inner(total)
    inner_active = one_spring.inner(active)
    inner_length_a = one_spring.inner(length_a)
    inner_load_a = one_spring.inner(load_a)
    inner_length_b = one_spring.inner(length_b)
    inner_load_b = one_spring.inner(load_b)
    modulus = number(
        "Shear modulus in GPa",
        30,
        120,
        why="spring wires",
        usual="79.3",
        shared_as="spring_modulus",
        refines=one_spring.WIRE,
        said="{} GPa",
    )
    modulus_error = shared.error_limit(
        "Error limit of the modulus",
        "%",
        30,
        why="spring wires vary by less",
        hint="Plus or minus; 2% is common practice for an unknown wire.",
        usual="2 %",
        shared_as="spring_modulus_error",
        refines=one_spring.WIRE,
        said="± {}",
    )
    wire_error = readings.wire_error()
    length_error = readings.length_error()
    length_scatter = readings.length_scatter()
    stop_error = readings.stop_error()
    load_error = readings.load_error()
    load_scatter = readings.load_scatter()
    coils_error = readings.coils_error()

    def answer(self) -> Answer:
        lift_left(self.fitted_length, self.valve_lift)
        fitted = number_in(self.fitted_length, "mm")
        open_at = fitted - number_in(self.valve_lift, "mm")
        measured = self._measured()
        springs = _springs(measured, best_of(fitted), open_at)
        seat, at_lift = load_of(springs, fitted), load_of(springs, open_at)
        shut, lifted = figures(best_of(seat), 0), figures(best_of(at_lift), 0)
        return Answer(
            headline=f"{shut} N shut, {lifted} N open",
            says=f"At {figures(best_of(fitted), 1)} mm the valve is held with {shut} N, at full lift with {lifted} N.",
            drawing=self._drawing(measured, springs, fitted, open_at),
            values=self._numbers(springs, fitted, open_at),
            warnings=(FLIES, Caution("notice", MAKERS_WIN)),
            tables=(_table(springs, fitted, open_at),),
            notes=(*((OF_THE_WIRE,) if any(spring.basis == BY_WIRE for spring in springs) else ()), ALL_ALIKE),
            worked=tuple(
                Worked(name=f"{name}.{row}", value=value)
                for row, spring in enumerate(springs, 1)
                for name, value in (
                    ("spring_rate", quantity(spring.rate, "N/mm")),
                    ("spring_begins", quantity(spring.free, "mm")),
                    ("spring_seat_load", quantity(spring.load(fitted), "N")),
                    ("spring_open_load", quantity(spring.load(open_at), "N")),
                )
            ),
        )

    def _measured(self) -> tuple[Measured, ...]:
        outer = self._read(
            OUTER,
            (self.free_length, self.wire, self.outside),
            (self.total, self.active),
            ((self.length_a, self.load_a), (self.length_b, self.load_b)),
        )
        lengths = (self.inner_free_length, self.inner_wire, self.inner_outside)
        coils = (self.inner_total, self.inner_active)
        pressed = ((self.inner_length_a, self.inner_load_a), (self.inner_length_b, self.inner_load_b))
        if all(one is None for one in (*lengths, *coils, *pressed[0], *pressed[1])):
            return (outer,)
        return outer, self._read(INSIDE, lengths, coils, pressed)

    def _read(
        self,
        which: Any,
        lengths: tuple[Quantity | None, ...],
        coils: tuple[float | None, ...],
        pressed: tuple[tuple[Quantity | None, Quantity | None], ...],
    ) -> Measured:
        """Return what was read of one spring; a length without its load, or a load without its length, is asked for."""
        errors = self.length_error, self.length_scatter
        points, halves = [], []
        behind = which.behind
        for key, word, (length, load) in zip("ab", ("first", "second"), pressed, strict=True):
            if length is not None and load is not None:
                told = f"Load at the {word} length{behind}"
                read = readings.by_tester(load, told, self.load_error, self.load_scatter)
                points.append((readings.by_stop(length, self.stop_error), read))
            elif length is not None or load is not None:
                lacks, noun = ("load", f"load at the {word} length") if load is None else ("length", f"{word} length")
                symbol = "newtons" if load is None else "millimetres"
                halves.append(
                    FieldError(f"{which.prefix}{lacks}_{key}", f"Enter the {noun}{behind} as well, in {symbol}")
                )
        if halves:
            raise Lacking(*halves)
        free, wire, outside = lengths
        share = magnitude_in(self.modulus_error, "%") / 100
        modulus = 1000 * self.modulus * (1 + readings.own_error("Shear modulus", share))
        return Measured(
            which=which,
            free=None if free is None else readings.by_calliper(free, f"Free length{behind}", *errors),
            wire=None if wire is None else readings.by_micrometer(wire, self.wire_error),
            outside=None if outside is None else readings.by_calliper(outside, f"Outside diameter{behind}", *errors),
            total=None if coils[0] is None else readings.counted(coils[0], f"Total coils{behind}", self.coils_error),
            active=None if coils[1] is None else readings.counted(coils[1], f"Active coils{behind}", self.coils_error),
            modulus=modulus,
            points=tuple(points),
        )

    def _numbers(self, springs: tuple[Spring, ...], fitted: Any, open_at: Any) -> tuple[Value, ...]:
        given = tuple(
            pair
            for spring, which in zip(springs, (OUTER, INSIDE), strict=False)
            for pair in (
                (f"rate{_behind(which, springs)}", quantity(spring.rate, "N/mm")),
                (f"load begins at{_behind(which, springs)}", quantity(spring.free, "mm")),
            )
        )
        loads = [
            Value(
                key=key,
                label=label,
                quantity=quantity(load_of(springs, height), "N"),
                units=("N", "lbf"),
                formula="Σ rate × (free length − height)",
                source=SPRING,
                given=(*given, ("height", quantity(height, "mm"))),
            )
            for key, label, height in (
                ("seat_load", "Load at the fitted length, valve shut", fitted),
                ("open_load", "Load at full lift", open_at),
            )
        ]
        rate = Value(
            key="rate",
            label="Rate",
            quantity=quantity(sum(spring.rate for spring in springs), "N/mm"),
            units=("N/mm", "lbf/in"),
            formula="(F₂ − F₁) ÷ (L₁ − L₂), else F ÷ (free length − L), else G d⁴ ÷ (8 D³ n); two springs in one "
            "another share the way and add their loads",
            source=SPRING,
            given=given,
        )
        return (*loads, rate)

    def _drawing(self, measured: Any, springs: tuple[Spring, ...], fitted: Any, open_at: Any) -> Any:
        solids = [best_of(one.solid) for one in measured if one.solid is not None]
        bound = max(solids) if len(solids) == len(springs) else None
        places = [
            Height("free", max(best_of(spring.free) for spring in springs)),
            Height("fitted", best_of(fitted), best_of(load_of(springs, fitted))),
            Height("full lift", best_of(open_at), best_of(load_of(springs, open_at))),
        ]
        if bound is not None:
            places.append(Height("bound", bound))
        coils = tuple(6.0 if one.total is None else best_of(one.total) for one in measured)
        return springs_at(tuple(places), coils)


def _springs(measured: tuple[Measured, ...], fitted: float, open_at: Any) -> tuple[Spring, ...]:
    """Return the springs; what is wrong with either is told at once."""
    found: list[Spring] = []
    wrong: list[FieldError] = []
    lacking: list[FieldError] = []
    for one in measured:
        try:
            found.append(one.spring(fitted))
        except Lacking as empty:
            lacking += empty.errors
        except InputErrors as refused:
            wrong += refused.errors
    if not wrong and len(measured) == 2 and (wide := wider_than_its_room(*measured)):
        wrong.append(wide)
    if wrong:
        raise InputErrors(*wrong)
    if lacking:
        raise Lacking(*lacking)
    loads = [spring.load(open_at) for spring in found]
    if broken := [error for one, load in zip(measured, loads, strict=True) if (error := one.unbearable(load))]:
        raise InputErrors(*broken)
    return tuple(found)


def _behind(which: Any, springs: tuple[Spring, ...]) -> str:
    return f", {which.name}" if len(springs) == 2 else ""


def _table(springs: tuple[Spring, ...], fitted: Any, open_at: Any) -> ResultTable:
    return ResultTable(
        key="springs",
        title="Spring by spring",
        columns=(
            Column(key="spring", label="Spring"),
            Column(key="rate", label="Rate", unit="N/mm", strong=True),
            Column(key="seat", label="Shut", unit="N"),
            Column(key="open", label="Full lift", unit="N"),
            Column(key="basis", label="Rate from", wide=True),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    which.name,
                    quantity(spring.rate, "N/mm"),
                    quantity(spring.load(fitted), "N"),
                    quantity(spring.load(open_at), "N"),
                    spring.basis,
                )
            )
            for spring, which in zip(springs, (OUTER, INSIDE), strict=False)
        ),
        formula="rate = (F₂ − F₁) ÷ (L₁ − L₂), else F ÷ (free length − L), else G d⁴ ÷ (8 D³ n); load = rate × "
        "(free length − height)",
        source=SPRING,
    )
