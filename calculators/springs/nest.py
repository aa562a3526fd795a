"""The springs of one valve: one, or two in one another, from what was measured of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import FieldError, InputErrors, Quantity, Source, magnitude_in
from calculators.bench.units import figures, printed
from calculators.bench.verdict import best_of
from calculators.formulas.helical_spring import SURELY_BORNE, shear_stress, tensile_strength

SPRING = Source("Shigley, Mechanical Engineering Design, 10th edition, chapter 10")
MOST_BORNE = 0.75
"""Share of its tensile strength that no spring wire takes in shear, preset or not: Shigley, Mechanical
Engineering Design, 10th edition, table 10-6 (from memory)."""
DEAD_COILS = 2.0
"""Of a spring whose ends are closed and ground: Shigley, Mechanical Engineering Design, 10th edition, table 10-1 (from
memory)."""


@dataclass(frozen=True, slots=True)
class Which:
    """The outer spring or the inner one: before its keys, behind its labels, and behind what is read of it."""

    prefix: str
    suffix: str
    name: str
    behind: str

    def error(self, key: str, label: str, rest: str) -> FieldError:
        return FieldError(f"{self.prefix}{key}", f"{label}{self.suffix} {rest}")

    def lacking(self, needed: Mapping[str, tuple[Any, str]]) -> list[FieldError]:
        """Return what asks for each entry that nobody typed.

        Parameters
        ----------
        needed : mapping of str to (what was typed, str)
            By its key: ``(None, "rate, in newtons a millimetre")``.
        """
        return [
            FieldError(f"{self.prefix}{key}", f"Enter the {self._named(words)}")
            for key, (held, words) in needed.items()
            if held is None
        ]

    def _named(self, words: str) -> str:
        noun, comma, unit = words.partition(",")
        return f"{noun}{self.behind}{comma}{unit}"


OUTER = Which("", "", "outer", "")
INSIDE = Which("inner_", ", inner spring,", "inner", " of the inner spring")


@dataclass(frozen=True, slots=True)
class Spring:
    """One spring: its rate in N/mm, the length in mm at which its load begins, and where its rate comes from."""

    rate: Any
    free: Any
    basis: str = ""

    def load(self, height: Any) -> Any:
        """Return the load at a height, in N; none where it is longer than the spring."""
        load = self.rate * (self.free - height)
        return load if best_of(load) > 0 else 0.0


def load_of(springs: Sequence[Spring], height: Any) -> Any:
    """Return the load of all springs together, in N."""
    return sum(spring.load(height) for spring in springs)


def height_for(springs: Sequence[Spring], load: float) -> Any:
    """Return the height in mm at which all springs together give a load.

    Examples
    --------
    >>> height_for((Spring(10.0, 50.0), Spring(10.0, 40.0)), 300.0), height_for((Spring(10.0, 50.0),), 50.0)
    (30.0, 45.0)
    """
    pressed = sorted(springs, key=lambda spring: best_of(spring.free))
    while True:
        rate = sum(spring.rate for spring in pressed)
        height = (sum(spring.rate * spring.free for spring in pressed) - load) / rate
        if len(pressed) == 1 or best_of(height) < best_of(pressed[0].free):
            return height
        pressed = pressed[1:]  # the shortest is still loose there


def borne(wire: Any) -> tuple[float, float]:
    """Return the stress in MPa that a wire so thick surely takes, and the one that none takes."""
    strength = tensile_strength(best_of(wire))
    return SURELY_BORNE * strength, MOST_BORNE * strength


def unbearable(which: Which, load: Any, wire: Any, mean: Any) -> FieldError | None:
    """Return what is wrong where no spring wire stands the stress."""
    stress, most = best_of(shear_stress(load, wire, mean)), borne(wire)[1]
    if stress <= most:
        return None
    return which.error(
        "wire",
        "Wire diameter",
        f"must be more for this load: {figures(stress, 0)} MPa at full lift, and no spring wire this thick takes "
        f"{figures(most, 0)} MPa. Check coils, lengths and loads too",
    )


def too_wide(which: Which, wire: Any, outside: Any) -> FieldError | None:
    """Return what is wrong where a coil is too narrow for its wire."""
    if best_of(outside) >= 3 * best_of(wire):
        return None
    return which.error("outside", "Outside diameter", "must be three times its wire diameter or more")


def lift_left(fitted: Quantity, lift: Quantity) -> None:
    """Refuse a lift that is more than the spring is long.

    Raises
    ------
    InputErrors
    """
    if magnitude_in(lift, "mm") >= magnitude_in(fitted, "mm"):
        longest = printed(fitted, "mm")
        raise InputErrors(FieldError("valve_lift", f"Valve lift must be less than the fitted length, {longest}"))
