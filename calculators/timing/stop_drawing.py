"""A rim on which a stop was met both ways: the old mark, and where the true one belongs."""

from __future__ import annotations

from calculators.bench import Drawing, Figure, around
from calculators.bench.units import figures
from calculators.bench.words import word
from calculators.timing.rim import HOLDER_WORDS, Rim

_X, _Y, _RADIUS = 170.0, 98.0, 62.0
_STRIP = 196.0
_LEAST = 4.0
"""Degrees that the unrolled piece shows to either side at the least."""


def stop_drawing(rim: Rim, early: float, half: float, along: str) -> Figure:
    """Draw the crank's rim with the part that the stop bars, and below it the old mark beside the true one.

    Parameters
    ----------
    rim : Rim
    early : float, [°]
        By which the old mark comes before the true top.
    half : float, [°]
        From the true top to where the stop was met.
    along : str
        The distance between the two marks, as it is read.
    """
    sign = 1 if rim.clockwise else -1
    true = -sign * early
    drawing = Drawing(340, _STRIP + 74)
    _rim(drawing, true, half, rim)
    scale = 130 / max(_LEAST, 1.4 * abs(early))
    drawing.rectangle(6, _STRIP + 26, 328, 22, "part")
    old_x, true_x = 170.0 - true * scale / 2, 170.0 + true * scale / 2
    drawing.line(old_x, _STRIP + 26, old_x, _STRIP + 48, "edge")
    drawing.line(true_x, _STRIP + 26, true_x, _STRIP + 48, "arrow")
    apart = abs(true_x - old_x)
    if apart < 44:
        side = 1 if true_x >= old_x else -1
        drawing.text(old_x - side * 6, _STRIP + 16, "old", anchor="end" if side > 0 else "start")
        drawing.text(true_x + side * 6, _STRIP + 16, "true", "number", anchor="start" if side > 0 else "end")
    else:
        drawing.text(old_x, _STRIP + 16, "old")
        drawing.text(true_x, _STRIP + 16, "true", "number")
        drawing.arrow(old_x, _STRIP + 37, true_x, _STRIP + 37)
    drawing.text(170, _STRIP + 62, f"true mark {along}", "number")
    holder = HOLDER_WORDS[rim.on_rim]
    return Figure(
        key="stop",
        title=f"Between the dashed lines the stop blocks the crank. Below: the {holder} at the old mark, "
        "unrolled, seen as the marks are read",
        svg=drawing.svg(
            f"The piston met the stop {figures(half, 1)}° either side of the true top. The old mark is "
            f"{figures(abs(early), 1)}° {'early' if early >= 0 else 'late'}; the true mark on the {holder}: {along}. "
            f"The crank turns {word(rim.rotation)}."
        ),
    )


def _rim(drawing: Drawing, true: float, half: float, rim: Rim) -> None:
    drawing.circle(_X, _Y, _RADIUS, "part")
    drawing.circle(_X, _Y, 8, "stud")
    inner, outer = (_RADIUS - 14, _RADIUS) if rim.on_rim else (_RADIUS, _RADIUS + 14)
    for angle, look in ((0.0, "edge"), (true, "arrow")):
        drawing.line(*around(_X, _Y, inner, angle), *around(_X, _Y, outer, angle), look)
    for end in (true - half, true + half):
        drawing.line(*around(_X, _Y, 8, end), *around(_X, _Y, _RADIUS + 6, end), "route")
    drawing.text(*around(_X, _Y, _RADIUS + 24, true - half - 4), "stop", anchor="end")
    drawing.text(*around(_X, _Y, _RADIUS + 24, true + half + 4), "stop", anchor="start")
    turn = 1 if rim.rotation == "clockwise" else -1
    drawing.arc(_X, _Y, 26, 180 - 60 * turn, 120 * turn, "arrow")
    tip = 180 + 60 * turn
    drawing.arrowhead(*around(_X, _Y, 26, tip), tip + (0 if turn > 0 else 180), "arrow")
    drawing.text(4, _Y + 40, "turns", anchor="start")
    drawing.text(4, _Y + 57, word(rim.rotation), anchor="start")
