"""The stops of a hand that turns the crank, the base circles and the engine from above, in words and pictures."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from contextlib import nullcontext
from functools import lru_cache

from calculators._drawing import Drawing, around
from calculators._report import Figure
from calculators._units import figures
from calculators._words import listed, word
from calculators.formulas.base_circle import CYCLE, KINDS, Kind, Window
from calculators.formulas.firing import pulley_angle, rotor_angle
from calculators.formulas.lash_stops import Plan, Stop

SHORT_WORDS: dict[str, str] = {"inlet": "IN", "exhaust": "EX"}

_DIAL = (170.0, 200.0)  # two stand side by side on a phone
_HALF_TURN, _SAME_ANGLE = 180.0, 0.05
_POINTER_CLEARANCE, _HEAD = 15.0, 8.0
_LONGEST_SWEEP = 335.0
_MOST_WORDED_BANKS = 4
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


@lru_cache(maxsize=16)
def proof_figure(plan: Plan) -> Figure:
    """Draw, over the two turns of a cycle, where each cam rests on its base circle and where its valve is set."""
    rows = [
        (one.valve.cylinder, one.valve.kind, one.valve.window, stop.crank, one.least)
        for stop in plan.stops
        for one in stop.settings
        if one.valve.number <= 1
    ]
    rows.sort(key=lambda row: (row[0], KINDS.index(row[1])))
    left, right, top, pitch = 50.0, 328.0, 58.0, 18.0
    foot = top + pitch * len(rows)
    scale = (right - left) / CYCLE
    drawing = Drawing(340, foot + 46)
    for tick in range(0, 721, 180):
        x = left + tick * scale
        drawing.line(x, top, x, foot + 6, "thin")
        drawing.text(min(x, right - 4), foot + 16, f"{tick}°")
    drawing.text((left + right) / 2, foot + 34, "crank angle; bar: cam on base circle")
    _stop_numbers(drawing, plan, left, scale, top, foot)
    for index, (cylinder, kind, window, crank, _) in enumerate(rows):
        y = top + pitch * (index + 0.5)
        drawing.text(4, y, f"{cylinder} {SHORT_WORDS[kind]}", anchor="start")
        for start, length in _on_paper(window):
            drawing.rectangle(left + start * scale, y - 5, length * scale, 10, "spacer", round=2)
        drawing.circle(left + crank * scale, y, 4.5, "chosen")
    said = "; ".join(f"{cylinder} {word(kind)} at {degrees(crank)}" for cylinder, kind, _, crank, _ in rows)
    return Figure(
        key="base_circles",
        title="The proof: each bar is where a cam rests on its base circle, each dot where that valve is set",
        svg=drawing.svg(
            f"Crank angles from 0 to 720° for each valve, with a bar where its cam is on the base circle. Set inside "
            f"the bar: {said}. The least distance to the end of a bar is {degrees(plan.shallowest.least)}."
        ),
    )


def _on_paper(window: Window) -> list[tuple[float, float]]:
    """Return a window as it lies on paper from nought to one cycle: in two pieces where it runs over the end."""
    over = window.start + window.length - CYCLE
    return [(window.start, window.length - over), (0.0, over)] if over > 0 else [(window.start, window.length)]


def _stop_numbers(drawing: Drawing, plan: Plan, left: float, scale: float, top: float, foot: float) -> None:
    """Draw a line for each stop; its number on the lowest of three levels where it is clear of its neighbours."""
    free = [-100.0] * 3
    for crank, number in sorted((stop.crank, number) for number, stop in enumerate(plan.stops, 1)):
        x = left + crank * scale
        level = next((one for one, taken in enumerate(free) if x - taken >= 18), None)
        if level is None:
            continue
        drawing.line(x, top - 4 - 16 * level, x, foot, "route")
        drawing.text(x, top - 11 - 16 * level, str(number), "number")
        free[level] = x
    drawing.text(4, top - 11, "stop", anchor="start")


def cylinder_alone(stop: Stop) -> int | None:
    """Return the cylinder all of whose valves, and no others, are set at a stop, if there is one."""
    inlet, exhaust = stop.cylinders("inlet"), stop.cylinders("exhaust")
    return inlet[0] if inlet == exhaust and len(inlet) == 1 else None


def set_words(stop: Stop) -> str:
    """Say which valves are set at a stop: "inlet of 1 and 2, exhaust of 1 and 3"."""
    return ", ".join(f"{word(kind)} of {listed(stop.cylinders(kind))}" for kind in KINDS if stop.cylinders(kind))


def _line(stop: Stop, kind: Kind) -> str:
    numbers = stop.cylinders(kind)
    line = f"{SHORT_WORDS[kind]} {' '.join(map(str, numbers))}"
    return line if len(line) <= _LONGEST_LINE else f"{SHORT_WORDS[kind]} of {len(numbers)} cylinders"


def _stop_words(cylinder: int, stops: dict[Kind, int]) -> str:
    if len(set(stops.values())) == 1:
        return f"{cylinder} at stop {stops['inlet']}"
    return f"{cylinder} inlet at stop {stops['inlet']}, exhaust at stop {stops['exhaust']}"


def mark_words(stop: Stop) -> str:
    """Name the mark of the pulley that is up at a stop."""
    angle = pulley_angle(stop.crank)
    if angle == 0:
        return "number 1's mark"
    return "the mark half a turn round" if abs(angle - _HALF_TURN) < _SAME_ANGLE else f"the mark at {degrees(angle)}"


def hand_turn(crank: float, backwards: bool) -> float:
    """Return how far the hand turns from number 1's firing top dead centre to a crank angle."""
    return (-crank if backwards else crank) % CYCLE


