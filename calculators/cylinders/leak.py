"""A leakage tester with an orifice, and what it makes of one cylinder's reading."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from uncertainties import umath

from calculators.bench import FieldError, InputErrors, Lacking, Quantity, magnitude_in, read_by_instrument
from calculators.bench.instruments import common_error
from calculators.bench.units import plain, printed
from calculators.bench.verdict import best_of, verdict_on
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.leakage import CRITICAL, flow_factor, held_ratio, hole_share, leak_share, mass_flow
from calculators.formulas.standard_atmosphere import GAS_CONSTANT

_LEAST_HELD = 0.01
"""bar in the cylinder below which no hole is wide enough to be told."""


@dataclass(frozen=True, slots=True)
class Leak:
    """One reading: held in bar by the gauge, share in per cent, the hole it is worth in mm, the free air in l/min."""

    held: Any
    share: Any
    verdict: Verdict
    hole: float | None
    flow: float | None


@dataclass(frozen=True, kw_only=True)
class Tester:
    """The tester as typed, in the air here.

    Parameters
    ----------
    supply, error : Quantity
        Before the orifice, and how far off each gauge is at most.
    flow_share : float
        Limit off the flow meter is at most, of what it shows.
    orifice : Quantity, optional
    discharge : float
    air : float or ufloat, [bar]
    kelvin : float or ufloat
    most : float, [%]
        Leakage that is allowed.
    """

    supply: Quantity
    error: Quantity
    flow_share: float
    orifice: Quantity | None
    discharge: float
    air: Any
    kelvin: Any
    most: float

    def leak(self, key: str, place: int, held: Quantity | None, flow: float | None) -> Leak | None:
        """Return what a cylinder's reading comes to, None where it was not read; a flow goes before a pressure.

        Raises
        ------
        InputErrors
            More held than supplied, or more flow than the orifice passes.
        """
        if flow is not None:
            behind = self._held_by_flow(place, flow)
        elif held is not None:
            behind = self._gauge(held, "cylinder's gauge")
            if best_of(behind) > best_of(self._before):
                label = "Held pressure" if key == "held" else "Held pressure after the job"
                most = printed(self.supply, "bar")
                message = f"{label} of cylinder {place} must be no more than the supply pressure, {most}"
                raise InputErrors(FieldError(f"{key}.{place}", message))
        else:
            return None
        share = leak_share(self._before, behind)
        verdict = verdict_on(share, high=self.most)
        if self.orifice is None:
            return Leak(behind, share, verdict, None, None)
        bore, air, kelvin = magnitude_in(self.orifice, "mm"), best_of(self.air), best_of(self.kelvin)
        before, inside = best_of(self._before) + air, best_of(behind) + air
        area = math.pi / 4 * (bore / 1000) ** 2 * self.discharge
        through = mass_flow(before * 1e5, inside * 1e5, kelvin, area)
        litres = through * 60_000 * GAS_CONSTANT * kelvin / (air * 1e5)
        hole = None
        if inside - air > _LEAST_HELD:
            hole = bore * math.sqrt(hole_share(before, inside, air) * self.discharge)
        return Leak(behind, share, verdict, hole, litres)

    @cached_property
    def _before(self) -> Any:
        """The gauge pressure before the orifice, in bar."""
        return self._gauge(self.supply, "supply gauge")

    def _gauge(self, value: Quantity, instrument: str) -> Any:
        return read_by_instrument([value], "bar", instrument=instrument, limit=self.error)[0]

    def _held_by_flow(self, place: int, flow: float) -> Any:
        """Return the gauge pressure in the cylinder, in bar, from what flows through the orifice."""
        if self.orifice is None:
            raise Lacking(FieldError("orifice", "Enter the orifice, in millimetres"))
        supply, air = self._before, self.air
        metered = flow * (1.0 + common_error("tester's flow meter", self.flow_share))
        area = math.pi / 4 * (magnitude_in(self.orifice, "mm") / 1000) ** 2 * self.discharge
        before = (supply + air) * 1e5
        factor = metered * (air * 1e5) / (60_000 * umath.sqrt(GAS_CONSTANT * self.kelvin)) / (before * area)
        open_end = flow_factor(max(CRITICAL, best_of(air) / best_of(supply + air)))
        if best_of(factor) >= open_end:
            most = best_of(metered) * open_end / best_of(factor)
            message = (
                f"Flow in l/min of cylinder {place} must be less than {plain(float(f'{most:.3g}'))}, all that this "
                "orifice passes at this supply pressure"
            )
            raise InputErrors(FieldError(f"flow.{place}", message))
        return held_ratio(factor) * (supply + air) - air if best_of(factor) > 0 else supply
