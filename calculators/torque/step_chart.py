"""How lopsided the clamping is after each stud, beside going round the edge."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import Drawing, Figure

_WIDTH, _HEIGHT = 340.0, 206.0
_LEFT, _RIGHT, _TOP, _FOOT = 50.0, 330.0, 58.0, 160.0
_EACH_TO = 12
"""Above so many studs only every other step has its number."""


def step_chart(names: Sequence[str], ours: Sequence[float], edge: Sequence[float]) -> Figure:
    """Draw a bar a step, and a dashed line for the edge-round order.

    Parameters
    ----------
    names : sequence of str
        Of the studs, in the order of tightening.
    ours, edge : sequence of float, [mm]
        Imbalance after each step; ``edge`` is empty where it is not compared.
    """
    most = max((*ours, *edge))
    pitch = (_RIGHT - _LEFT) / len(ours)
    scale = (_FOOT - _TOP) / most
    middles = [_LEFT + (place + 0.5) * pitch for place in range(len(ours))]
    drawing = Drawing(_WIDTH, _HEIGHT)
    drawing.rectangle(_LEFT, 6, 14, 14)
    drawing.text(_LEFT + 21, 13, "this order", anchor="start")
    if edge:
        drawing.line(_LEFT + 120, 13, _LEFT + 148, 13, "route")
        drawing.circle(_LEFT + 134, 13, 4, "stud")
        drawing.text(_LEFT + 155, 13, "round the edge", anchor="start")
    for middle, imbalance in zip(middles, ours, strict=True):
        if imbalance * scale >= 0.5:
            drawing.rectangle(middle - 0.36 * pitch, _FOOT - imbalance * scale, 0.72 * pitch, imbalance * scale)
    if edge:
        points = [(middle, _FOOT - imbalance * scale) for middle, imbalance in zip(middles, edge, strict=True)]
        drawing.path(points, "route")
        for x, y in points:
            drawing.circle(x, y, 4, "stud")
    drawing.line(_LEFT, _TOP - 6, _LEFT, _FOOT)
    drawing.line(_LEFT, _FOOT, _RIGHT, _FOOT)
    drawing.line(_LEFT - 5, _TOP, _LEFT, _TOP)
    drawing.text(_LEFT - 8, _TOP, f"{most:.0f}", anchor="end")
    drawing.text(_LEFT - 8, _FOOT, "0", anchor="end")
    drawing.text(_LEFT - 8, (_TOP + _FOOT) / 2, "mm", anchor="end")
    for number, middle in enumerate(middles, 1):
        if len(ours) <= _EACH_TO or number % 2:
            drawing.text(middle, _FOOT + 14, str(number))
    drawing.text((_LEFT + _RIGHT) / 2, _HEIGHT - 12, "nuts tightened")
    steps = "; ".join(
        f"{number}, {name}: {imbalance:.0f}" + (f" against {round_it:.0f}" if edge else "")
        for number, (name, imbalance, round_it) in enumerate(zip(names, ours, edge or ours, strict=True), 1)
    )
    against = " against the order round the edge" if edge else ""
    return Figure(
        key="step_chart",
        title="How uneven the clamping is after each nut",
        svg=drawing.svg(f"Imbalance in millimetres after each nut{against}. {steps}."),
    )
