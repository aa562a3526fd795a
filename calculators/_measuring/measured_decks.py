"""The decks as measured: a plane through the readings round each piston, and how far it is to be trusted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._measuring.repeated_readings import SCALE, SCATTER, Result, part, result
from calculators._units import magnitude_in, reading
from calculators.formulas.best_plane import Plane, best_plane
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.measured_mean import pooled_scatter

LOWEST, HIGHEST = -10.0, 20.0
"""The deck heights that any calculator takes, mm."""


@dataclass(frozen=True, slots=True)
class Barrel:
    """One barrel, [mm]."""

    depths: tuple[float, ...]  # below the barrel's top, point by point
    plane: Plane
    raw: Any  # deck height before the ± is widened for few readings
    deck: Result
    tilt: Result  # across the bore, along the pin; deeper at the first point is plus
    rock: float  # the same across the pin
    crooked: Verdict  # against the tilt allowed: in is straight


@dataclass(frozen=True, slots=True)
class Decks:
    """All barrels, [mm]."""

    barrels: tuple[Barrel, ...]
    scatter: float  # of one reading
    degrees: int

    def difference(self, head: Sequence[int]) -> Result:
        """Return the deepest deck less the shallowest of cylinders counted from 1; the gauge's error drops out."""
        barrels = sorted((self.barrels[number - 1] for number in head), key=lambda barrel: barrel.deck.middle)
        return result(barrels[-1].raw - barrels[0].raw, self.degrees)


def read_decks(inputs: SimpleNamespace) -> Decks:
    """Fit the planes and attach what gauge and scatter leave uncertain."""
    zero, step = magnitude_in(inputs.zero, "mm"), magnitude_in(inputs.step, "mm")
    bore = magnitude_in(inputs.bore, "mm")
    wider = 2 * bore / (magnitude_in(inputs.circle, "mm") if inputs.circle is not None else bore)
    allowed = magnitude_in(inputs.tilt_allowed, "mm")
    series = [tuple(magnitude_in(depth, "mm") - zero for depth in line) for line in inputs.depth]
    planes = [best_plane(depths) for depths in series]
    scatter, degrees = pooled_scatter((plane.residuals for plane in planes), fitted=3)
    gauge = reading(0.0, magnitude_in(inputs.gauge_error, "mm"), "Error limit of the gauge")
    gauge = gauge + reading(0.0, step / 2, "Gauge zero")
    barrels = []
    for depths, plane in zip(series, planes, strict=True):
        share = 1 / math.sqrt(len(depths))
        raw = plane.middle + gauge + part(scatter * share, SCATTER) + part(step / math.sqrt(12) * share, SCALE)
        tilted = wider * (
            plane.along
            + part(scatter * share * math.sqrt(2), SCATTER)
            + part(step / math.sqrt(12) * share * math.sqrt(2), SCALE)
        )
        tilt = result(tilted, degrees)
        barrels.append(
            Barrel(
                depths=depths,
                plane=plane,
                raw=raw,
                deck=result(raw, degrees),
                tilt=tilt,
                rock=wider * plane.across,
                crooked=judged(abs(tilt.middle), tilt.expanded, high=allowed, grain=1e-9),
            )
        )
    return Decks(tuple(barrels), scatter, degrees)
