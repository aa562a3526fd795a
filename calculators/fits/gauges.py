"""What fits are measured with, and the limits they are held against: entries that questions of this room share."""

from __future__ import annotations

from typing import Any

from calculators.bench import Entry, Quantity, magnitude_in, optional, shared
from calculators.bench.card_facts import CardFacts, card_entry

LIMITS = "The engine maker's limits"
GAUGES = "How good the gauges are"
GAP = "a wider gap shows without a gauge"
VALVES = "valves of such engines"
GEAR = "valve gear of such engines"
TRAVEL = "Top, middle and bottom of the rings' travel, the top first"


def cylinders() -> Entry[int]:
    """Ask how many rows there are; what stands empty in them is not judged."""
    return shared.cylinders(usual="4", hint="Fill in what you measured. What you leave empty is not judged.")


def limit(label: str, fact: Entry[Quantity], **facts: Any) -> Entry[Quantity | None]:
    """Ask for a limit of the engine maker's; without one a fit is shown and not judged."""
    return optional(card_entry(fact, label, exact=True, **{"refines": LIMITS, "said": ""} | facts))


def guide_limit() -> Entry[Quantity | None]:
    """Ask for the greatest guide clearance: for stem and guide as measured, and as rocked."""
    return limit("Greatest guide clearance", CardFacts.limits.guide_clearance, shared_as="guide_clearance_most")


def in_mm(figure: Quantity | None) -> float | None:
    """Return a limit in mm, None where there is none."""
    return None if figure is None else magnitude_in(figure, "mm")


def _gauge(key: str, label: str, usual: str, said: str, hint: str = "") -> Entry[Quantity]:
    hint = hint or "Plus or minus, the same in all its readings. A ± typed with a reading wins over it."
    facts = {"hint": hint, "usual": usual, "shared_as": key, "refines": GAUGES, "said": said}
    return shared.error_limit(label, "mm", 1, why="a less accurate gauge is no use", **facts)


def bore_gauge_error() -> Entry[Quantity]:
    """Ask by how much the bore gauge may be off."""
    return _gauge("bore_error", "Error limit of the bore gauge", "0.005 mm", "bore gauge ± {}")


def bore_gauge_scatter() -> Entry[Quantity]:
    """Ask by how much the bore gauge differs from itself."""
    hint = (
        "Plus or minus, when one place is read again; only this counts in taper and out-of-round. 0.003 mm is common "
        "practice."
    )
    return _gauge("bore_scatter", "Scatter of the bore gauge", "0.003 mm", "its scatter ± {}", hint)


def micrometer_error() -> Entry[Quantity]:
    """Ask by how much the micrometer may be off."""
    return _gauge("micrometer_error", "Error limit of the micrometer", "0.004 mm", "micrometer ± {}")


def small_bore_error() -> Entry[Quantity]:
    """Ask by how much the small-bore gauge may be off."""
    return _gauge("guide_error", "Error limit of the small-bore gauge", "0.01 mm", "small-bore gauge ± {}")


def feeler_error() -> Entry[Quantity]:
    """Ask by how much the feelers may be off."""
    return _gauge("feeler_error", "Error limit of the feeler gauge", "0.01 mm", "feeler gauge ± {}")


def dial_error() -> Entry[Quantity]:
    """Ask by how much the dial may be off."""
    return _gauge("dial_error", "Error limit of the dial", "0.01 mm", "dial ± {}")


def calliper_error() -> Entry[Quantity]:
    """Ask by how much the calliper may be off."""
    return _gauge("calliper_error", "Error limit of the calliper", "0.05 mm", "calliper ± {}")
