"""Stops of a hand that turns the crank, in words: what is set there, which mark is up, where the rotor points."""

from __future__ import annotations

from calculators.bench.units import figures
from calculators.bench.words import listed, word
from calculators.formulas.base_circle import CYCLE, KINDS
from calculators.formulas.firing import pulley_angle, rotor_angle
from calculators.formulas.lash_stops import Stop

SHORT_WORDS: dict[str, str] = {"inlet": "IN", "exhaust": "EX"}
_HALF_TURN, _SAME_ANGLE = 180.0, 0.05


def cylinder_alone(stop: Stop) -> int | None:
    """Return the cylinder all of whose valves, and no others, are set at a stop, if there is one."""
    inlet, exhaust = stop.cylinders("inlet"), stop.cylinders("exhaust")
    return inlet[0] if inlet == exhaust and len(inlet) == 1 else None


def set_words(stop: Stop) -> str:
    """Say which valves are set at a stop: "inlet of 1 and 2, exhaust of 1 and 3"."""
    return ", ".join(f"{word(kind)} of {listed(stop.cylinders(kind))}" for kind in KINDS if stop.cylinders(kind))


def mark_words(stop: Stop) -> str:
    """Name the mark of the pulley that is up at a stop."""
    angle = pulley_angle(stop.crank)
    if angle == 0:
        return "number 1's mark"
    return "the mark half a turn round" if abs(angle - _HALF_TURN) < _SAME_ANGLE else f"the mark at {degrees(angle)}"


def hand_turn(crank: float, backwards: bool) -> float:
    """Return how far the hand turns from number 1's firing top dead centre to a crank angle."""
    return (-crank if backwards else crank) % CYCLE


def rotor_words(crank: float, backwards: bool, sense: str) -> str:
    """Say where the rotor points at a crank angle, told in the sense in which this hand moves it."""
    turned = hand_turn(crank, backwards)
    return f"{degrees(rotor_angle(turned))} {word(sense)} of number 1's notch" if turned else "at number 1's notch"


def degrees(angle: float) -> str:
    """Print an angle, whole where it is whole.

    Examples
    --------
    >>> degrees(180.0), degrees(720 / 7)
    ('180°', '102.9°')
    """
    return f"{figures(angle, places(angle))}°"


def places(*angles: float) -> int:
    """Return the decimals that angles need: none where all are whole, else one."""
    return 0 if all(abs(angle - round(angle)) < _SAME_ANGLE for angle in angles) else 1
