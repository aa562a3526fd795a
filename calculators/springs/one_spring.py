"""What is asked of a valve's springs: the outer one, and the same of an inner one."""

from __future__ import annotations

from typing import Any

from calculators.bench import Entry, Quantity, length, measure, number, optional
from calculators.bench.card_facts import CardFacts, card_entry

OF_SUCH_ENGINES = "valve springs of such engines"
INNER = "A second spring inside the first"
WIRE = "The wire"


def height(label: str, **facts: Any) -> Entry[Quantity]:
    """Ask for a length of the spring, or between its seats; ``facts`` as ``Facts`` has them."""
    return length(label, 5, 200, why=OF_SUCH_ENGINES, **facts)


def load(label: str, *, exact: bool = False, **facts: Any) -> Entry[Quantity]:
    """Ask for a load; ``facts`` as ``Facts`` has them."""
    return measure(label, "N", 5, 5000, why=OF_SUCH_ENGINES, exact=exact, **facts)


rate = measure(
    "Rate",
    "N/mm",
    0.5,
    1000,
    why=OF_SUCH_ENGINES,
    hint="Worked out from two loads or from the wire, or typed.",
    shared_as="spring_rate.1",
    said="{}",
)


def inner[T](entry: Entry[T]) -> Entry[T | None]:
    """Ask the same of the spring inside; the engine card speaks of the outer one."""
    shared_as = (entry.facts.shared_as or "").removesuffix(".1") + ".2"
    return optional(entry)(
        f"{entry.label}, inner spring",
        hint="",
        card=None,
        usual=None,
        example=None,
        shared_as=shared_as,
        refines=INNER,
        said=f"inner {entry.facts.said or '{}'}",
    )


fitted_length = height(
    "Fitted length",
    hint="Valve shut, seat of the spring to the retainer; the maker's figure.",
    card=CardFacts.springs.fitted_length.path,
    example="38 mm",
    shared_as="spring_fitted_length",
    said="fitted {}",
)

free_length = height(
    "Free length",
    card=CardFacts.springs.free_length.path,
    example="47.5 mm",
    shared_as="spring_free_length.1",
    read_by="calliper",
    said="free {}",
)

wire = card_entry(
    CardFacts.springs.wire_diameter,
    "Wire diameter",
    example="4.2 mm",
    shared_as="spring_wire.1",
    read_by="micrometer",
    said="wire {}",
)

outside = card_entry(
    CardFacts.springs.outside_diameter,
    "Outside diameter",
    example="33.3 mm",
    shared_as="spring_outside.1",
    read_by="calliper",
    said="outside {}",
)


total = number(
    "Total coils",
    1,
    30,
    why=OF_SUCH_ENGINES,
    card=CardFacts.springs.total_coils.path,
    example="6.5",
    shared_as="spring_total_coils.1",
    said="{} coils",
)
active = optional(
    number(
        "Active coils",
        1,
        30,
        why=OF_SUCH_ENGINES,
        hint="Empty: all but the two dead end coils of a ground spring.",
        card=CardFacts.springs.active_coils.path,
        example="4.5",
        shared_as="spring_active_coils.1",
        said="{} active",
    )
)
valve_height = height("Installed height", shared_as="spring_height", read_by="calliper")

least_margin = length(
    "Least coil-bind margin",
    0,
    10,
    why="a margin cannot be less than none",
    exact=True,
    hint="At full lift, in each spring and between retainer and guide.",
    usual="1 mm",
    shared_as="least_bind_margin",
    refines="What is wanted",
    said="at least {} left",
)
