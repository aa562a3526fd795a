"""The cam as the maker gives it, and as it was measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.formulas.cam_events import lobe_separation, overlap
from calculators.formulas.decision_rule import Verdict


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
