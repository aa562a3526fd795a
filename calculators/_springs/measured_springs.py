"""Springs as the bench knows them: measured, or worked out from their wire."""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._units import bare, figures, magnitude_in, printed, quantity, reading
from calculators._verdict import Instrument, best_of, instrument
from calculators._words import word
from calculators.formulas.helical_spring import (
    SURELY_BORNE,
    moving_mass,
    rate_of_points,
    rate_of_wire,
    shear_stress,
    tensile_strength,
)

MOST_BORNE = 0.75
"""Share of its tensile strength that no spring wire takes in shear, pressed beforehand or not: Shigley, Mechanical
Engineering Design, 10th edition, table 10-6 (from memory)."""


@dataclass(frozen=True, slots=True)
class Spring:
    """One spring: N/mm, mm and kg; ``basis`` says where its rate comes from."""

    rate: Any
    free: Any
    solid: Any
    wire: Any
    mean: Any
    total: float
    mass: Any
    basis: str
    outside: Any
    unpressed: Any
    """Its free length as read, which ``free`` is only where no two loads tell where it begins."""

    def load(self, height: Any) -> Any:
        """Return the load at a height, in N; none where it is longer than the spring."""
        load = self.rate * (self.free - height)
        return load if bare(load)[0] > 0 else 0.0

    def margin(self, height: Any) -> Any:
        """Return how far it is from touching coils."""
        return height - self.solid

    def stress(self, height: Any) -> Any:
        """Return the greatest shear stress in the wire at a height, [MPa]."""
        return shear_stress(self.load(height), self.wire, self.mean)

    @property
    def borne(self) -> float:
        """Stress that a wire so thick surely takes, [MPa]."""
        return SURELY_BORNE * tensile_strength(best_of(self.wire))

    @property
    def unbearable(self) -> float:
        """Stress that no spring wire so thick takes, [MPa]."""
        return MOST_BORNE * tensile_strength(best_of(self.wire))


@dataclass(frozen=True, slots=True)
class Nest:
    """The springs of one valve, in mm: fitted length, lift, and the least margin at full lift."""

    springs: tuple[Spring, ...]
    fitted: Any
    lift: Any
    least: float

    @property
    def open(self) -> Any:
        return self.fitted - self.lift

    @property
    def stiffness(self) -> float:
        return sum(float(bare(spring.rate)[0]) for spring in self.springs)

    def load(self, height: Any) -> Any:
        """Return the load of all springs together."""
        return sum(spring.load(height) for spring in self.springs)

    def margin(self, height: Any) -> Any:
        """Return the least of the springs' margins."""
        return min((spring.margin(height) for spring in self.springs), key=lambda margin: bare(margin)[0])

    def height_for(self, load: Any) -> Any:
        """Return the height at which all springs together give a load."""
        pressed = sorted(self.springs, key=lambda spring: best_of(spring.free))
        while True:
            rate = sum(spring.rate for spring in pressed)
            height = (sum(spring.rate * spring.free for spring in pressed) - load) / rate
            if len(pressed) == 1 or best_of(height) < best_of(pressed[0].free):
                return height
            pressed = pressed[1:]  # the shortest is still loose there


@dataclass(frozen=True, slots=True)
class Bench:
    """What reads the springs: calliper, micrometer, and the tester's length and load; and the wire's modulus, [MPa]."""

    calliper: Instrument
    micrometer: Instrument
    stop: Instrument
    tester: Instrument
    modulus: Any


def bench_of(inputs: SimpleNamespace) -> Bench:
    """Take the instruments in hand: each is off alike in all that it reads."""
    share = magnitude_in(inputs.modulus_error, "%") / 100
    return Bench(
        calliper=instrument("Error limit of the calliper", inputs.length_error, "mm", inputs.length_scatter),
        micrometer=instrument("Error limit of the wire", inputs.wire_error, "mm"),
        stop=instrument("Error limit of the tester's lengths", inputs.stop_error, "mm"),
        tester=instrument("Error limit of the loads", inputs.load_error, "N", inputs.load_scatter),
        modulus=1000 * reading(inputs.modulus, share * inputs.modulus, "Shear modulus"),
    )


def read_springs(inputs: SimpleNamespace, bench: Bench) -> tuple[Spring, ...]:
    """Return the springs of one valve.

    Raises
    ------
    InputErrors
        All that cannot be true together, each at its own cell.
    """
    if not inputs.free_length:
        raise InputErrors(FieldError("free_length", "Enter the free length, in millimetres"))
    errors: list[FieldError] = []
    springs = []
    for row in range(len(inputs.free_length)):
        found = _spring(inputs, bench, row, errors)
        if found:
            springs.append(found)
    if not errors and len(springs) == 2:
        _refuse_an_inner_one_too_wide(springs, errors)
    if errors:
        raise InputErrors(*errors)
    return tuple(springs)


def _refuse_an_inner_one_too_wide(springs: list[Spring], errors: list[FieldError]) -> None:
    outer, inner = springs
    room = best_of(outer.outside) - 2 * best_of(outer.wire)
    if best_of(inner.outside) >= room:
        errors.append(
            FieldError(
                "outside.2",
                f"Outside diameter of spring 2 must be less than the room inside spring 1, {figures(room, 2)} mm: "
                "type the outer one first",
            )
        )


