"""How the light's readings are told: what to do, as values, one by one, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.bench import DECISION, Caution, Column, ResultTable, Source, TableRow, Value, quantity
from calculators.bench.units import figures
from calculators.bench.verdict import best_of
from calculators.timing.advance import Timing, runs_back
from calculators.timing.cautions import UNDER_THE_LIGHT

_TURNED = 0.05
"""Degrees of the crank: nobody turns a distributor by less."""


def _is_turned(timing: Timing) -> bool:
    return timing.shift is not None and abs(timing.shift) >= _TURNED


def headline(timing: Timing) -> str:
    """Return what to do, in three words and a number."""
    count, shift, rest = len(timing.readings), timing.shift or 0.0, timing.rest or 0.0
    if all(of.verdict == "in" for of in timing.readings):
        return "In: leave it" if count == 1 else f"All {count} in: leave it"
    if shift <= -_TURNED and not timing.full_read:
        return "Read full advance first"
    turned = f"{_turn_to(shift).removesuffix(' it').capitalize()} by {figures(abs(shift), 1)}°"
    if rest > timing.tolerance:
        return f"{turned}, and correct the curve" if timing.guarded and _is_turned(timing) else "Correct the curve"
    return turned if _is_turned(timing) else "Too close to call"


def says(timing: Timing) -> str:
    """Return the same as a sentence."""
    shift, rest, count = timing.shift or 0.0, timing.rest or 0.0, len(timing.readings)
    keeping = sum(of.verdict == "in" for of in timing.readings)
    told = f"Of {count} readings of the light {keeping} {'is' if keeping == 1 else 'are'} in"
    turned = f"{_turn_to(shift)} by {figures(abs(shift), 1)}° of the crank"
    if count == keeping:
        return f"{told}."
    if shift <= -_TURNED and not timing.full_read:
        return f"{told}; read it at full advance, {timing.curve[-1][0]:.0f} r/min or more, before you advance it."
    if timing.guarded and rest > timing.tolerance:
        return (
            f"{told}, and turning the distributor cannot bring all within {figures(timing.tolerance, 1)}° with full "
            f"advance right: {turned if _is_turned(timing) else 'do not advance it'}, so that full advance is right, "
            "and check weights, springs and shaft."
        )
    if rest > timing.tolerance:
        return (
            f"{told}, and turning the distributor cannot bring all within {figures(timing.tolerance, 1)}°: check "
            "weights, springs and shaft."
        )
    if _is_turned(timing):
        return f"{told}; {turned} and read again."
    return f"{told}; read the others again with a better light."


def cautions(timing: Timing) -> Iterator[Caution]:
    """Yield what to beware of under the light, and of this advance."""
    yield UNDER_THE_LIGHT
    beyond = [of for of in timing.readings if best_of(of.advance) > timing.full + timing.tolerance]
    if beyond:
        most = max(beyond, key=lambda of: best_of(of.advance))
        yield Caution(
            "warning",
            f"{figures(best_of(most.advance), 1)}° at {most.speed:.0f} r/min is beyond full advance and its tolerance. "
            "Too early a spark holes pistons, and an engine that fails on the road can kill. Do not load the engine "
            "until you have retarded it.",
        )
    if runs_back(timing):
        yield Caution("notice", "The advance falls as the speed rises. Check the weights before you set anything.")


def values(timing: Timing) -> Iterator[Value]:
    """Yield by how much the distributor is turned, and what is then left."""
    if timing.shift is None or timing.rest is None:
        return
    yield Value(
        key="shift",
        label=_shift_label(timing),
        quantity=quantity(abs(timing.shift), "°"),
        places=1,
        formula="midway between the greatest and the least of read less wanted; never so early that full advance, if "
        "read, comes too early",
        source=Source(
            "the middle of the range leaves the smallest largest deviation; full advance first: common practice, no "
            "source",
            "common practice",
        ),
        given=tuple((f"{light.speed:.0f} r/min", quantity(light.deviation, "°")) for light in timing.readings),
    )
    yield Value(
        key="rest",
        label="Largest deviation then left",
        quantity=quantity(timing.rest, "°"),
        places=1,
        formula="greatest size of read less wanted, less the turn of the distributor; beyond the tolerance the curve "
        "is wrong",
        source=Source("definition of a deviation", "identity"),
        given=(("tolerance", quantity(timing.tolerance, "°")),),
    )


def _shift_label(timing: Timing) -> str:
    if timing.shift is None or not _is_turned(timing):
        return "To put full advance right" if timing.guarded else "To even the readings out"
    if timing.guarded:
        return f"To put full advance right, {_turn_to(timing.shift)} by"
    if timing.shift < 0 and not timing.full_read:
        return "To even out the light's readings, once full advance has been read, advance it by"
    return f"To even out the light's readings, {_turn_to(timing.shift)} by"


def _turn_to(shift: float) -> str:
    return "retard it" if shift > 0 else "advance it"


def light_table(timing: Timing) -> ResultTable:
    """Return one row a reading, the slowest first."""
    return ResultTable(
        key="light",
        title="What the light shows, and what the curve wants",
        columns=(
            Column(key="speed", label="Speed", unit="r/min", places=0),
            Column(key="read", label="Read", unit="°", places=1, strong=True),
            Column(key="wanted", label="Wanted", unit="°", places=1),
            Column(key="deviation", label="Off", unit="°", places=1),
            Column(key="verdict", label="Verdict"),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    quantity(of.speed, "r/min"),
                    quantity(of.advance, "°"),
                    quantity(of.wanted, "°"),
                    quantity(best_of(of.deviation), "°"),
                    of.verdict,
                ),
                chosen=of.verdict == "out",
            )
            for of in timing.readings
        ),
        formula="wanted: straight from bend to bend, level before the first and behind the last; in: the whole "
        "reading, ± included, is within the tolerance",
        source=DECISION,
        given=(
            ("tolerance", quantity(timing.tolerance, "°")),
            ("curve", "; ".join(f"{figures(angle, 1)}° at {speed:.0f} r/min" for speed, angle in timing.curve)),
        ),
    )
