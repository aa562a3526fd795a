"""An adjusting screw as a dial: what its turn is worth, and how far each one has to go."""

from __future__ import annotations

from functools import lru_cache

from calculators.bench import Drawing, Figure, around
from calculators.bench.units import plain
from calculators.bench.words import word
from calculators.formulas.adjuster_screw import Place

_CLOCK = 12
_FULL, _MINUTE = 360.0, 6.0
_APART = 32.0  # degrees between two labels of the scale, so that they stay clear of each other
_LABELS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0)
_MOST_DRAWN = 335.0
_PLACE_WORDS = {
    "valve": "the screw at the rocker's valve end",
    "pushrod": "the screw at the rocker's pushrod end",
    "pivot": "the nut on the rocker's pivot",
}


def turn_words(turn: float) -> str:
    """Return a turn without its sense: whole turns apart from the rest.

    Examples
    --------
    >>> turn_words(36.2), turn_words(-396.0), turn_words(720.0)
    ('36°', '1 turn + 36°', '2 turns')
    """
    turns, rest = divmod(round(abs(turn)), 360)
    words = [f"{turns} turn{'s' if turns > 1 else ''}"] if turns else []
    if rest or not turns:
        words.append(f"{rest}°")
    return " + ".join(words)


def sense(turn: float) -> str:
    """Return which way a turn goes, looking at the screw's slot."""
    return "clockwise" if turn >= 0 else "anticlockwise"


def clock_words(turn: float) -> str:
    """Return a turn as minutes of a clock's long hand, to the half minute.

    Examples
    --------
    >>> clock_words(36.0), clock_words(-9.1), clock_words(6.0)
    ('6 minutes', '1.5 minutes', '1 minute')
    """
    minutes = round(2 * abs(turn) / _MINUTE) / 2
    return f"{plain(minutes)} minute{'' if minutes == 1 else 's'}"


@lru_cache(maxsize=64)
def scale_figure(degrees_per_mm: float, screw_at: Place) -> Figure:
    """Draw the screw's slot inside a scale of the gap: half a turn to close it, half a turn to open it.

    Parameters
    ----------
    degrees_per_mm : float, [°/mm]
    screw_at : {"valve", "pushrod", "pivot"}
        Where the screw sits.
    """
    drawing = Drawing(340, 280)
    x, y, radius = 170.0, 122.0, 78.0
    step = next((label for label in _LABELS if label * degrees_per_mm >= _APART), 1.0)
    fine = step / (2 if step in (0.02, 0.2) else 5)
    drawing.circle(x, y, radius, "part")
    drawing.circle(x, y, 26, "stud")
    drawing.line(x, y - 24, x, y + 24, "arrow")
    count = int(170.0 / (fine * degrees_per_mm) + 1e-9)
    each = 2 if step in (0.02, 0.2) else 5
    for number in range(-count, count + 1):
        angle = number * fine * degrees_per_mm
        labelled = number % each == 0
        drawing.line(*around(x, y, radius - (13 if labelled else 7), angle), *around(x, y, radius, angle), "edge")
        if labelled and number:
            place = around(x, y, radius + 9, angle)
            upright = abs(angle) > 165
            anchor = "middle" if upright else "start" if number > 0 else "end"
            drawing.text(place[0], place[1] + (5 if upright else 0), plain(abs(number) * fine), anchor=anchor)
    drawing.text(x, y - radius - 12, "0", "number")
    for way in (1, -1):
        drawing.arc(x, y, 44, way * 14, way * 92, "arrow")
        drawing.arrowhead(*around(x, y, 44, way * 114), 114 if way > 0 else 66, "arrow", 10)
    drawing.text(x + 88, 216, "closes", "number")
    drawing.text(x - 88, 216, "opens", "number")
    drawing.text(170, 244, "gap in mm, looking at the slot")
    drawing.text(170, 262, _PLACE_WORDS[screw_at])
    said = (
        f"This is {_PLACE_WORDS[screw_at]}, seen at its slot. Clockwise closes the gap, anticlockwise opens it. "
        f"{plain(step)} mm of gap is {step * degrees_per_mm:.0f} degrees; half a turn is {180 / degrees_per_mm:.2f} mm."
    )
    return Figure(key="scale", title=f"What a turn of {_PLACE_WORDS[screw_at]} is worth", svg=drawing.svg(said))


@lru_cache(maxsize=256)
def turn_figure(key: str, valve: str, turn: float) -> Figure:
    """Draw how far one screw turns, on a clock's face, from where its slot points now.

    Parameters
    ----------
    key, valve : str
        ``"turn_1_inlet"`` and ``"1 inlet"``.
    turn : float, [°]
        Positive clockwise.
    """
    drawing = Drawing(170, 190)
    x, y, radius = 85.0, 96.0, 46.0
    drawing.text(x, 16, valve, "number", size=16)
    drawing.circle(x, y, radius, "part")
    for hour in range(_CLOCK):
        angle = hour * _FULL / _CLOCK
        drawing.line(*around(x, y, radius - (10 if hour % 3 == 0 else 6), angle), *around(x, y, radius, angle), "thin")
    shown = turn % _FULL if turn >= 0 else -(-turn % _FULL)
    drawing.line(x, y, x, y - radius + 2, "route")
    drawing.arrow(x, y, *around(x, y, radius - 3, shown), "arrow", 11)
    way = 1 if turn >= 0 else -1
    sweep = min(abs(turn), _MOST_DRAWN)
    if sweep >= 20:
        drawing.arc(x, y, radius + 9, 0, way * (sweep - 9), "arrow")
        drawing.arrowhead(*around(x, y, radius + 9, way * sweep), way * sweep + (4 if way > 0 else 176), "arrow", 10)
    drawing.text(x, 162, turn_words(turn), "number", size=15)
    drawing.text(x, 180, word(sense(turn)))
    said = (
        f"Valve {valve}: turn the screw {turn_words(turn)} {word(sense(turn))}, {clock_words(turn)} on a clock's face."
    )
    return Figure(key=key, title=f"{valve}: {turn_words(turn)} {word(sense(turn))}", svg=drawing.svg(said), size="half")
