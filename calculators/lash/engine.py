"""The engine whose lash is set, as it is told: when it fires, how many valves it has, and what its cams do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import FieldError, magnitude_in, quantity
from calculators.bench.report import Given
from calculators.bench.words import word
from calculators.formulas.base_circle import KINDS, ORDINARY_CAM, Cam, Kind, timed_cam
from calculators.formulas.firing import misnamed, unequal, uneven_intervals
from calculators.lash.stop_words import degrees

MOST_VALVES = 48
RAMP_AT_SEAT, RAMP_PER_MM = 30.0, 30.0
"""Ramp allowed for where none is typed, in degrees: at no lift, and more for each mm of the lift at which the events
are told; wider than on ordinary cams (common practice, no source)."""
EVENTS = {
    "inlet_opens": "Inlet opening",
    "inlet_closes": "Inlet closing",
    "exhaust_opens": "Exhaust opening",
    "exhaust_closes": "Exhaust closing",
}


@dataclass(frozen=True, slots=True)
class Cams:
    """What the cams do, in words as well, and what it was reckoned from; ``assumed`` where any of it is not told."""

    cam: Cam
    words: str
    given: Given
    assumed: bool


def numbering_errors(
    cylinders: int, firing_order: Sequence[int], banks: Sequence[Sequence[int]] | None
) -> Iterator[FieldError]:
    """Yield what is wrong with the lists that must name each cylinder once."""
    numbered = None if banks is None else tuple(cylinder for bank in banks for cylinder in bank)
    for field, label, named in (
        ("banks", "Cylinders by bank", numbered),
        ("firing_order", "Firing order", firing_order),
    ):
        if named is not None and (fault := misnamed(named, cylinders)):
            yield FieldError(field, f"{label} {fault}")


def firing_intervals(told: Sequence[Any] | None, cylinders: int) -> tuple[tuple[float, ...], list[FieldError]]:
    """Return the firing intervals in degrees, drawn out to make one cycle, and what is wrong with them."""
    typed = tuple(magnitude_in(angle, "°") for angle in told or ())
    fault = unequal(typed, cylinders)
    errors = [FieldError("firing_intervals", f"Firing intervals {fault}")] if fault else []
    return uneven_intervals(typed, cylinders), errors


def valve_counts(
    told: Mapping[Kind, tuple[int, ...]], cylinders: int
) -> tuple[Mapping[Kind, tuple[int, ...]], list[FieldError]]:
    """Return how many valves of each kind each cylinder has, in the order of their numbers, and what is wrong there."""
    counts: dict[Kind, tuple[int, ...]] = {}
    errors = []
    for kind in KINDS:
        listed = told[kind]
        counts[kind] = listed * cylinders if len(listed) == 1 else listed
        if len(counts[kind]) != cylinders:
            wanted = "1 entry," if cylinders == 1 else f"1 entry for all or {cylinders}, one a cylinder,"
            message = f"{word(kind).capitalize()} valves a cylinder must have {wanted} not {len(listed)}"
            errors.append(FieldError(f"{kind}_valves", message))
    total = sum(map(sum, counts.values()))
    if not errors and total > MOST_VALVES:
        message = (
            f"Inlet valves a cylinder and the exhaust valves come to {total}; at most {MOST_VALVES} are planned here"
        )
        errors.append(FieldError("inlet_valves", message))
    return counts, errors


def cams(events: Mapping[str, Any], event_lift: Any, ramp: Any) -> tuple[Cams, list[FieldError]]:
    """Return what the cams do, by the events told or, where none is, as any ordinary cam, and what is wrong there.

    Parameters
    ----------
    events : mapping of str to Quantity or None
        By the keys of ``EVENTS``.
    event_lift, ramp : Quantity, optional
    """
    missing = [key for key in EVENTS if events[key] is None]
    if len(missing) == len(EVENTS):
        words = (
            "what holds for any ordinary cam, ramps included: the inlet off its base circle from 60° before top to "
            "100° "
            "after bottom dead centre at most, the exhaust from 90° before bottom to 60° after top. A racing cam may "
            "be off longer: type its events"
        )
        return Cams(ORDINARY_CAM, words, (("cam", "any ordinary one"),), assumed=True), []
    errors = [
        FieldError(key, f"Enter the {EVENTS[key].lower()}, in degrees, or leave all four openings and closings empty")
        for key in missing
    ]
    if ramp is None and event_lift is None:
        message = "Enter the lift of the cam events, in millimetres, or the ramp beyond each event"
        errors.append(FieldError("event_lift", message))
    if errors:
        return Cams(ORDINARY_CAM, "", (), assumed=True), errors
    at = "" if event_lift is None else f" at {magnitude_in(event_lift, 'mm'):.4g} mm of lift"
    assumed = ramp is None
    told = "allowed for, wider than on ordinary cams" if assumed else "as typed"
    if assumed:
        ramp = quantity(RAMP_AT_SEAT + RAMP_PER_MM * magnitude_in(event_lift, "mm"), "°")
    cam = timed_cam(**{key: magnitude_in(events[key], "°") for key in EVENTS}, ramp=magnitude_in(ramp, "°"))
    given = (
        *((EVENTS[key].lower(), events[key]) for key in EVENTS),
        ("ramp beyond each", ramp),
    )
    words = f"the cam events{at} and a ramp of {degrees(magnitude_in(ramp, '°'))} beyond each, {told}"
    return Cams(cam, words, given, assumed=assumed), []
