"""What is asked of a valve's springs: the outer one, and the same of an inner one."""

from __future__ import annotations

from typing import Any

from calculators.bench import Entry, Quantity, described, length, measure, number, optional
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


def rate(**facts: Any) -> Entry[Quantity]:
    """Ask for the rate; ``facts`` as ``Facts`` has them, before ours."""
    hint = "Worked out from two loads or from the wire, or typed."
    return measure(
        "Rate",
        "N/mm",
        0.5,
        1000,
        why=OF_SUCH_ENGINES,
        **{"hint": hint, "shared_as": "spring_rate.1", "said": "{}"} | facts,
    )


def inner[T](entry: Entry[T]) -> Entry[T | None]:
    """Ask the same of the spring inside; the engine card speaks of the outer one."""
    shared_as = (entry.facts.shared_as or "").removesuffix(".1") + ".2"
    return described(
        optional(entry),
        f"{entry.label}, inner spring",
        hint="",
        card=None,
        usual=None,
        example=None,
        shared_as=shared_as,
        refines=INNER,
        said=f"inner {entry.facts.said or '{}'}",
    )


def fitted_length(**facts: Any) -> Entry[Quantity]:
    """Ask for the fitted length; ``facts`` as ``Facts`` has them, before ours."""
    return height(
        "Fitted length",
        **{
            "hint": "Valve shut, seat of the spring to the retainer; the maker's figure.",
            "card": CardFacts.springs.fitted_length.path,
            "example": "38 mm",
            "shared_as": "spring_fitted_length",
            "said": "fitted {}",
        }
        | facts,
    )


def free_length(**facts: Any) -> Entry[Quantity]:
    """Ask for the free length; ``facts`` as ``Facts`` has them, before ours."""
    return height(
        "Free length",
        **{
            "card": CardFacts.springs.free_length.path,
            "example": "47.5 mm",
            "shared_as": "spring_free_length.1",
            "read_by": "calliper",
            "said": "free {}",
        }
        | facts,
    )


def wire(**facts: Any) -> Entry[Quantity]:
    """Ask for the wire; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.springs.wire_diameter,
        "Wire diameter",
        **{"example": "4.2 mm", "shared_as": "spring_wire.1", "read_by": "micrometer", "said": "wire {}"} | facts,
    )


def outside(**facts: Any) -> Entry[Quantity]:
    """Ask for the outside diameter; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.springs.outside_diameter,
        "Outside diameter",
        **{"example": "33.3 mm", "shared_as": "spring_outside.1", "read_by": "calliper", "said": "outside {}"} | facts,
    )


def _coils(label: str, facts: dict[str, Any]) -> Entry[float]:
    return number(label, 1, 30, why=OF_SUCH_ENGINES, **facts)


def total(**facts: Any) -> Entry[float]:
    """Ask for all coils; ``facts`` as ``Facts`` has them, before ours."""
    return _coils(
        "Total coils",
        {
            "card": CardFacts.springs.total_coils.path,
            "example": "6.5",
            "shared_as": "spring_total_coils.1",
            "said": "{} coils",
        }
        | facts,
    )


def active(**facts: Any) -> Entry[float | None]:
    """Ask for the active coils; ``facts`` as ``Facts`` has them, before ours."""
    return optional(
        _coils(
            "Active coils",
            {
                "hint": "Empty: all but the two dead end coils of a ground spring.",
                "card": CardFacts.springs.active_coils.path,
                "example": "4.5",
                "shared_as": "spring_active_coils.1",
                "said": "{} active",
            }
            | facts,
        )
    )


def valve_height(**facts: Any) -> Entry[Quantity]:
    """Ask for the installed height of one valve; ``facts`` as ``Facts`` has them, before ours."""
    return height("Installed height", **{"shared_as": "spring_height", "read_by": "calliper"} | facts)


def least_margin() -> Entry[Quantity]:
    """Ask how far the coils must stay apart."""
    return length(
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
