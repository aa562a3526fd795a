"""The stops of a round as a table, and the proof that each valve rests on its base circle there."""

from __future__ import annotations

from typing import Any

from calculators.bench import GEOMETRY, Column, ResultTable, Source, TableRow, quantity
from calculators.bench.words import word
from calculators.formulas.base_circle import CYCLE, KINDS, Kind
from calculators.formulas.firing import companion
from calculators.formulas.lash_stops import Stop
from calculators.lash.round import Round, looked_for
from calculators.lash.stop_words import mark_words, places, rotor_words

FOUR_STROKE = Source("four-stroke cycle: two turns of the crank to one of the camshaft", "identity")
_LONGEST_STRONG = 14  # letters that a phone shows in one line beside others
PROOF = (
    "back: crank angle − (firing top dead centre + valve closing + ramp); on: (firing top dead centre + valve opening "
    "− ramp) − crank angle; both modulo 720°; a position found by a valve's lift may be off by half its ramp"
)


def proof_source(lash: Round) -> Source:
    """Return what the proof rests on: geometry, of a cam that is told or one that is assumed."""
    return (
        GEOMETRY if not lash.cams.assumed else Source("plane geometry, with a cam that is assumed", "common practice")
    )


def stops_table(lash: Round) -> ResultTable:
    """Return the stops in the order of the hand, and the way back to the first."""
    last_turn = CYCLE - lash.stops[-1].turned
    columns = [
        Column(key="stop", label="Stop"),
        Column(
            key="turn",
            label=f"Turn {word(lash.hand)}",
            unit="°",
            places=places(last_turn, *(stop.turn for stop in lash.stops)),
        ),
        *_valve_columns(lash),
        Column(key="mark", label="Mark up", wide=True),
        Column(key="overlap", label="On overlap") if lash.method == "own" else _look_column(),
        *([Column(key="rotor", label="Rotor points", wide=True)] if lash.rotor else []),
        Column(key="inside", label="Inside by at least", unit="°"),
        Column(key="crank", label="Crank angle", unit="°", places=places(*(stop.crank for stop in lash.stops))),
    ]
    rows = [
        TableRow(
            cells=(
                number,
                quantity(stop.turn, "°") if stop.turn else "start",
                *_valve_cells(lash, stop),
                mark_words(stop),
                companion(stop.settings[0].valve.cylinder, lash.fires)
                if lash.method == "own"
                else looked_for(lash, stop),
                *([rotor_words(stop.crank, lash.backwards, lash.rotor)] if lash.rotor else []),
                quantity(min(one.least for one in stop.settings), "°"),
                quantity(stop.crank, "°"),
            )
        )
        for number, stop in enumerate(lash.stops, 1)
    ]
    back = Stop(lash.fires[lash.plan.begin], last_turn, CYCLE, ((lash.plan.begin, "fires"),), ())
    number = lash.plan.begin
    foot = (
        f"back at number {number}, to check",
        quantity(last_turn, "°"),
        *([None] * len(_valve_columns(lash))),
        mark_words(back),
        companion(number, lash.fires) if lash.method == "own" else looked_for(lash, back),
        *([rotor_words(back.crank, lash.backwards, lash.rotor)] if lash.rotor else []),
        None,
        quantity(back.crank, "°"),
    )
    return ResultTable(
        key="stops",
        title="Stops",
        columns=tuple(columns),
        rows=(*rows, TableRow(cells=foot)),
        formula="each turn is the crank angle from the stop before, in the direction you turn; mark = crank angle less "
        "whole turns, counted from number 1's mark in the order in which the marks pass as the engine runs; rotor = "
        "crank turned ÷ 2",
        source=FOUR_STROKE,
        given=tuple((f"number {cylinder} fires at", quantity(angle, "°")) for cylinder, angle in lash.fires.items()),
    )


def _look_column() -> Column:
    return Column(key="look", label="Look for", wide=True)


def _valve_columns(lash: Round) -> tuple[Column, ...]:
    inlet, exhaust = Column(key="inlet", label="Inlet gap"), Column(key="exhaust", label="Exhaust gap")
    if lash.by_cylinder:
        return (Column(key="cylinder", label="Set the valves of cylinder", strong=True), inlet, exhaust)
    longest = max(len(_numbers(stop, kind)) for stop in lash.stops for kind in KINDS)
    strong = longest <= _LONGEST_STRONG
    return tuple(
        Column(key=f"set_{kind}", label=f"Set the {word(kind)} valves of", strong=strong, wide=not strong)
        for kind in KINDS
    )


def _valve_cells(lash: Round, stop: Stop) -> tuple[Any, ...]:
    if lash.by_cylinder:
        return (stop.settings[0].valve.cylinder, *map(lash.told, KINDS))
    return tuple(_numbers(stop, kind) or None for kind in KINDS)


def _numbers(stop: Stop, kind: Kind) -> str:
    return " ".join(map(str, stop.cylinders(kind)))


def proof_table(lash: Round) -> ResultTable:
    """Return, for each valve set at each stop, how far it lies inside its base circle on both sides."""
    angles = [angle for stop in lash.stops for one in stop.settings for angle in (stop.crank, one.behind, one.ahead)]
    decimals = places(*angles)
    return ResultTable(
        key="proof",
        title="Proof: how far inside its base circle each valve is set",
        columns=(
            Column(key="stop", label="Stop"),
            Column(key="valve", label="Valve", strong=True),
            Column(key="crank", label="Crank angle", unit="°", places=decimals),
            Column(key="behind", label="Back to the closing ramp", unit="°", places=decimals),
            Column(key="ahead", label="On to the opening ramp", unit="°", places=decimals),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    number,
                    one.valve.words,
                    quantity(stop.crank, "°"),
                    quantity(one.behind, "°"),
                    quantity(one.ahead, "°"),
                )
            )
            for number, stop in enumerate(lash.stops, 1)
            for one in stop.settings
        ),
        formula=PROOF,
        source=proof_source(lash),
        folded=True,
        given=lash.cams.given,
    )
