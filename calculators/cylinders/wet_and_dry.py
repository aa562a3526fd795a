"""What readings dry and wet come to: the verdict on each, and whether oil gives back what a cylinder lacks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal

from calculators.bench.verdict import best_of, expanded_of, verdict_on
from calculators.formulas.decision_rule import Verdict

Lift = Literal["lifts", "no lift", "untold", "lowers"]
LIFTS = {
    "lifts": "Yes, by half or more of the shortfall",
    "no lift": "No, by less than half of it",
    "untold": "The readings cannot tell",
    "lowers": "It reads below dry",
}
VERDICTS = {"in": "Good", "too close to call": "Too close to call", "out": "Low"}
VALVE_OR_JOINT = "a valve or the head joint"
AGAIN = "wet reads below dry: read both again"
TESTS_WANTED = "not told yet: wet test, then leakage test"
_SUSPECTS: dict[Lift, str] = {
    "lifts": "rings or bore",
    "no lift": VALVE_OR_JOINT,
    "untold": "the wet test cannot tell: leakage test",
    "lowers": AGAIN,
}
_RANK: dict[Any, int] = {"in": 0, "too close to call": 1, "out": 2}
_Readings = Sequence[Any | None]


def spread_of(pressures: _Readings) -> Any | None:
    """Return the greatest less the least, or None where fewer than two were read."""
    known = [pressure for pressure in pressures if pressure is not None]
    return max(known, key=best_of) - min(known, key=best_of) if len(known) > 1 else None


def verdicts_on(pressures: _Readings, least: Any | None, spread: Any | None) -> list[Verdict | None]:
    """Return the worse of two verdicts: by the least pressure, and by how far it lies below the best cylinder."""
    best = max((pressure for pressure in pressures if pressure is not None), key=best_of, default=None)
    verdicts: list[Verdict | None] = []
    for pressure in pressures:
        found: list[Verdict] = []
        if pressure is not None and least is not None:
            found.append(verdict_on(pressure, low=least))
        if pressure is not None and spread is not None:
            found.append(verdict_on(best - pressure, high=spread))
        verdicts.append(max(found, key=lambda verdict: _RANK[verdict]) if found else None)
    return verdicts


def recovered(dry: _Readings, wet: _Readings, verdicts: Sequence[Verdict | None]) -> list[Any | None]:
    """Return the share of what a cylinder lacks that oil gives back, in per cent.

    Notes
    -----
    It lacks what the best dry cylinder has more. The oil takes room and lifts a sound cylinder
    too: the least rise of a sound one is taken off, where one was read wet.
    """
    best = max((pressure for pressure in dry if pressure is not None), key=best_of, default=None)
    rises = [None if one is None or other is None else other - one for one, other in zip(dry, wet, strict=True)]
    sound = [rise for rise, verdict in zip(rises, verdicts, strict=True) if rise is not None and verdict == "in"]
    common = min(sound, key=best_of, default=0.0)
    common = common if best_of(common) > 0 else 0.0
    shares: list[Any | None] = []
    for pressure, rise, verdict in zip(dry, rises, verdicts, strict=True):
        lacks = None if best is None or pressure is None else best - pressure
        if rise is None or lacks is None or verdict == "in" or best_of(lacks) <= expanded_of(lacks):
            shares.append(None)
        else:
            shares.append(100 * (rise - common) / lacks)
    return shares


def lift_of(dry: Any | None, wet: Any | None, share: Any | None) -> Lift | None:
    """Return what oil does to one cylinder, None where it was not read wet or lacks nothing."""
    if dry is not None and wet is not None and best_of(dry - wet) > expanded_of(dry - wet):
        return "lowers"
    if share is None:
        return None
    by_half: dict[Verdict, Lift] = {"in": "lifts", "out": "no lift", "too close to call": "untold"}
    return by_half[verdict_on(share, low=50.0)]


def suspect(verdict: Verdict | None, lift: Lift | None) -> str:
    """Return what a cylinder points to by the compression gauge alone."""
    if lift == "lowers":
        return AGAIN
    if verdict in ("out", "too close to call"):
        return _SUSPECTS[lift] if lift else TESTS_WANTED
    return "nothing" if verdict else "not tested"