def refuse_what_breaks(nest: Nest) -> None:
    """Refuse springs whose wire no steel stands at full lift.

    Raises
    ------
    InputErrors
        At each wire.
    """
    errors = []
    for number, spring in enumerate(nest.springs, 1):
        stress = best_of(spring.stress(nest.open))
        if stress > spring.unbearable:
            errors.append(
                FieldError(
                    f"wire.{number}",
                    f"Wire diameter of spring {number} must be more for its load: {figures(stress, 0)} MPa at full "
                    f"lift, and no spring wire so thick takes {figures(spring.unbearable, 0)} MPa. Check coils, "
                    "lengths and loads too",
                )
            )
    if errors:
        raise InputErrors(*errors)


def _coils(number: float, inputs: SimpleNamespace, name: str) -> Any:
    return reading(number, inputs.coils_error, name)


def _spring(inputs: SimpleNamespace, bench: Bench, row: int, errors: list[FieldError]) -> Spring | None:
    """Return one spring, or None with what is wrong between its fields added to ``errors``."""
    name = f"spring {row + 1}"
    wire = bench.micrometer.read(inputs.wire[row], f"Wire diameter of {name}")
    outside = bench.calliper.read(inputs.outside[row], f"Outside diameter of {name}")
    mean = outside - wire
    active = _coils(inputs.active[row], inputs, f"Active coils of {name}")
    total = _coils(inputs.total[row], inputs, f"Total coils of {name}")
    free = unpressed = bench.calliper.read(inputs.free_length[row], f"Free length of {name}")
    before = len(errors)
    if bare(outside)[0] < 3 * bare(wire)[0]:
        errors.append(
            FieldError(
                f"outside.{row + 1}", f"Outside diameter of {name} must be three times its wire diameter or more"
            )
        )
    if inputs.active[row] > inputs.total[row]:
        errors.append(FieldError(f"active.{row + 1}", f"Active coils of {name} must not be more than its total coils"))
    solid = total * wire
    if bare(free)[0] <= bare(solid)[0]:
        least = printed(quantity(bare(solid)[0], "mm"), "mm")
        errors.append(
            FieldError(f"free_length.{row + 1}", f"Free length of {name} must be more than its coils take up, {least}")
        )
    elif magnitude_in(inputs.free_length[row], "mm") <= magnitude_in(inputs.fitted_length, "mm"):
        fitted = printed(inputs.fitted_length, "mm")
        errors.append(
            FieldError(
                f"free_length.{row + 1}",
                f"Free length of {name} must be more than the fitted length, {fitted}: it would hang loose",
            )
        )
    points = _points(inputs, bench, row, name, errors)
    if len(errors) > before:
        return None
    if len(points) == 2:
        (length_a, load_a), (length_b, load_b) = points
        rate, basis = rate_of_points(length_a, load_a, length_b, load_b), "two measured loads"
        free = length_a + load_a / rate
    elif points:
        ((length, load),) = points
        rate, basis = load / (free - length), "free length and one measured load"
    else:
        rate, basis = rate_of_wire(wire, mean, active, bench.modulus), "wire and coils"
    return Spring(
        rate=rate,
        free=free,
        solid=solid,
        wire=wire,
        mean=mean,
        total=inputs.total[row],
        mass=moving_mass(wire, mean, active, inputs.density),
        basis=basis,
        outside=outside,
        unpressed=unpressed,
    )


def _points(
    inputs: SimpleNamespace, bench: Bench, row: int, name: str, errors: list[FieldError]
) -> list[tuple[Any, Any]]:
    """Return the measured loads with their lengths, one or two or none."""
    points = []
    for which, key in (("first", "a"), ("second", "b")):
        length, load = getattr(inputs, f"length_{key}")[row], getattr(inputs, f"load_{key}")[row]
        if length is None and load is None:
            continue
        if length is None or load is None:
            missing, label = (
                ("length", f"{word(which)} length") if length is None else ("load", f"load at the {word(which)} length")
            )
            errors.append(FieldError(f"{missing}_{key}.{row + 1}", f"Enter the {label} of {name} as well"))
            continue
        points.append(
            (
                bench.stop.read(length, f"{word(which).capitalize()} length of {name}"),
                bench.tester.read(load, f"Load at the {word(which)} length of {name}"),
            )
        )
    if len(points) == 2:
        (length_a, load_a), (length_b, load_b) = ((bare(length)[0], bare(load)[0]) for length, load in points)
        if (length_a - length_b) * (load_b - load_a) <= 0:
            errors.append(
                FieldError(
                    f"load_b.{row + 1}", f"The two loads of {name} must differ, and the shorter length has the larger"
                )
            )
    elif points and bare(points[0][0])[0] >= magnitude_in(inputs.free_length[row], "mm"):
        key = "a" if inputs.length_a[row] is not None else "b"
        errors.append(
            FieldError(f"length_{key}.{row + 1}", f"The length measured must be less than the free length of {name}")
        )
    return points
