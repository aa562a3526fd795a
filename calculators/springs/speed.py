"""Springs at speed: whether their coils surge, and how far they follow the cam."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    Column,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    ResultTable,
    Source,
    TableRow,
    Value,
    measure,
    number,
    number_in,
    optional,
    quantity,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, verdict_on
from calculators.bench.words import listed
from calculators.formulas.helical_spring import follow_speed, moving_mass, natural_frequency
from calculators.springs import one_spring, readings
from calculators.springs.nest import DEAD_COILS, INSIDE, OUTER, SPRING, Which, too_wide
from calculators.springs.surge_drawing import surging

NEWTON = Source("Newton's second law; a third of a spring's moving coils moves with its end (Rayleigh)", "identity")
SURGES = 10.0
"""A spring's own frequency over the camshaft's, below which its coils surge (common practice, no source)."""
_SPRINGS = "The springs"


@dataclass(frozen=True, slots=True)
class AtSpeed:
    """One spring: own frequency in Hz, swings in one turn of the cam, mass of its moving coils in kg, load in N."""

    which: Which
    frequency: Any
    swings: Any
    mass: Any
    load: Any

    @property
    def verdict(self) -> str:
        return verdict_on(self.swings, SURGES)


class Speed(Question):
    """An estimate for stiff valve gear without friction; a real one leaves its cam earlier.

    Whether coils surge depends on the cam as well; ten swings in a turn of the camshaft are common practice.
    """

    asks = "Does the spring surge, and up to what speed does it follow the cam?"
    tells = "Spring surge"

    highest_speed = measure(
        "Highest speed",
        "r/min",
        500,
        20000,
        why="engines of this kind",
        card=CardFacts.running.highest_speed.path,
        example="4600 r/min",
        shared_as="highest_speed",
        said="to {}",
    )
    mass = optional(
        number(
            "Moved mass in g",
            10,
            2000,
            why="valve gear of such engines",
            hint="Valve, retainer, collets, and the rest of the gear as felt at the valve; not the springs. May stay "
            "empty.",
            example="120",
            shared_as="valve_gear_mass",
            said="{} g moved",
        )
    )
    slowing = optional(
        number(
            "Greatest deceleration of the valve in mm/degree²",
            0.0005,
            0.1,
            why="cams of such engines",
            hint="In camshaft degrees, near full lift; from the cam's maker or a lift table. May stay empty.",
            example="0.008",
            shared_as="valve_slowing",
            said="slowed by {}",
        )
    )
    rate = one_spring.rate(refines=_SPRINGS)
    open_load = optional(
        one_spring.load("Load at full lift", shared_as="spring_open_load.1", refines=_SPRINGS, said="{}")
    )
    wire = one_spring.wire(refines=_SPRINGS)
    outside = one_spring.outside(refines=_SPRINGS)
    total = optional(one_spring.total(refines=_SPRINGS))
    active = one_spring.active(refines=_SPRINGS)
    inner_rate = one_spring.inner(rate)
    inner_open_load = one_spring.inner(open_load)
    inner_wire = one_spring.inner(wire)
    inner_outside = one_spring.inner(outside)
    inner_total = one_spring.inner(total)
    inner_active = one_spring.inner(active)
    density = number(
        "Density of the wire in kg/m³",
        2000,
        12000,
        why="spring wires",
        usual="7850",
        shared_as="spring_density",
        refines=one_spring.WIRE,
        said="{} kg/m³",
    )
    wire_error = readings.wire_error()
    length_error = readings.length_error()
    length_scatter = readings.length_scatter()
    coils_error = readings.coils_error()

    def answer(self) -> Answer:
        springs = self._springs()
        worst = min(springs, key=lambda one: best_of(one.swings))
        follows = self._follows(springs)
        surges = _SURGE_WORDS[worst.verdict]
        swings = figures(best_of(worst.swings), 1)
        to = "" if follows is None else f"; follows to {_rounded(follows)} r/min"
        return Answer(
            headline=f"{surges}: {swings} swings a cam turn{to}",
            says=f"At {figures(best_of(self._highest), 0)} r/min left to itself the spring swings {swings} times in "
            f"one turn of the camshaft: {surges[0].lower()}{surges[1:]}."
            + ("" if follows is None else f" It just follows the cam to {_rounded(follows)} r/min."),
            drawing=surging(best_of(worst.swings), SURGES),
            values=(*self._surge_values(springs), *self._follow_values(springs, follows)),
            warnings=tuple(self._warnings(springs, follows)),
            tables=(_table(springs),),
            notes=(
                "A spring worked out from its wire is known to a few per cent only. Two different springs, one inside "
                "the other, damp each other (common practice, no source).",
            ),
        )

    @property
    def _highest(self) -> Any:
        return number_in(self.highest_speed, "r/min")

    def _springs(self) -> list[AtSpeed]:
        outer = (self.rate, self.open_load, self.wire, self.outside, self.total, self.active)
        inner = (
            self.inner_rate,
            self.inner_open_load,
            self.inner_wire,
            self.inner_outside,
            self.inner_total,
            self.inner_active,
        )
        given = [(OUTER, outer), *([(INSIDE, inner)] if any(one is not None for one in inner) else [])]
        lacking = [error for which, those in given for error in _lacking(which, those)]
        if lacking:
            raise Lacking(*lacking)
        found, wrong = [], []
        for which, those in given:
            read = self._read(which, those)
            if isinstance(read, FieldError):
                wrong.append(read)
            else:
                found.append(read)
        if wrong:
            raise InputErrors(*wrong)
        return found

    def _read(self, which: Which, those: tuple[Any, ...]) -> AtSpeed | FieldError:
        rate, load, thickness, outside, total, active = those
        wire = readings.by_micrometer(thickness, self.wire_error)
        across = readings.by_calliper(
            outside, f"Outside diameter{which.behind}", self.length_error, self.length_scatter
        )
        if narrow := too_wide(which, wire, across):
            return narrow
        if active is not None and total is not None and active > total:
            return which.error("active", "Active coils", "must not be more than its total coils")
        if active is not None:
            moving = readings.counted(active, f"Active coils{which.behind}", self.coils_error)
        else:
            moving = readings.counted(total, f"Total coils{which.behind}", self.coils_error) - DEAD_COILS
        if best_of(moving) <= 0:
            return which.error("total", "Total coils", "must be more than the two dead end coils")
        mass = moving_mass(wire, across - wire, moving, self.density)
        frequency = natural_frequency(number_in(rate, "N/mm"), mass)
        return AtSpeed(
            which,
            frequency,
            frequency / (self._highest / 2 / 60),
            mass,
            None if load is None else number_in(load, "N"),
        )

    def _follows(self, springs: list[AtSpeed]) -> Any:
        """Return the engine speed in r/min to which the springs follow; None where something of it is not known."""
        loads = [one.load for one in springs]
        if self.mass is None or self.slowing is None or any(load is None for load in loads) or best_of(sum(loads)) <= 0:
            return None
        return follow_speed(sum(loads), self._moved(springs), self.slowing)

    def _moved(self, springs: list[AtSpeed]) -> Any:
        return (self.mass or 0) / 1000 + sum(one.mass for one in springs) / 3

    def _surge_values(self, springs: list[AtSpeed]) -> Iterator[Value]:
        for one in springs:
            behind = f", {one.which.name} spring" if len(springs) == 2 else ""
            yield Value(
                key=f"{one.which.prefix}frequency",
                label=f"Its own frequency{behind}, in Hz",
                quantity=one.frequency,
                places=0,
                formula="½ √(rate ÷ mass of the moving coils); that mass is π² ÷ 4 · d² D n × density",
                source=SPRING,
                given=(("mass of the moving coils, g", 1000 * best_of(one.mass)),),
            )
            yield Value(
                key=f"{one.which.prefix}swings",
                label=f"Swings in one turn of the camshaft{behind}",
                quantity=one.swings,
                places=1,
                formula="its own frequency ÷ (highest speed ÷ 2)",
                source=SPRING,
                given=(("highest speed", self.highest_speed),),
            )

    def _follow_values(self, springs: list[AtSpeed], follows: Any) -> Iterator[Value]:
        if follows is None:
            return
        yield Value(
            key="follow_speed",
            label="Engine speed at which the springs just follow",
            quantity=quantity(follows, "r/min"),
            formula="2 × √(load at full lift ÷ (mass × deceleration)) ÷ 2π, the deceleration in cam radians; stiff "
            "valve gear, no friction",
            source=NEWTON,
            given=(
                ("load at full lift", quantity(sum(one.load for one in springs), "N")),
                ("mass with a third of the springs, g", 1000 * best_of(self._moved(springs))),
                ("deceleration, mm/degree²", self.slowing),
            ),
        )
        yield Value(
            key="follow_margin",
            label="Above the highest speed by",
            quantity=quantity(100 * (follows / self._highest - 1), "%"),
            places=0,
            formula="speed at which the springs just follow ÷ highest speed − 1",
            source=NEWTON,
            given=(("follows to", quantity(follows, "r/min")), ("highest speed", self.highest_speed)),
        )

    def _warnings(self, springs: list[AtSpeed], follows: Any) -> Iterator[Caution]:
        if slow := [one.which.name for one in springs if one.verdict == "out"]:
            yield Caution(
                "notice",
                f"The {listed(slow)} spring surges below {SURGES:.0f} times the camshaft's speed at the highest "
                "engine speed (common practice, no source): its coils may swing and its load fall off.",
            )
        if any(one.verdict == "too close to call" for one in springs):
            message = "Whether the coils surge is too close to call. Press the springs on a tester: two loads."
            yield Caution("notice", message)
        if follows is not None and verdict_on(follows - self._highest, 0.0) != "in":
            yield Caution(
                "warning",
                "The springs are not sure to follow the cam to the highest speed. A valve that floats hits the "
                "piston, and "
                "at speed that can kill. Keep the speed well below, or fit stronger springs.",
            )


_SURGE_WORDS = {"in": "No surge", "out": "It may surge", "too close to call": "Too close"}


def _rounded(speed: Any) -> str:
    return figures(round(best_of(speed), -1), 0)


def _lacking(which: Which, those: tuple[Any, ...]) -> list[FieldError]:
    rate, _, wire, outside, total, active = those
    return which.lacking(
        {
            "rate": (rate, "rate, in newtons a millimetre"),
            "wire": (wire, "wire diameter, in millimetres"),
            "outside": (outside, "outside diameter, in millimetres"),
            "total": (total if active is None else active, "total coils"),
        }
    )


def _table(springs: list[AtSpeed]) -> ResultTable:
    return ResultTable(
        key="springs",
        title="Spring by spring",
        columns=(
            Column(key="spring", label="Spring"),
            Column(key="frequency", label="Surges at, Hz", places=0, strong=True),
            Column(key="swings", label="Swings a cam turn", places=1),
            Column(key="verdict", label=f"Against {SURGES:.0f}"),
        ),
        rows=tuple(TableRow(cells=(one.which.name, one.frequency, one.swings, one.verdict)) for one in springs),
        formula="½ √(rate ÷ mass of the moving coils), over the camshaft's speed at the highest speed",
        source=SPRING,
    )
