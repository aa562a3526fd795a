"""The cam as the maker gives it, and as it was measured."""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._units import magnitude_in, number_in
from calculators._verdict import best_of, read_with, verdict_on
from calculators.formulas.cam_events import cam_late, duration, lobe_centre, lobe_separation, overlap, tooth
from calculators.formulas.decision_rule import Verdict

_EVENTS = (
    ("inlet_opens", "inlet opening before top"),
    ("inlet_closes", "inlet closing after bottom"),
    ("exhaust_opens", "exhaust opening before bottom"),
    ("exhaust_closes", "exhaust closing after top"),
)


@dataclass(frozen=True, slots=True)
class Valve:
    """One valve's opening in degrees of the crank: the event near overlap top, duration, lobe centre."""

    at_top: Any
    open_for: Any
    centre: Any


@dataclass(frozen=True, slots=True)
class Cam:
    """The four events wanted, and by how much the cam stands late where it was measured."""

    inlet: Valve
    exhaust: Valve
    inlet_read: Valve | None
    exhaust_read: Valve | None
    late: Any | None
    verdict: Verdict | None
    teeth: int | None  # of the gear that it stands late by, minus for early, to the nearest whole one
    per_tooth: float | None

    @property
    def overlap(self) -> Any:
        return overlap(self.inlet.at_top, self.exhaust.at_top)

    @property
    def separation(self) -> Any:
        return lobe_separation(self.inlet.centre, self.exhaust.centre)


def cam_of(inputs: SimpleNamespace) -> Cam | None:
    """Return the cam, or None where no event is known.

    Raises
    ------
    InputErrors
        Where an event is missing, or a valve would open after it has shut.
    """
    wanted = {key: getattr(inputs, key) for key, _ in _EVENTS}
    measured = {key: getattr(inputs, f"{key}_read") for key, _ in _EVENTS}
    if all(value is None for value in (*wanted.values(), *measured.values())):
        return None
    missing = [FieldError(key, f"Enter the {label}, in degrees") for key, label in _EVENTS if wanted[key] is None]
    for opens, closes in (("inlet_opens", "inlet_closes"), ("exhaust_opens", "exhaust_closes")):
        pair = (measured[opens], measured[closes])
        if None in pair and pair != (None, None):
            key, label = next(event for event in _EVENTS if event[0] == (opens if pair[0] is None else closes))
            missing.append(FieldError(f"{key}_read", f"Enter the measured {label}, in degrees"))
    if missing:
        raise InputErrors(*missing)
    exact = {key: magnitude_in(value, "°") for key, value in wanted.items()}
    inlet = _valve(exact["inlet_opens"], exact["inlet_closes"], "inlet_closes")
    exhaust = _valve(exact["exhaust_closes"], exact["exhaust_opens"], "exhaust_opens")
    read = {
        key: None if measured[key] is None else read_with(measured[key], inputs.wheel_error, "°", f"Measured {label}")
        for key, label in _EVENTS
    }
    inlet_read = exhaust_read = None
    if read["inlet_opens"] is not None:
        inlet_read = _valve(read["inlet_opens"], read["inlet_closes"], "inlet_closes_read")
    if read["exhaust_opens"] is not None:
        exhaust_read = _valve(read["exhaust_closes"], read["exhaust_opens"], "exhaust_opens_read")
    late = cam_late(
        inlet_read.centre if inlet_read else None,
        inlet.centre,
        exhaust_read.centre if exhaust_read else None,
        exhaust.centre,
    )
    limit = number_in(inputs.cam_tolerance, "°")
    per_tooth = tooth(inputs.cam_teeth) if inputs.cam_teeth else None
    return Cam(
        inlet=inlet,
        exhaust=exhaust,
        inlet_read=inlet_read,
        exhaust_read=exhaust_read,
        late=late,
        verdict=None if late is None else verdict_on(late, -limit, limit),
        teeth=round(best_of(late) / per_tooth) if per_tooth and late is not None else None,
        per_tooth=per_tooth,
    )


def _valve(at_top: Any, at_bottom: Any, field: str) -> Valve:
    open_for = duration(at_top, at_bottom)
    if best_of(open_for) < 90:
        which = "Inlet" if field.startswith("inlet") else "Exhaust"
        message = f"{which} events must leave the valve open for 90° or more; check their signs"
        raise InputErrors(FieldError(field, message))
    return Valve(at_top, open_for, lobe_centre(at_top, open_for))
