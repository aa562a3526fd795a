"""What more than one question about marks and timing asks for."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    Entry,
    FieldError,
    InputErrors,
    Quantity,
    angle,
    choice,
    length,
    magnitude_in,
    measure,
    optional,
    printed,
    shared,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.entries import either_way

READINGS = "How good the readings are"
ALLOWED = "What is allowed"
_SAYS_NOTHING = "a wider limit is no use"
_ADVANCE_WHY = "no engine of this kind fires further from the top"


def rim_diameter(**facts: Any) -> Entry[Quantity]:
    """Ask for the rim that carries the marks."""
    told = {
        "hint": "Of the pulley or flywheel, over the face with the marks.",
        "card": CardFacts.dimensions.pulley_diameter.path,
        "example": "168 mm",
        "shared_as": "pulley_diameter",
        "read_by": "calliper",
        "said": "rim {}",
    }
    return length("Rim diameter", 40, 600, why="pulleys and flywheels of such engines", **(told | facts))


def rotation(**facts: Any) -> Entry[str]:
    """Ask which way the crank turns."""
    told = {"hint": "As it runs, seen from where you read the marks.", "said": "{}"}
    return shared.crank_rotation(**(told | facts))


def marks_on(**facts: Any) -> Entry[str]:
    """Ask what carries the marks."""
    options = {"rim": "On the rim, one pointer on the case", "case": "On the case, one notch in the rim"}
    told = {"usual": "rim", "shared_as": "marks_on", "said": "{}"}
    return choice("Where the marks are", options, **(told | facts))


def static_advance(**facts: Any) -> Entry[Quantity]:
    """Ask for the advance of an engine that stands still."""
    told = {
        "hint": "Before top dead centre, engine stopped; minus for after it.",
        "card": CardFacts.running.static_advance.path,
        "example": "7°",
        "shared_as": "static_advance",
        "said": "static {}",
    }
    return angle("Static advance", -30, 75, why=_ADVANCE_WHY, exact=True, **(told | facts))


def full_advance(**facts: Any) -> Entry[Quantity]:
    """Ask for the most advance that the weights give."""
    told = {
        "card": CardFacts.running.full_advance.path,
        "example": "30°",
        "shared_as": "full_advance",
        "said": "full {}",
    }
    return angle("Full advance", -30, 75, why=_ADVANCE_WHY, exact=True, **(told | facts))


def refuse_full_below_static(static: Quantity, full: Quantity) -> None:
    """Refuse a full advance that is less than the static one.

    Raises
    ------
    InputErrors
    """
    if magnitude_in(full, "°") < magnitude_in(static, "°"):
        message = f"Full advance must be no less than the static advance, {printed(static, '°', 1)}"
        raise InputErrors(FieldError("full_advance", message))


def speed(label: str, **facts: Any) -> Entry[Quantity]:
    """Ask for a speed of the crank."""
    why = "from starter speed to the fastest such engine"
    return measure(label, "r/min", 50, 15000, why=why, exact=True, **facts)


def advance(label: str, **facts: Any) -> Entry[Quantity]:
    """Ask for one advance of a curve."""
    return angle(label, -30, 75, why=_ADVANCE_WHY, exact=True, **facts)


def limit(label: str, most: float, usual: str, **facts: Any) -> Entry[Quantity]:
    """Ask for half of a band of angles, as what is allowed or what an instrument may be off by."""
    told = {"hint": "Plus or minus.", "usual": usual, "refines": ALLOWED}
    return either_way(angle(label, 0, most, why=_SAYS_NOTHING, exact=True, **(told | facts)))


def rim_error(**facts: Any) -> Entry[Quantity]:
    """Ask how true a chalk mark is."""
    told = {
        "hint": "Plus or minus, random at each mark: chalk, pointer and eye.",
        "usual": "0.5 mm",
        "shared_as": "rim_error",
        "refines": READINGS,
        "said": "chalk ± {}",
    }
    return either_way(length("Error limit of the chalk marks", 0, 10, why=_SAYS_NOTHING, exact=True, **(told | facts)))


def wheel_error(**facts: Any) -> Entry[Quantity]:
    """Ask what the degree wheel is off by, alike at every reading."""
    told = {
        "hint": "Plus or minus, the same at every reading: how exactly it was set to the mark, and its own scale.",
        "shared_as": "wheel_error",
        "refines": READINGS,
        "said": "wheel ± {}",
    }
    return limit("Error limit of the wheel", 5, "0.5°", **(told | facts))


def wheel_read_to(**facts: Any) -> Entry[Quantity]:
    """Ask how finely the degree wheel is read."""
    told = {
        "hint": "Plus or minus, random at each reading: a fifth of a division is usual.",
        "shared_as": "wheel_read_to",
        "refines": READINGS,
        "said": "read to ± {}",
    }
    return limit("Wheel read to", 5, "0.2°", **(told | facts))


def wheel_reading(label: str, low: float, high: float, *, why: str, key: str, **facts: Any) -> Entry[Quantity | None]:
    """Ask for an angle that a degree wheel shows."""
    return optional(angle(label, low, high, why=why, shared_as=key, read_by="degree_wheel", **facts))
