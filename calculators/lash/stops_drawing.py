"""Each stop as a dial, and the engine from above with the stop of each cylinder."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from calculators.bench import Drawing, Figure, around
from calculators.bench.engine_from_above import from_above
from calculators.bench.words import word
from calculators.formulas.base_circle import KINDS, Kind
from calculators.formulas.firing import pulley_angle, rotor_angle
from calculators.formulas.lash_stops import Plan, Stop
from calculators.lash.stop_words import (
    SHORT_WORDS,
    cylinder_alone,
    degrees,
    hand_turn,
    mark_words,
    rotor_words,
    set_words,
)

_DIAL = (170.0, 200.0)  # two stand side by side on a phone
_POINTER_CLEARANCE, _HEAD = 15.0, 8.0
_LONGEST_SWEEP = 335.0
_LONGEST_LINE = 22  # letters under a dial


@lru_cache(maxsize=16)
def dials(plan: Plan, end: str, running: str, hand: str, rotor: str | None, notch: float) -> tuple[Figure, ...]:
    """Draw each stop: the pulley or flywheel as the reader sees it, the turn that leads there, and the rotor.

    Parameters
    ----------
    plan : Plan
    end : str
        ``pulley`` or ``flywheel``: where the reader stands.
    running, hand : str
        ``clockwise`` or ``anticlockwise`` as seen from there: how the engine runs and how the hand turns it.
    rotor : str, optional
        How the rotor moves under this hand; None without a distributor.
    notch : float, [°]
        Where number 1's notch sits, clockwise from the top of the picture.
    """
    marks = tuple(dict.fromkeys((0.0, *(round(pulley_angle(stop.crank), 6) for stop in plan.stops))))
    backwards = running != hand
    drawn = []
    for number, stop in enumerate(plan.stops, 1):
        turn = f"{degrees(stop.turn)} {word(hand)}" if stop.turn else "start here"
        mine = cylinder_alone(stop)
        said = f"Stop {number}, {f'cylinder {mine}' if mine else set_words(stop)}: {turn}; {mark_words(stop)} is up"
        said += f"; the rotor points {rotor_words(stop.crank, backwards, rotor)}." if rotor else "."
        lines = [] if mine else [_line(stop, kind) for kind in KINDS if stop.cylinders(kind)]
        drawing = Drawing(_DIAL[0], _DIAL[1] + 18 * len(lines))
        drawing.circle(18, 18, 14, "stud first" if number == 1 else "stud")
        drawing.text(18, 18, str(number), "number", size=16)
        drawing.text(38, 18, f"cylinder {mine}" if mine else "stop", "number", anchor="start", size=16)
        x, y, radius = (54.0, 110.0, 40.0) if rotor else (85.0, 110.0, 46.0)
        _rim(drawing, x, y, radius, [_sign(running) * (stop.crank - mark) for mark in marks])
        if stop.turn:
            _sweep(drawing, x, y, radius + 9, stop.turn, _sign(hand))
        if rotor:
            moved = _sign(rotor) * rotor_angle(hand_turn(stop.crank, backwards))
            _rotor(drawing, 136, 108, 18, notch, moved)
        drawing.text(_DIAL[0] / 2, 186, turn)
        for index, line in enumerate(lines, 1):
            drawing.text(_DIAL[0] / 2, 186 + 18 * index, line, "number")
        drawn.append(
            Figure(
                key=f"stop_{number}",
                title=f"Stop {number}: {f'cylinder {mine}' if mine else set_words(stop)}",
                svg=drawing.svg(f"The {word(end)} seen from its own end. {said}"),
                size="half",
            )
        )
    return tuple(drawn)


@lru_cache(maxsize=16)
def engine_figure(banks: tuple[tuple[int, ...], ...], plan: Plan) -> Figure:
    """Draw the engine from above, its pulley towards the reader, each cylinder with its number and its stops."""
    stops_of: dict[int, dict[Kind, int]] = {cylinder: {} for bank in banks for cylinder in bank}
    for number, stop in enumerate(plan.stops, 1):
        for one in stop.settings:
            stops_of[one.valve.cylinder][one.valve.kind] = number
    said = "; ".join(
        f"bank {number}, from the pulley end: " + ", ".join(_stop_words(one, stops_of[one]) for one in bank)
        for number, bank in enumerate(banks, 1)
    )
    return Figure(
        key="engine",
        title="The engine from above: each cylinder and the stop at which it is set",
        svg=_engine(banks, stops_of).svg(f"The engine from above, its pulley towards you: {said}."),
    )


def _line(stop: Stop, kind: Kind) -> str:
    numbers = stop.cylinders(kind)
    line = f"{SHORT_WORDS[kind]} {' '.join(map(str, numbers))}"
    return line if len(line) <= _LONGEST_LINE else f"{SHORT_WORDS[kind]} of {len(numbers)} cylinders"


def _stop_words(cylinder: int, stops: dict[Kind, int]) -> str:
    if len(set(stops.values())) == 1:
        return f"{cylinder} at stop {stops['inlet']}"
    return f"{cylinder} inlet at stop {stops['inlet']}, exhaust at stop {stops['exhaust']}"


def _sign(sense: str) -> int:
    return 1 if sense == "clockwise" else -1


def _rim(drawing: Drawing, x: float, y: float, radius: float, marks: Sequence[float]) -> None:
    """Draw the rim with its marks, the first of them number one's, under the fixed mark of the case."""
    drawing.circle(x, y, radius, "part")
    drawing.circle(x, y, 5, "thin")
    for index, angle in enumerate(marks):
        inner = around(x, y, radius - (12 if index == 0 else 8), angle)
        drawing.line(*inner, *around(x, y, radius, angle), "edge")
    drawing.text(*around(x, y, radius - 21, marks[0]), "1", "number", size=14)
    drawing.path([(x, y - radius - 1), (x - 6, y - radius - 14), (x + 6, y - radius - 14)], "pointer", closed=True)


def _sweep(drawing: Drawing, x: float, y: float, radius: float, turn: float, sign: int) -> None:
    """Draw the way that the mark now up has come, short of the case mark so that both stay clear."""
    sweep = min(turn, _LONGEST_SWEEP)
    end = -sign * _POINTER_CLEARANCE
    drawing.arc(x, y, radius, -sign * sweep, sign * max(sweep - _POINTER_CLEARANCE - _HEAD, 1), "arrow")
    drawing.arrowhead(*around(x, y, radius, end), end - 4 if sign > 0 else end + 184, "arrow", _HEAD + 2)


def _rotor(drawing: Drawing, x: float, y: float, radius: float, notch: float, moved: float) -> None:
    drawing.circle(x, y, radius, "part")
    drawing.line(*around(x, y, radius, notch), *around(x, y, radius + 6, notch), "edge")
    drawing.text(*around(x, y, radius + 13, notch), "1", "number", size=14)
    drawing.arrow(*around(x, y, 9, notch + moved + 180), *around(x, y, radius - 2, notch + moved), "arrow", 10)
    drawing.text(x, y + radius + 32, "rotor")


def _engine(banks: Sequence[Sequence[int]], stops_of: dict[int, dict[Kind, int]]) -> Drawing:
    lines = {}
    for cylinder, stops in stops_of.items():
        alone = len(set(stops.values())) == 1
        lines[cylinder] = (
            (f"stop {stops['inlet']}",) if alone else tuple(f"{SHORT_WORDS[kind]} {stops[kind]}" for kind in KINDS)
        )
    return from_above(banks, lines, {cylinder for cylinder, stops in stops_of.items() if set(stops.values()) == {1}})
