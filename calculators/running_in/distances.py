"""Distances by the odometer: what is asked for them, and the round ones that common practice has."""

from __future__ import annotations

from typing import Any

from calculators.bench import Entry, choice, count, optional

UNITS = {"km": "kilometres", "miles": "miles"}
USUAL = {
    "first": {"km": 200, "miles": 120},
    "end": {"km": 600, "miles": 360},
    "early": {"km": 50, "miles": 30},
    "second": {"km": 500, "miles": 300},
    "oil": {"km": 500, "miles": 300},
    "oil_interval": {"km": 5000, "miles": 3000},
    "lash_interval": {"km": 5000, "miles": 3000},
}
"""Round figures for each kind of odometer (common practice, no source)."""

odometer_unit = choice(
    "Unit of the odometer",
    UNITS,
    hint="All distances here are in this unit.",
    usual="km",
    shared_as="odometer_unit",
    said="odometer in {}",
)

odometer = count(
    "Odometer reading",
    0,
    2_000_000,
    why="no odometer goes further",
    hint="At the first start, whole figures.",
    example="48250",
    shared_as="odometer",
    said="odometer {}",
)


def distance(key: str, label: str, told: str, low: int, high: int, **facts: Any) -> Entry[int | None]:
    """Ask for a distance in the odometer's unit, which common practice fills where it is left empty."""
    usual = USUAL[key]
    return optional(
        count(
            label,
            low,
            high,
            why="no running-in takes longer",
            hint=f"{told} Left empty: {usual['km']} km or {usual['miles']} miles.",
            shared_as=f"run_in_{key}",
            **facts,
        )
    )


end_of_running_in = distance(
    "end",
    "Distance to the last rise",
    "From then on the highest speed is allowed.",
    20,
    5000,
    said="run in after {}",
)


def taken(key: str, typed: int | None, unit: str) -> int:
    """Return a distance as typed, or the round one for the odometer's unit.

    Examples
    --------
    >>> taken("oil", None, "miles"), taken("oil", 250, "miles")
    (300, 250)
    """
    return USUAL[key][unit] if typed is None else typed
