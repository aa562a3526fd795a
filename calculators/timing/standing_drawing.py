"""The rim as it stands when the spark is set without running: the static mark at its pointer."""

from __future__ import annotations

from calculators.bench import Drawing, Figure, around
from calculators.bench.words import word

_X, _Y, _RADIUS = 170.0, 130.0, 70.0
_CLEAR = 12.0
"""Degrees apart that two marks are drawn at the least, to be told apart."""


def standing_drawing(ahead: float, said: str, rotation: str, on_rim: bool) -> Figure:
    """Draw the rim, seen as the marks are read, with the crank where the spark is to come.

    Parameters
    ----------
    ahead : float, [°]
        Of the static mark before the top; minus for after.
    said : str
        The same in words.
    rotation : str
        Of the crank.
    on_rim : bool
        Whether the marks are on the rim, and the pointer on the case.
    """
    turn = 1 if rotation == "clockwise" else -1
    apart = max(abs(ahead), _CLEAR) * (1 if ahead >= 0 else -1) if ahead else 0.0
    drawing = Drawing(340, 248)
    drawing.circle(_X, _Y, _RADIUS, "part")
    drawing.circle(_X, _Y, 8, "stud")
    # on the rim the top mark still comes; on the case it stands further on, where the notch has yet to go
    top = -turn * apart if on_rim else turn * apart
    inner, outer = (_RADIUS - 16, _RADIUS) if on_rim else (_RADIUS, _RADIUS + 16)
    if ahead:
        drawing.line(*around(_X, _Y, inner, top), *around(_X, _Y, outer, top), "edge")
        label = around(_X, _Y, _RADIUS - 30 if on_rim else _RADIUS + 28, top)
        drawing.text(*label, "top")
    drawing.line(*around(_X, _Y, inner, 0), *around(_X, _Y, outer, 0), "arrow")
    if on_rim:
        drawing.path(
            [(_X, _Y - _RADIUS - 2), (_X - 7, _Y - _RADIUS - 16), (_X + 7, _Y - _RADIUS - 16)], "pointer", True
        )
    else:
        drawing.path([(_X, _Y - _RADIUS + 14), (_X - 6, _Y - _RADIUS), (_X + 6, _Y - _RADIUS)], "pointer", True)
    drawing.text(_X, 12, said, "number")
    drawing.arc(_X, _Y, 34, 180 - 60 * turn, 120 * turn, "arrow")
    tip = 180 + 60 * turn
    drawing.arrowhead(*around(_X, _Y, 34, tip), tip + (0 if turn > 0 else 180), "arrow")
    drawing.text(_X, 226, f"turn {word(rotation)}", "number")
    meets = "pointer" if on_rim else "notch"
    return Figure(
        key="standing",
        title=f"Seen as the marks are read: the mark of {said} at the {meets}, cylinder 1 about to fire. Not to scale",
        svg=drawing.svg(f"The mark of {said} stands at the {meets}; the crank came to it {word(rotation)}."),
    )
