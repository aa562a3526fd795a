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

READINGS = "How good the readings are"
ALLOWED = "What is allowed"
_SAYS_NOTHING = "a wider limit is no use"
_ADVANCE_WHY = "no engine of this kind fires further from the top"

rim_diameter = length(
    "Rim diameter",
    40,
    600,
    why="pulleys and flywheels of such engines",
    hint="Of the pulley or flywheel, over the face with the marks.",
    card=CardFacts.dimensions.pulley_diameter.path,
    example="168 mm",
    shared_as="pulley_diameter",
    read_by="calliper",
    said="rim {}",
)

rotation = shared.crank_rotation(hint="As it runs, seen from where you read the marks.", said="{}")

marks_on = choice(
    "Where the marks are",
    {"rim": "On the rim, one pointer on the case", "case": "On the case, one notch in the rim"},
    usual="rim",
    shared_as="marks_on",
    said="{}",
)

static_advance = angle(
    "Static advance",
    -30,
    75,
    why=_ADVANCE_WHY,
    exact=True,
    hint="Before top dead centre, engine stopped; minus for after it.",
    card=CardFacts.running.static_advance.path,
    example="7°",
    shared_as="static_advance",
    said="static {}",
)

full_advance = angle(
    "Full advance",
    -30,
    75,
    why=_ADVANCE_WHY,
    exact=True,
    card=CardFacts.running.full_advance.path,
    example="30°",
    shared_as="full_advance",
    said="full {}",
)


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
    return shared.error_limit(label, "°", most, why=_SAYS_NOTHING, **told | facts)


rim_error = shared.error_limit(
    "Error limit of the chalk marks",
    "mm",
    10,
    why=_SAYS_NOTHING,
    hint="Plus or minus, random at each mark: chalk, pointer and eye.",
    usual="0.5 mm",
    shared_as="rim_error",
    refines=READINGS,
    said="chalk ± {}",
)

wheel_error = limit(
    "Error limit of the wheel",
    5,
    "0.5°",
    hint="Plus or minus, the same at every reading: how exactly it was set to the mark, and its own scale.",
    shared_as="wheel_error",
    refines=READINGS,
    said="wheel ± {}",
)

wheel_read_to = limit(
    "Wheel read to",
    5,
    "0.2°",
    hint="Plus or minus, random at each reading: a fifth of a division is usual.",
    shared_as="wheel_read_to",
    refines=READINGS,
    said="read to ± {}",
)


def wheel_reading(label: str, low: float, high: float, *, why: str, key: str, **facts: Any) -> Entry[Quantity | None]:
    """Ask for an angle that a degree wheel shows."""
    return optional(angle(label, low, high, why=why, shared_as=key, read_by="degree_wheel", **facts))
