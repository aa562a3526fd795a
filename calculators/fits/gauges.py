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

cylinders = shared.cylinders(usual="4", hint="Fill in what you measured. What you leave empty is not judged.")


def limit(label: str, fact: Entry[Quantity], **facts: Any) -> Entry[Quantity | None]:
    """Ask for a limit of the engine maker's; without one a fit is shown and not judged."""
    return optional(card_entry(fact, label, exact=True, **{"refines": LIMITS, "said": ""} | facts))


guide_limit = limit("Greatest guide clearance", CardFacts.limits.guide_clearance, shared_as="guide_clearance_most")


def in_mm(figure: Quantity | None) -> float | None:
    """Return a limit in mm, None where there is none."""
    return None if figure is None else magnitude_in(figure, "mm")


_WINS = "Plus or minus, the same in all its readings. A ± typed with a reading wins over it."


def _gauge(key: str, label: str, usual: str, said: str, hint: str = _WINS) -> Entry[Quantity]:
    facts = {"hint": hint, "usual": usual, "shared_as": key, "refines": GAUGES, "said": said}
    return shared.error_limit(label, "mm", 1, why="a less accurate gauge is no use", **facts)


bore_gauge_error = _gauge("bore_error", "Error limit of the bore gauge", "0.005 mm", "bore gauge ± {}")
bore_gauge_scatter = _gauge(
    "bore_scatter",
    "Scatter of the bore gauge",
    "0.003 mm",
    "its scatter ± {}",
    "Plus or minus, when one place is read again; only this counts in taper and out-of-round. 0.003 mm is common "
    "practice.",
)
micrometer_error = _gauge("micrometer_error", "Error limit of the micrometer", "0.004 mm", "micrometer ± {}")
small_bore_error = _gauge("guide_error", "Error limit of the small-bore gauge", "0.01 mm", "small-bore gauge ± {}")
feeler_error = _gauge("feeler_error", "Error limit of the feeler gauge", "0.01 mm", "feeler gauge ± {}")
dial_error = _gauge("dial_error", "Error limit of the dial", "0.01 mm", "dial ± {}")
calliper_error = _gauge("calliper_error", "Error limit of the calliper", "0.05 mm", "calliper ± {}")