def rotor_words(crank: float, backwards: bool, sense: str) -> str:
    """Say where the rotor points at a crank angle, told in the sense in which this hand moves it."""
    turned = hand_turn(crank, backwards)
    return f"{degrees(rotor_angle(turned))} {word(sense)} of number 1's notch" if turned else "at number 1's notch"


def degrees(angle: float) -> str:
    """Print an angle, whole where it is whole.

    Examples
    --------
    >>> degrees(180.0), degrees(720 / 7)
    ('180°', '102.9°')
    """
    return f"{figures(angle, places(angle))}°"


def places(*angles: float) -> int:
    """Return the decimals that angles need: none where all are whole, else one."""
    return 0 if all(abs(angle - round(angle)) < _SAME_ANGLE for angle in angles) else 1


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


def from_above(
    banks: Sequence[Sequence[int]],
    lines: Mapping[int, Sequence[str]],
    first: Collection[int] = (),
    movable: bool = False,
) -> Drawing:
    """Draw an engine from above, its pulley towards the reader.

    Parameters
    ----------
    banks : sequence of sequence of int
        The cylinders of each bank, from the pulley end.
    lines : mapping of int to sequence of str
        What is written beside each cylinder where there is room: one line, two or none.
    first : collection of int
        The cylinders that are drawn strong.
    movable : bool
        Each cylinder can be taken up by the page.
    """
    rows = max(map(len, banks))
    top, pitch = 34.0, 42.0
    foot = top + rows * pitch + 8
    drawing = Drawing(340, foot + 46)
    width = 340 / len(banks)
    worded = len(banks) <= _MOST_WORDED_BANKS
    drawing.line(170, top, 170, foot + 12, "thin")
    for column, bank in enumerate(banks):
        middle = (column + 0.5) * width
        half = min(width / 2 - 2, 54)
        drawing.rectangle(middle - half, top, 2 * half, rows * pitch, "part", round=8)
        if worded and len(banks) > 1:
            drawing.text(middle, top - 16, f"bank {column + 1}")
        for row, cylinder in enumerate(bank):
            x, y = middle - (26 if worded else 0), top + (rows - row - 0.5) * pitch
            with drawing.mark(cylinder=cylinder) if movable else nullcontext():
                if movable:
                    drawing.circle(x, y, min(pitch / 2, half), "reach")
                drawing.circle(x, y, min(16, half), "stud first" if cylinder in first else "stud")
                drawing.text(x, y, str(cylinder), "number", size=16 if worded else 14)
            beside = lines.get(cylinder, ()) if worded else ()
            for offset, line in zip((-9, 9) if len(beside) > 1 else (0,), beside, strict=False):
                drawing.text(x + 22, y + offset, line, anchor="start")
    drawing.rectangle(130, foot + 8, 80, 12, "part", round=3)
    drawing.text(170, foot + 32, "pulley end, towards you")
    return drawing
