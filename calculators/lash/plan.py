"""The stops of a hand that turns the crank, and the valves set at each."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

from calculators.bench import (
    Answer,
    Entry,
    InputErrors,
    Quantity,
    Question,
    Walk,
    angle,
    choice,
    count,
    listed,
    magnitude_in,
    optional,
    shared,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.formulas.base_circle import KINDS, Kind
from calculators.formulas.firing import begun_at, firing_angles
from calculators.formulas.lash_stops import Method, Stop
from calculators.lash import asked
from calculators.lash.engine import cams, firing_intervals, numbering_errors, valve_counts
from calculators.lash.plan_tables import proof_table, stops_table
from calculators.lash.plan_told import cautions, notes, record, says, values
from calculators.lash.plan_walk import walk
from calculators.lash.proof_drawing import proof_figure
from calculators.lash.round import Engine, Round, round_of
from calculators.lash.stop_words import SHORT_WORDS, cylinder_alone, degrees
from calculators.lash.stops_drawing import dials, engine_figure

_TURNING, _ROTOR, _UNEVEN, _CAMS = (
    "How you turn the crank",
    "Distributor",
    "Valves, and uneven firing",
    "Cams",
)
_ALIKE = 0.1
"""Turns that differ by less, in degrees, feel the same by hand."""
METHODS = {
    "own": "Each cylinder at its own firing top dead centre",
    "companion": "Each cylinder while its companion rocks",
    "opening": "Inlet as the exhaust opens, exhaust as the inlet closes",
    "two": "Two positions, one whole turn apart",
    "fewest": "Fewest stops",
}


def _valves(label: str, shared_as: str) -> Entry[tuple[int, ...]]:
    return listed(
        count(
            label,
            1,
            3,
            why="no cylinder has more of a kind",
            hint="One number for all cylinders, or one for each in the order of their numbers: 2 2 1 1.",
            usual="1",
            shared_as=shared_as,
            refines=_UNEVEN,
        ),
        1,
        12,
        like="1",
    )


def _event(label: str, fact: Entry[Any], hint: str) -> Entry[Quantity | None]:
    return optional(
        angle(
            label,
            -30,
            110,
            why="no four-stroke cam opens or closes further away",
            exact=True,
            hint=f"{hint}; minus for the other side. All four empty: any ordinary cam.",
            card=fact.path,
            shared_as=fact.key,
            refines=_CAMS,
        )
    )


class Plan(Question):
    """For four-stroke engines with solid tappets and one pair of clearances.

    Every valve is set with its tappet on the base circle, and the plan says how far inside. Without cam events it
    allows for any ordinary cam; a racing cam may be off its base circle for longer.
    """

    asks = "Which valves do I set now, and how far do I turn the crank to the next stop?"
    tells = "Valve lash"
    deed = "Set the valve lash, stop by stop"
    procedures = ("build/set-valve-lash",)

    cylinders = shared.cylinders()
    firing_order = shared.firing_order()
    crank_rotation = shared.crank_rotation(
        hint="As the engine runs, seen from the pulley end. From the flywheel end it is the other way.",
        said="{}",
    )
    inlet_clearance = shared.inlet_clearance()
    exhaust_clearance = shared.exhaust_clearance()
    method = choice(
        "Method",
        METHODS,
        hint="Own firing top: any engine. Companion rocks: a pulley without marks. Exhaust and inlet: long cams. Two "
        "positions: inline fours and V8s. Fewest stops: an engine that is hard to turn.",
        usual="own",
        said="{}",
    )
    turning = choice(
        "Turning by hand",
        {"forwards": "Forwards, as it runs", "backwards": "Backwards, against its run"},
        hint="Forwards, unless the maker allows backwards.",
        usual="forwards",
        said="{}",
    )
    end = asked.end(refines=_TURNING)
    crank_limit = shared.error_limit(
        "Error limit of the crank angle",
        "°",
        20,
        why="a mark held less exactly says nothing",
        hint="Plus or minus: how exactly you hold the crank at a stop. A valve nearer than this to the end of its "
        "base circle is not set there.",
        usual="5°",
        refines=_TURNING,
        said="held to ± {}",
    )
    blades = asked.blades(refines="Feeler blades")
    banks = asked.banks(refines=_UNEVEN)
    firing_intervals = shared.firing_intervals(refines=_UNEVEN)
    inlet_valves = _valves("Inlet valves a cylinder", "inlet_valves")
    exhaust_valves = _valves("Exhaust valves a cylinder", "exhaust_valves")
    rotor_rotation = choice(
        "Rotor rotation",
        {**shared.DIRECTIONS, "none": "No distributor"},
        hint="As the engine runs, seen from above the distributor cap.",
        card=CardFacts.layout.rotor_rotation.path,
        usual="none",
        shared_as="rotor_rotation",
        refines=_ROTOR,
        said="rotor {}",
    )
    notch = angle(
        "Notch of number 1",
        0,
        360,
        why="one turn",
        exact=True,
        hint="On the distributor's rim, seen from above, clockwise from the side away from the pulley.",
        usual="0°",
        shared_as="rotor_notch",
        refines=_ROTOR,
        said="notch at {}",
    )
    inlet_opens = _event("Inlet opening", CardFacts.cam_events.inlet_opens_before_top, "Before top dead centre")
    inlet_closes = _event("Inlet closing", CardFacts.cam_events.inlet_closes_after_bottom, "After bottom dead centre")
    exhaust_opens = _event(
        "Exhaust opening", CardFacts.cam_events.exhaust_opens_before_bottom, "Before bottom dead centre"
    )
    exhaust_closes = _event("Exhaust closing", CardFacts.cam_events.exhaust_closes_after_top, "After top dead centre")
    event_lift = optional(
        card_entry(
            CardFacts.cam_events.at_lift,
            "Lift of the cam events",
            exact=True,
            hint="The lift for which they are given.",
            shared_as="event_lift",
            refines=_CAMS,
        )
    )
    ramp = optional(
        angle(
            "Ramp beyond each event",
            0,
            90,
            why="no ramp is longer",
            exact=True,
            hint="From that lift to the base circle, from the cam maker. Empty: 30°, plus 30° for each mm of that "
            "lift.",
            shared_as="cam_ramp",
            refines=_CAMS,
        )
    )

    def answer(self) -> Answer:
        lash = self._round()
        rounds = dials(lash.plan, lash.end, lash.running, lash.hand, lash.rotor, magnitude_in(self.notch, "°"))
        proof = proof_figure(lash.plan)
        from_above = engine_figure(self.banks, lash.plan) if self.banks else None
        stops = walk(lash)
        stages = tuple(
            replace(stage, drawing=dial) for stage, dial in zip(stops.stages, (*rounds, *rounds), strict=True)
        )
        return Answer(
            headline=_headline(lash),
            says=says(lash),
            record=record(lash),
            drawing=from_above or proof,
            values=values(lash),
            warnings=tuple(cautions(lash)),
            steps=Walk(key=stops.key, title=stops.title, stages=stages, on_paper=True),
            tables=(stops_table(lash), proof_table(lash)),
            figures=(proof,) if from_above else (),
            notes=tuple(notes(lash)),
        )

    def _round(self) -> Round:
        intervals, unequal = firing_intervals(self.firing_intervals, self.cylinders)
        counts, miscounted = valve_counts({"inlet": self.inlet_valves, "exhaust": self.exhaust_valves}, self.cylinders)
        told, unclear = cams(
            {
                "inlet_opens": self.inlet_opens,
                "inlet_closes": self.inlet_closes,
                "exhaust_opens": self.exhaust_opens,
                "exhaust_closes": self.exhaust_closes,
            },
            self.event_lift,
            self.ramp,
        )
        misnumbered = numbering_errors(self.cylinders, self.firing_order, self.banks)
        if errors := [*misnumbered, *unequal, *miscounted, *unclear]:
            raise InputErrors(*errors)
        engine = Engine(
            fires=firing_angles(*begun_at(1, self.firing_order, intervals)),
            counts=counts,
            cams=told,
            crank_rotation=self.crank_rotation,
            rotor_rotation=None if self.rotor_rotation == "none" else self.rotor_rotation,
        )
        gaps: dict[Kind, Quantity] = {"inlet": self.inlet_clearance, "exhaust": self.exhaust_clearance}
        method = cast("Method", self.method)
        return round_of(engine, method, self.turning, self.end, self.crank_limit, gaps, self.blades)


def _headline(lash: Round) -> str:
    """Say how many stops there are, how far apart, where the first is, and what is set there."""
    first, *later = lash.stops
    stops = f"{len(lash.stops)} stop{'s' if later else ''}{_apart([stop.turn for stop in later])}"
    if alone := cylinder_alone(first):
        return f"{stops}, first cyl {alone}"
    start = f"{stops} from cyl {lash.plan.begin}{f' + {degrees(first.turn)}' if first.turn else ''}"
    whole = f"{start}: {_set_at(first)}"
    return whole if len(whole) <= LONGEST_HEADLINE else start


def _apart(turns: list[float]) -> str:
    if not turns:
        return ""
    low, high = min(turns), max(turns)
    return f" of {degrees(low)}" if high - low < _ALIKE else f" of {degrees(low)} to {degrees(high)}"


def _set_at(stop: Stop) -> str:
    return " · ".join(
        f"{SHORT_WORDS[kind]} {' '.join(map(str, stop.cylinders(kind)))}" for kind in KINDS if stop.cylinders(kind)
    )
