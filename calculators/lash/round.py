"""One round of setting the lash: engine, cams, plan, gaps and blades; and how gaps and places are told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from calculators.bench import FieldError, InputErrors, magnitude_in, printed, symbol_of
from calculators.bench.words import listed, word
from calculators.formulas.base_circle import KINDS, Kind, Lift, valves
from calculators.formulas.feeler_blades import Stack
from calculators.formulas.firing import ROUNDED, companion
from calculators.formulas.lash_stops import Method, Plan, Stop, plan
from calculators.lash.engine import Cams
from calculators.lash.feelers import held_together, stack_for, stamped
from calculators.lash.stop_words import degrees

_OTHER = {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}


@dataclass(frozen=True, kw_only=True, slots=True)
class Round:
    """All that the words need: the engine, the plan of its stops, where the reader stands, and the gaps."""

    method: Method
    fires: Mapping[int, float]
    plan: Plan
    cams: Cams
    slack: Any
    turning: str
    end: str
    running: str
    hand: str
    rotor: str | None
    gaps: Mapping[Kind, Any]
    stacks: Mapping[Kind, Stack]
    packed: Mapping[Kind, str]

    @property
    def stops(self) -> tuple[Stop, ...]:
        return self.plan.stops

    @property
    def backwards(self) -> bool:
        return self.turning == "backwards"

    @property
    def by_cylinder(self) -> bool:
        return self.method in ("own", "companion")

    def told(self, kind: Kind) -> str:
        """Return a gap, with its blades where it does not say them itself: "0.35 mm (13.8 thou): 0.30 mm + 0.05 mm"."""
        gap, blades = self.gaps[kind], self.packed[kind]
        return both(gap) if blades in (printed(gap, "mm"), stamped(gap)) else f"{both(gap)}: {blades}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Engine:
    """What the plan needs to know of an engine: when it fires, its valves and cams, and which way it turns.

    Parameters
    ----------
    fires : mapping of int to float, [°]
        Crank angle at which each cylinder is at its firing top dead centre; number 1's is 0.
    counts : mapping of kind to tuple of int
        Valves of each kind at each cylinder, in the order of their numbers.
    crank_rotation : str
        As it runs, seen from the pulley end.
    rotor_rotation : str, optional
        As it runs, seen from above; None without a distributor.
    """

    fires: Mapping[int, float]
    counts: Mapping[Kind, tuple[int, ...]]
    cams: Cams
    crank_rotation: str
    rotor_rotation: str | None


def round_of(
    engine: Engine,
    method: Method,
    turning: str,
    end: str,
    crank_limit: Any,
    gaps: Mapping[Kind, Any],
    blades: Sequence[Any],
) -> Round:
    """Return one round of an engine's valves.

    Raises
    ------
    InputErrors
        A method that does not suit the engine.
    """
    fires, told, rotor = engine.fires, engine.cams, engine.rotor_rotation
    _refuse_missing_companions(method, fires)
    backwards = turning == "backwards"
    slack = magnitude_in(crank_limit, "°")
    found = _planned(
        method, tuple(fires.items()), tuple(engine.counts.items()), tuple(told.cam.items()), backwards, slack
    )
    _refuse_unsafe(found, slack)
    running = seen_from(engine.crank_rotation, end)
    stacks = {kind: stack_for(gap, tuple(blades)) for kind, gap in gaps.items()}
    return Round(
        method=method,
        fires=fires,
        plan=found,
        cams=told,
        slack=crank_limit,
        turning=turning,
        end=end,
        running=running,
        hand=_OTHER[running] if backwards else running,
        rotor=_OTHER[rotor] if rotor and backwards else rotor,
        gaps=gaps,
        stacks=stacks,
        packed={kind: held_together(blades, stacks[kind].chosen) for kind in KINDS},
    )


def seen_from(rotation: str, end: str) -> str:
    """Return a sense of rotation told from the pulley end as it is seen from either end."""
    return rotation if end == "pulley" else _OTHER[rotation]


@lru_cache(maxsize=16)
def _planned(
    method: Method,
    fires: tuple[tuple[int, float], ...],
    counts: tuple[tuple[Kind, tuple[int, ...]], ...],
    cam: tuple[tuple[Kind, Lift], ...],
    backwards: bool,
    slack: float,
) -> Plan:
    every = valves(dict(fires), dict(cam), dict(counts))
    return plan(method, dict(fires), every, dict(cam), backwards, slack)


def _refuse_missing_companions(method: str, fires: Mapping[int, float]) -> None:
    alone = sorted(cylinder for cylinder in fires if companion(cylinder, fires) is None)
    if method == "companion" and alone:
        one = len(alone) == 1
        raise InputErrors(
            FieldError(
                "method",
                f"Method must suit the engine: no other cylinder fires a whole turn from {listed(alone)}, so "
                f"{'it has no companion' if one else 'they have no companions'}. Choose another method.",
            )
        )


def _refuse_unsafe(found: Plan, slack: float) -> None:
    """Refuse a plan that sets a valve off its base circle, or less far inside it than the crank may be out."""
    shallow = found.shallowest
    valve = shallow.valve
    one_of_several = f" {valve.number}" if valve.number else ""
    which = f"the {word(valve.kind)} valve{one_of_several} of cylinder {valve.cylinder}"
    if shallow.least < 0:
        wrong = f"sets {which} {degrees(-shallow.least)} off its base circle"
    elif shallow.least < slack - ROUNDED:
        wrong = f"sets {which} only {degrees(shallow.least)} inside its base circle, and the crank may be "
        wrong += f"{degrees(slack)} out"
    else:
        return
    raise InputErrors(FieldError("method", f"Method must suit the cams: this one {wrong}. Choose another method."))


def in_inches(length: Any) -> bool:
    """Return whether a length is told in thou or inches."""
    return symbol_of(length) in ("thou", "in")


def both(length: Any) -> str:
    """Return a gap in both units, its own first and as it was typed: "4 thou (0.10 mm)"."""
    if in_inches(length):
        return f"{magnitude_in(length, 'thou'):.4g} thou ({printed(length, 'mm')})"
    return f"{printed(length, 'mm')} ({printed(length, 'thou')})"


def looked_for(lash: Round, stop: Stop) -> str:
    """Say what the reader sees at a stop, in the sense in which the crank comes to it."""
    opening, shut = "just begins to open", "has just shut"
    if lash.backwards:
        opening, shut = shut, opening
    words = {
        "fires": "{} at its firing top dead centre",
        "rocks": "both valves of {} rock: one shuts as the other opens",
        "exhaust opens": f"the exhaust valve of {{}} {opening}",
        "inlet closes": f"the inlet valve of {{}} {shut}",
    }
    return "; ".join(words[sign].format(cylinder) for cylinder, sign in stop.signs) or "its mark only"
