"""One spring from what was measured of it: two loads, one load and its free length, or its wire."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.bench import FieldError, InputErrors, Lacking
from calculators.bench.units import figures
from calculators.bench.verdict import best_of
from calculators.formulas.helical_spring import rate_of_points, rate_of_wire
from calculators.springs.nest import DEAD_COILS, Spring, Which, too_wide, unbearable

TWO_LOADS, ONE_LOAD, BY_WIRE = "two measured loads", "free length and one measured load", "wire and coils"


@dataclass(frozen=True, kw_only=True, slots=True)
class Measured:
    """What was read of one spring, in mm, N and MPa with the instruments' errors; None where nobody read it."""

    which: Which
    free: Any
    wire: Any
    outside: Any
    total: Any
    active: Any
    modulus: Any
    points: tuple[tuple[Any, Any], ...]

    @property
    def mean(self) -> Any:
        """Diameter of the coil in mm, from middle to middle of the wire."""
        return None if self.wire is None or self.outside is None else self.outside - self.wire

    @property
    def solid(self) -> Any:
        """Length in mm at which its coils touch."""
        return None if self.wire is None or self.total is None else self.total * self.wire

    @property
    def moving(self) -> Any:
        """Coils that move: as counted, else all but the dead ends."""
        return self.active if self.active is not None or self.total is None else self.total - DEAD_COILS

    def spring(self, fitted: float) -> Spring:
        """Return the spring, which is to be fitted at a length in mm.

        Raises
        ------
        Lacking
            What would tell its rate.
        InputErrors
            All that cannot be true together.
        """
        lacking, wrong = self._lacking(), tuple(self._wrong(fitted))
        if wrong:
            raise InputErrors(*wrong)
        if lacking:
            raise Lacking(*lacking)
        found = self._found()
        if best_of(found.free) <= fitted:
            free = f"{figures(best_of(found.free), 2)} mm, no longer than the fitted length"
            rest = f"must agree with the first: together they mean a spring of {free}"
            raise InputErrors(self.which.error("load_b", "Load at the second length", rest))
        return found

    def unbearable(self, load: Any) -> FieldError | None:
        """Return what is wrong where no spring wire stands a load in N."""
        return None if self.mean is None else unbearable(self.which, load, self.wire, self.mean)

    def _found(self) -> Spring:
        if len(self.points) == 2:
            (length_a, load_a), (length_b, load_b) = self.points
            rate = rate_of_points(length_a, load_a, length_b, load_b)
            return Spring(rate, length_a + load_a / rate, TWO_LOADS)
        if self.points:
            ((length, load),) = self.points
            return Spring(load / (self.free - length), self.free, ONE_LOAD)
        return Spring(rate_of_wire(self.wire, self.mean, self.moving, self.modulus), self.free, BY_WIRE)

    def _lacking(self) -> list[FieldError]:
        needed = {"free_length": (self.free, "free length, in millimetres")} if len(self.points) < 2 else {}
        if not self.points:
            needed |= {
                "wire": (self.wire, "wire diameter, in millimetres"),
                "outside": (self.outside, "outside diameter, in millimetres"),
                "total": (self.moving, "total coils"),
            }
        return self.which.lacking(needed)

    def _wrong(self, fitted: float) -> Iterator[FieldError]:
        tell = self.which.error
        if self.mean is not None and (narrow := too_wide(self.which, self.wire, self.outside)):
            yield narrow
        if self.active is not None and self.total is not None and best_of(self.active) > best_of(self.total):
            yield tell("active", "Active coils", "must not be more than its total coils")
        if self.free is not None:
            if self.solid is not None and best_of(self.free) <= best_of(self.solid):
                least = f"{figures(best_of(self.solid), 2)} mm"
                yield tell("free_length", "Free length", f"must be more than its coils take up, {least}")
            elif best_of(self.free) <= fitted:
                hangs = f"the fitted length, {figures(fitted, 2)} mm: it would be loose"
                yield tell("free_length", "Free length", f"must be more than {hangs}")
        yield from self._wrong_points()

    def _wrong_points(self) -> Iterator[FieldError]:
        best = [(best_of(length), best_of(load)) for length, load in self.points]
        if len(best) == 2:
            (length_a, load_a), (length_b, load_b) = best
            if (length_a - length_b) * (load_b - load_a) <= 0:
                rest = "must differ from the first, and the shorter length has the larger"
                yield self.which.error("load_b", "Load at the second length", rest)
        elif best and self.free is not None and best[0][0] >= best_of(self.free):
            yield self.which.error("length_a", "Length pressed to", "must be less than the free length")


def wider_than_its_room(outer: Measured, inner: Measured) -> FieldError | None:
    """Return what is wrong where the inner spring does not go into the outer one."""
    if outer.wire is None or outer.outside is None or inner.outside is None:
        return None
    room = best_of(outer.outside) - 2 * best_of(outer.wire)
    if best_of(inner.outside) < room:
        return None
    within = f"must be less than the room inside the outer one, {figures(room, 2)} mm"
    return inner.which.error("outside", "Outside diameter", within)
