"""Springs as the bench knows them: measured, or worked out from their wire."""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from uncertainties import UFloat

from calculators._errors import FieldError, InputErrors
from calculators._units import bare, magnitude_in, number_in, printed, quantity, reading
from calculators._words import word
from calculators.formulas.helical_spring import moving_mass, rate_of_points, rate_of_wire


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

    def load(self, height: Any) -> Any:
        """Return the load at a height, in N; none where it is longer than the spring."""
        load = self.rate * (self.free - height)
        return load if bare(load)[0] > 0 else 0.0

    def margin(self, height: Any) -> Any:
        """Return how far it is from touching coils."""
        return height - self.solid


@dataclass(frozen=True, slots=True)
class Nest:
    """The springs of one valve, in mm: fitted length, lift, and the least margin at full lift."""

    springs: tuple[Spring, ...]
    fitted: float
    lift: float
    least: float

    @property
    def open(self) -> float:
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

    def height_for(self, load: float) -> float:
        """Return the height at which all springs together give a load."""
        pressed = sorted(self.springs, key=lambda spring: float(bare(spring.free)[0]))
        while True:
            rate = sum(float(bare(spring.rate)[0]) for spring in pressed)
            height = (sum(float(bare(spring.rate * spring.free)[0]) for spring in pressed) - load) / rate
            if len(pressed) == 1 or height < float(bare(pressed[0].free)[0]):
                return height
            pressed = pressed[1:]  # the shortest is still loose there


def read_one(value: Any, limit: Any, unit: str, name: str) -> Any:
    """Return a reading as a number with its uncertainty: what was typed with it, else the error limit's."""
    if isinstance(value.magnitude, UFloat):
        return number_in(value, unit)
    return reading(magnitude_in(value, unit), magnitude_in(limit, unit), name)


def read_springs(inputs: SimpleNamespace) -> tuple[Spring, ...]:
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
        found = _spring(inputs, row, errors)
        if found:
            springs.append(found)
    if errors:
        raise InputErrors(*errors)
    return tuple(springs)


def _spring(inputs: SimpleNamespace, row: int, errors: list[FieldError]) -> Spring | None:
    """Return one spring, or None with what is wrong between its fields added to ``errors``."""
    name = f"spring {row + 1}"
    wire, outside = number_in(inputs.wire[row], "mm"), number_in(inputs.outside[row], "mm")
    mean, active, total = outside - wire, inputs.active[row], inputs.total[row]
    free = read_one(inputs.free_length[row], inputs.length_error, "mm", f"Free length of {name}")
    before = len(errors)
    if bare(outside)[0] < 3 * bare(wire)[0]:
        errors.append(
            FieldError(
                f"outside.{row + 1}", f"Outside diameter of {name} must be three times its wire diameter or more"
            )
        )
    if active > total:
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
    points = _points(inputs, row, name, errors)
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
        rate, basis = rate_of_wire(wire, mean, active, 1000 * inputs.modulus), "wire and coils"
    return Spring(
        rate=rate,
        free=free,
        solid=solid,
        wire=wire,
        mean=mean,
        total=total,
        mass=moving_mass(wire, mean, active, inputs.density),
        basis=basis,
    )


def _points(inputs: SimpleNamespace, row: int, name: str, errors: list[FieldError]) -> list[tuple[Any, Any]]:
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
                read_one(length, inputs.length_error, "mm", f"{word(which).capitalize()} length of {name}"),
                read_one(load, inputs.load_error, "N", f"Load at the {word(which)} length of {name}"),
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
