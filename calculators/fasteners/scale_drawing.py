"""One figure on two scales side by side, as on the grip of a wrench marked in both units."""

from __future__ import annotations

import math
from typing import Any

from calculators.bench import Drawing, Figure
from calculators.bench.drawing import within
from calculators.bench.units import magnitude_in, plain, symbol_of

_LEFT, _RIGHT, _LEVEL = 24.0, 316.0, 70.0


def double_scale(value: Any, symbols: list[str]) -> Figure:
    """Draw the unit that was typed above the line, the first other unit below it."""
    own = symbol_of(value)
    other = next(symbol for symbol in symbols if symbol != own)
    drawing = Drawing(340, 140)
    drawing.line(_LEFT, _LEVEL, _RIGHT, _LEVEL)
    reach = magnitude_in(value, own) * 1.5 or 1.0
    told = []
    for symbol, up in ((own, True), (other, False)):
        whole = reach * (magnitude_in(value, symbol) / magnitude_in(value, own) if magnitude_in(value, own) else 1.0)
        step = _step(whole)
        for mark in range(int(whole / step + 1e-9) + 1):
            x = _LEFT + (_RIGHT - _LEFT) * mark * step / whole
            side = -1 if up else 1
            drawing.line(x, _LEVEL, x, _LEVEL + 12 * side)
            words = plain(float(f"{mark * step:.6g}"))
            drawing.text(within(x, words), _LEVEL + 24 * side, words)
        drawing.text(_RIGHT, _LEVEL + (-46 if up else 46), symbol, "number", "end")
        told.append(f"{plain(float(f'{magnitude_in(value, symbol):.6g}'))} {symbol}")
    x = _LEFT + (_RIGHT - _LEFT) * magnitude_in(value, own) / reach
    drawing.line(x, _LEVEL - 16, x, _LEVEL + 16, "tick")
    drawing.text(min(max(x, 90), 230), 14, told[0], "number")
    drawing.text(min(max(x, 90), 230), 128, told[1], "number")
    return Figure(
        key="scales",
        title="Both units on one scale",
        svg=drawing.svg(f"{told[0]} equals {told[1]} on one scale."),
    )


def _step(whole: float) -> float:
    """Return a round step that gives three to seven marks, the fewer the longer their numbers are."""
    most = 4 if whole >= 5000 or whole < 0.05 else 7
    least = 10.0 ** math.floor(math.log10(whole / 5))
    return next(least * times for times in (1, 2, 5, 10, 20) if whole / (least * times) <= most)
