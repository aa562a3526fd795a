"""The stops of a hand that turns the crank, in words and pictures; and the engine from above."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from calculators._drawing import Drawing, around
from calculators._report import Figure
from calculators._units import figures
from calculators.formulas.firing import Stop, pulley_angle, rotor_angle

_DIAL = (170.0, 200.0)  # two stand side by side on a phone
_HALF_TURN, _SAME_ANGLE = 180.0, 0.05
_POINTER_CLEARANCE, _HEAD = 15.0, 8.0
_LONGEST_SWEEP = 335.0
_MOST_WORDED_BANKS = 4


@lru_cache(maxsize=16)
def dials(plan: tuple[Stop, ...], running: str, hand: str, rotor: str | None) -> tuple[Figure, ...]:
    """Draw each stop: the pulley from its own end, the turn that leads there, and the rotor beside it.

    Parameters
    ----------
    plan : tuple of Stop, [°]
    running, hand : str
        ``clockwise`` or ``anticlockwise``: how the engine runs and how the hand turns it.
    rotor : str, optional
        How the rotor moves under this hand; None without a distributor.
    """
    marks = _marks(plan)
    drawn = []
    for number, stop in enumerate(plan, 1):
        turn = f"{degrees(stop.turn)} {hand}" if number > 1 else "start here"
        said = f"Stop {number}, cylinder {stop.cylinder}: {turn}; {mark_words(stop)} is up"
        said += f"; the rotor points {rotor_words(stop.turned, rotor)}." if rotor else "."
        drawing = Drawing(*_DIAL)
        drawing.circle(18, 18, 14, "stud first" if number == 1 else "stud")
        drawing.text(18, 18, str(number), "number", size=16)
        drawing.text(38, 18, f"cylinder {stop.cylinder}", "number", anchor="start", size=16)
        x, y, radius = (60.0, 110.0, 42.0) if rotor else (85.0, 110.0, 46.0)
        _pulley(drawing, x, y, radius, [_sign(running) * (stop.crank - mark) for mark in marks])
        if number > 1:
            _sweep(drawing, x, y, radius + 9, stop.turn, _sign(hand))
        if rotor:
            _rotor(drawing, 140, 108, 20, _sign(rotor) * rotor_angle(stop.turned))
        drawing.text(_DIAL[0] / 2, 186, turn)
        drawn.append(
            Figure(
                key=f"stop_{number}",
                title=f"Stop {number}: cylinder {stop.cylinder}",
                svg=drawing.svg(f"The pulley seen from its own end. {said}"),
                size="half",
            )
        )
    return tuple(drawn)


@lru_cache(maxsize=16)
def engine_figure(banks: tuple[tuple[int, ...], ...], plan: tuple[Stop, ...]) -> Figure:
    """Draw the engine from above, its pulley towards the reader, each cylinder with its number and its stop."""
    stop_of = {stop.cylinder: number for number, stop in enumerate(plan, 1)}
    said = "; ".join(
        f"bank {number}, from the pulley end: " + ", ".join(f"{one} at stop {stop_of[one]}" for one in bank)
        for number, bank in enumerate(banks, 1)
    )
    return Figure(
        key="engine",
        title="The engine from above: each cylinder and the stop at which it is set",
        svg=_engine(banks, stop_of).svg(f"The engine from above, its pulley towards you: {said}."),
    )


def mark_words(stop: Stop) -> str:
    """Name the mark of the pulley that is up at a stop."""
    angle = pulley_angle(stop.crank)
    if angle == 0:
        return "number 1's mark"
    return "the mark half a turn round" if abs(angle - _HALF_TURN) < _SAME_ANGLE else f"the mark at {degrees(angle)}"


def rotor_words(turned: float, sense: str) -> str:
    """Say where the rotor points when the crank has been turned so far from number one's firing."""
    return f"{degrees(rotor_angle(turned))} {sense} of number 1's notch" if turned else "at number 1's notch"


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


def _marks(plan: Sequence[Stop]) -> tuple[float, ...]:
    """Return where the marks of the pulley stand, number one's first, each once."""
    return tuple(dict.fromkeys(round(pulley_angle(stop.crank), 6) for stop in plan))


def _sign(sense: str) -> int:
    return 1 if sense == "clockwise" else -1


def _pulley(drawing: Drawing, x: float, y: float, radius: float, marks: Sequence[float]) -> None:
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


def _rotor(drawing: Drawing, x: float, y: float, radius: float, angle: float) -> None:
    drawing.circle(x, y, radius, "part")
    drawing.line(x, y - radius - 6, x, y - radius, "edge")
    drawing.text(x, y - radius - 15, "1", "number", size=14)
    drawing.arrow(*around(x, y, 9, angle + 180), *around(x, y, radius - 2, angle), "arrow", 10)
    drawing.text(x, y + radius + 15, "rotor")


def _engine(banks: Sequence[Sequence[int]], stop_of: dict[int, int]) -> Drawing:
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
            drawing.circle(x, y, min(16, half), "stud first" if stop_of[cylinder] == 1 else "stud")
            drawing.text(x, y, str(cylinder), "number", size=16 if worded else 14)
            if worded:
                drawing.text(x + 22, y, f"stop {stop_of[cylinder]}", anchor="start")
    drawing.rectangle(130, foot + 8, 80, 12, "part", round=3)
    drawing.text(170, foot + 32, "pulley end, towards you")
    return drawing
