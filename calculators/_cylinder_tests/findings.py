"""What the gauges come to, cylinder by cylinder, and what the pattern points to."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._units import magnitude_in, number_in, plain, printed, reading
from calculators._verdict import Instrument, best_of, expanded_of, instrument, verdict_on
from calculators._words import listed
from calculators.formulas.cranking_pressure import cranking_pressure
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.firing import misnamed
from calculators.formulas.leakage import CRITICAL, flow_factor, held_ratio, hole_share, leak_share, mass_flow
from calculators.formulas.slider_crank import effective_ratio, share_left
from calculators.formulas.standard_atmosphere import GAS_CONSTANT, SEA_LEVEL, air_pressure

HEARD = {
    "nowhere": "Nowhere, or not listened",
    "oil": "Oil filler or breather",
    "exhaust": "Exhaust",
    "inlet": "Carburettor",
    "neighbour": "Neighbour's plug hole",
    "outside": "Bubbles at barrel or head",
}
VALVE_OR_JOINT = "a valve or the head joint"
NOTHING_TO_JUDGE_BY = "nothing to judge by"
EVEN_WORDS = "even"
TELLS = {
    "oil": "rings or bore",
    "exhaust": "exhaust valve",
    "inlet": "inlet valve",
    "neighbour": "joint between neighbours",
    "outside": "joint of barrel and head, plug seat or crack",
}
THEN = {
    "oil": "rings, bore, piston",
    "exhaust": "lash, then the exhaust valve and its seat",
    "inlet": "lash, then the inlet valve and its seat",
    "neighbour": "head joint and head face between the two",
    "outside": "soapy water: head joint, plug seat, cracks",
}
"""Where it is heard → where to look then."""
_LEAST_HELD = 0.01
"""bar in the cylinder below which no hole is wide enough to be told."""
_RANK: dict[Any, int] = {"in": 0, "too close to call": 1, "out": 2}


@dataclass(frozen=True, slots=True)
class Leak:
    """One leakage reading: share in per cent, the hole it is worth in mm, the free air in l/min."""

    held: Any  # bar, gauge
    share: Any
    verdict: Verdict
    hole: float | None
    flow: float | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Cylinder:
    """All that is known of one cylinder; bar, and None where it was not read."""

    number: int
    dry: Any | None
    wet: Any | None
    after: Any | None
    verdict: Verdict | None  # of the dry reading, by the least pressure and by the best cylinder
    expected: Any | None
    beside: str | None  # above, as expected, or below
    recovered: Any | None  # share of what it lacks that oil gives back, %
    leak: Leak | None
    leak_after: Leak | None
    heard: str
    points_to: str

    @property
    def rise(self) -> Any | None:
        return None if self.dry is None or self.wet is None else self.wet - self.dry


@dataclass(frozen=True, kw_only=True, slots=True)
class Tests:
    """The whole engine."""

    cylinders: tuple[Cylinder, ...]
    air: float  # bar
    least: float | None  # bar, for this air
    spread_limit: float | None  # bar, for this air
    spread: Any | None
    spread_after: Any | None
    spread_verdict: Verdict | None
    spread_after_verdict: Verdict | None
    low_after: tuple[int, ...]  # cylinders still below the least pressure
    leaking_after: tuple[int, ...]
    pattern: str
    left: float | None  # share of the stroke when the inlet valve has shut
    exponent: Any


def find(inputs: SimpleNamespace) -> Tests:
    """Judge each cylinder, and the engine as a whole.

    Raises
    ------
    InputErrors
        For what only the fields together can tell.
    """
    heads = _heads(inputs)
    air = air_pressure(magnitude_in(inputs.altitude, "m"), magnitude_in(inputs.air_temperature, "K")) / 1e5
    thin = air * 1e5 / SEA_LEVEL
    least, spread_limit = (
        None if limit is None else magnitude_in(limit, "bar") * thin
        for limit in (inputs.least_pressure, inputs.most_spread)
    )
    gauge = instrument("Error limit of the compression gauge", inputs.gauge_error, "bar", inputs.gauge_scatter)
    tester = _Tester(
        instrument("Error limit of the supply's gauge", inputs.leak_error, "bar"),
        instrument("Error limit of the cylinder's gauge", inputs.leak_error, "bar"),
        reading(1.0, magnitude_in(inputs.flow_error, "%") / 100, "Error limit of the flow meter"),
    )
    dry, wet, after = (
        _pressures(inputs, gauge, key, words)
        for key, words in (("dry", "Dry pressure"), ("wet", "Wet pressure"), ("dry_after", "Pressure after the job"))
    )
    leaks, leaks_after = _leaks(inputs, tester, "held", air), _leaks(inputs, tester, "held_after", air)
    if not any(value is not None for values in (dry, wet, after, leaks, leaks_after) for value in values):
        raise InputErrors(
            FieldError("dry.1", "Enter the dry pressure of cylinder 1, in bar, or what the leakage tester shows")
        )
    left = _left(inputs)
    exponent = reading(inputs.exponent, inputs.exponent_error, "Polytropic exponent")
    expected = _expected(inputs, left, air, exponent)
    verdicts = _verdicts(dry, least, spread_limit)
    recovered = _recovered(dry, wet, verdicts)
    heard = tuple(place or "nowhere" for place in inputs.heard)
    leaning = [
        _leaning(verdicts[place], recovered[place], leaks[place], heard[place], _falls(dry[place], wet[place]))
        for place in range(inputs.cylinders)
    ]
    joints = _joints(heads, verdicts, recovered, leaning)
    cylinders = tuple(
        Cylinder(
            number=place + 1,
            dry=dry[place],
            wet=wet[place],
            after=after[place],
            verdict=verdicts[place],
            expected=expected[place],
            beside=_beside(dry[place], expected[place]),
            recovered=recovered[place],
            leak=leaks[place],
            leak_after=leaks_after[place],
            heard=heard[place],
            points_to=joints.get(place, leaning[place]),
        )
        for place in range(inputs.cylinders)
    )
    spread, spread_after = _spread(dry), _spread(after)
    return Tests(
        cylinders=cylinders,
        air=air,
        least=least,
        spread_limit=spread_limit,
        spread=spread,
        spread_after=spread_after,
        spread_verdict=_within(spread, spread_limit),
        spread_after_verdict=_within(spread_after, spread_limit),
        low_after=tuple(
            number
            for number, pressure in enumerate(after, 1)
            if pressure is not None and least is not None and verdict_on(pressure, low=least) == "out"
        ),
        leaking_after=tuple(number for number, leak in enumerate(leaks_after, 1) if leak and leak.verdict == "out"),
        pattern=_pattern(cylinders, least, spread, spread_limit),
        left=left,
        exponent=exponent,
    )


def _heads(inputs: SimpleNamespace) -> tuple[tuple[int, ...], ...]:
    wrong = misnamed([number for head in inputs.heads for number in head], inputs.cylinders)
    if wrong:
        raise InputErrors(FieldError("heads", f"Cylinders under each head {wrong}"))
    return tuple(tuple(number - 1 for number in head) for head in inputs.heads)


@dataclass(frozen=True, slots=True)
class _Tester:
    """The leakage tester: two gauges, and what its flow meter shows over what flows."""

    supply: Instrument
    held: Instrument
    meter: Any


def _pressures(inputs: SimpleNamespace, gauge: Instrument, key: str, words: str) -> tuple[Any | None, ...]:
    return tuple(
        None if value is None else gauge.read(value, f"{words}, cylinder {number}")
        for number, value in enumerate(getattr(inputs, key), 1)
    )


def _spread(pressures: tuple[Any | None, ...]) -> Any | None:
    """Return the greatest less the least, or None where fewer than two were read."""
    known = [pressure for pressure in pressures if pressure is not None]
    return max(known, key=best_of) - min(known, key=best_of) if len(known) > 1 else None


def _within(spread: Any | None, limit: float | None) -> Verdict | None:
    return None if spread is None or limit is None else verdict_on(spread, high=limit)


def _verdicts(dry: tuple[Any | None, ...], least: float | None, spread: float | None) -> list[Verdict | None]:
    """Return the worse of two verdicts: by the least pressure, and by how far it lies below the best cylinder."""
    best = max((pressure for pressure in dry if pressure is not None), key=best_of, default=None)
    verdicts: list[Verdict | None] = []
    for pressure in dry:
        found: list[Verdict] = []
        if pressure is not None and least is not None:
            found.append(verdict_on(pressure, low=least))
        if pressure is not None and spread is not None:
            found.append(verdict_on(best - pressure, high=spread))
        verdicts.append(max(found, key=lambda verdict: _RANK[verdict]) if found else None)
    return verdicts


def _recovered(
    dry: tuple[Any | None, ...], wet: tuple[Any | None, ...], verdicts: list[Verdict | None]
) -> list[Any | None]:
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


def _falls(dry: Any | None, wet: Any | None) -> bool:
    """Return whether oil seems to have lowered the reading, beyond what the gauge can be wrong by."""
    if dry is None or wet is None:
        return False
    fall = dry - wet
    return bool(best_of(fall) > expanded_of(fall))


def _leaning(verdict: Verdict | None, recovered: Any | None, leak: Leak | None, heard: str, falls: bool) -> str:
    """Return what one cylinder points to by itself."""
    if leak is not None and leak.verdict != "in" and heard in TELLS:
        return TELLS[heard]
    if falls:
        return "wet reads below dry: read both again"
    if verdict in ("out", "too close to call") and recovered is not None:
        by_half = verdict_on(recovered, low=50.0)
        if by_half == "in":
            return "rings or bore"
        if by_half == "out":
            return TELLS.get(heard, VALVE_OR_JOINT)
        return "the wet test does not tell: leakage test"
    if verdict in ("out", "too close to call"):
        return TELLS.get(heard, "not told yet: wet test, then leakage test")
    if leak is not None and leak.verdict != "in":
        return "leaks, but where is not heard yet" if leak.verdict == "out" else "too close to call: test it again"
    return "nothing" if verdict or leak else "not tested"


def _joints(
    heads: tuple[tuple[int, ...], ...],
    verdicts: list[Verdict | None],
    recovered: list[Any | None],
    leaning: list[str],
) -> dict[int, str]:
    """Return neighbours under one head that are low together and that oil does not help."""
    found: dict[int, str] = {}
    for head in heads:
        for one, other in itertools.pairwise(head):
            dull = all(
                verdicts[place] == "out"
                and recovered[place] is not None
                and verdict_on(recovered[place], low=50.0) == "out"
                and leaning[place] == VALVE_OR_JOINT
                for place in (one, other)
            )
            if dull:
                between = f"the head joint between {listed(sorted((one + 1, other + 1)))}"
                found |= {one: between, other: between}
    return found


def _pattern(cylinders: tuple[Cylinder, ...], least: float | None, spread: Any | None, limit: float | None) -> str:
    """Return what the engine as a whole shows, in a few words."""
    tested = [cylinder for cylinder in cylinders if cylinder.verdict]
    low = [cylinder for cylinder in tested if cylinder.verdict == "out"]
    alike = spread is not None and limit is not None and verdict_on(spread, high=limit) == "in"
    if least is not None and len(low) == len(tested) > 1 and alike:
        return "all low alike: throttle, starter, gauge, lash or cam timing before the cylinders"
    if low:
        return f"low: {listed(cylinder.number for cylinder in low)}"
    leaking = [cylinder.number for cylinder in cylinders if cylinder.leak and cylinder.leak.verdict == "out"]
    if leaking:
        return f"leaking: {listed(leaking)}"
    doubtful = [
        cylinder.number
        for cylinder in cylinders
        if cylinder.verdict == "too close to call" or (cylinder.leak and cylinder.leak.verdict == "too close to call")
    ]
    if doubtful:
        return f"too close to call: {listed(doubtful)}"
    judged = tested or [cylinder for cylinder in cylinders if cylinder.leak]
    if not judged and all(cylinder.dry is None and cylinder.wet is None for cylinder in cylinders):
        return "not read before the job"
    return EVEN_WORDS if judged else NOTHING_TO_JUDGE_BY


def _left(inputs: SimpleNamespace) -> float | None:
    """Return the share of the stroke that is left when the inlet valve has shut."""
    if inputs.stroke is None or inputs.rod_length is None or inputs.inlet_closing is None:
        return None
    stroke, rod = magnitude_in(inputs.stroke, "mm"), magnitude_in(inputs.rod_length, "mm")
    if rod <= 0.5 * stroke:
        message = f"Rod length must be more than half the stroke, which is {printed(inputs.stroke / 2, 'mm')}"
        raise InputErrors(FieldError("rod_length", message))
    return float(share_left(magnitude_in(inputs.inlet_closing, "°"), stroke, rod))


def _expected(inputs: SimpleNamespace, left: float | None, air: float, exponent: Any) -> list[Any | None]:
    return [
        None if ratio is None or left is None else cranking_pressure(air, effective_ratio(ratio, left), exponent)
        for ratio in inputs.ratio
    ]


def _beside(dry: Any | None, expected: Any | None) -> str | None:
    if dry is None or expected is None:
        return None
    apart = dry - expected
    if abs(best_of(apart)) <= expanded_of(apart):
        return "as expected"
    return "above" if best_of(apart) > 0 else "below"


def _leaks(inputs: SimpleNamespace, tester: _Tester, key: str, air: float) -> list[Leak | None]:
    """Read one column of the leakage tester; a flow stands for the held pressure that goes with it."""
    values = getattr(inputs, key)
    flows = inputs.flow if key == "held" else (None,) * len(values)
    return [
        _leak(inputs, tester, key, number, *pair, air) for number, pair in enumerate(zip(values, flows, strict=True), 1)
    ]


def _leak(
    inputs: SimpleNamespace, tester: _Tester, key: str, number: int, held: Any, flow: float | None, air: float
) -> Leak | None:
    if held is None and flow is None:
        return None
    if held is not None and flow is not None:
        message = f"Flow in l/min of cylinder {number} must be empty where its held pressure was read"
        raise InputErrors(FieldError(f"flow.{number}", message))
    if inputs.supply is None:
        raise InputErrors(FieldError("supply", "Enter the supply pressure, in bar"))
    supply = tester.supply.read(inputs.supply, "Supply pressure")
    kelvin = magnitude_in(inputs.air_temperature, "K")
    if held is None:
        held = _held_by_flow(inputs, number, (flow or 0.0) * tester.meter, supply, air, kelvin)
    else:
        held = tester.held.read(held, f"Held pressure, cylinder {number}")
        if best_of(held) > best_of(supply):
            label = "Held pressure" if key == "held" else "Held pressure after the job"
            most = printed(inputs.supply, "bar")
            message = f"{label} of cylinder {number} must be no more than the supply pressure, {most}"
            raise InputErrors(FieldError(f"{key}.{number}", message))
    share = leak_share(supply, held)
    verdict = verdict_on(share, high=magnitude_in(inputs.most_leakage, "%"))
    if inputs.orifice is None:
        return Leak(held, share, verdict, None, None)
    bore, before, inside = magnitude_in(inputs.orifice, "mm"), best_of(supply) + air, best_of(held) + air
    area = math.pi / 4 * (bore / 1000) ** 2 * inputs.discharge
    through = mass_flow(before * 1e5, inside * 1e5, kelvin, area)
    litres = through * 60_000 * GAS_CONSTANT * kelvin / (air * 1e5)
    hole = None
    if inside - air > _LEAST_HELD:
        hole = bore * math.sqrt(hole_share(before, inside, air) * inputs.discharge)
    return Leak(held, share, verdict, hole, litres)


def _held_by_flow(inputs: SimpleNamespace, number: int, metered: Any, supply: Any, air: float, kelvin: float) -> Any:
    """Return the gauge pressure in the cylinder, in bar, from what flows through the orifice."""
    if inputs.orifice is None:
        raise InputErrors(FieldError("orifice", "Enter the orifice, in millimetres"))
    area = math.pi / 4 * (number_in(inputs.orifice, "mm") / 1000) ** 2 * inputs.discharge
    before = (supply + air) * 1e5
    factor = metered * (air * 1e5) / (60_000 * math.sqrt(GAS_CONSTANT * kelvin)) / (before * area)
    open_end = flow_factor(max(CRITICAL, air / best_of(supply + air)))
    if best_of(factor) >= open_end:
        most = best_of(metered) * open_end / best_of(factor)
        message = (
            f"must be less than {plain(float(f'{most:.3g}'))}, all that this orifice passes at this supply pressure"
        )
        raise InputErrors(FieldError(f"flow.{number}", f"Flow in l/min of cylinder {number} {message}"))
    return held_ratio(factor) * (supply + air) - air if best_of(factor) > 0 else supply
