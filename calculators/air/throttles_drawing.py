"""The throttles side by side, and which of them to move."""

from __future__ import annotations

import math
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures
from calculators.bench.words import word

_MOVE_WORDS = {"stays": "stays", "open it": "open", "close it": "close", "too close to call": "?"}
_CROWDED_WORDS = {"stays": "–", "open it": "o", "close it": "c", "too close to call": "?"}
_FOOT, _TOP = 150.0, 46.0
_LEFT, _RIGHT = 58.0, 332.0
_PLATE = {"stays": 0.0, "open it": -12.0, "close it": 12.0, "too close to call": 0.0}
"""How much farther than the others each throttle stands open, drawn far too large."""


@lru_cache(maxsize=32)
def throttles_figure(
    readings: tuple[float, ...], reach: tuple[float, ...], target: float, width: float, moves: tuple[str, ...], by: str
) -> Figure:
    """Draw each throttle's reading as a bar, with the band in which it may stay.

    Parameters
    ----------
    readings, reach : tuple of float
        In the gauge's marks or kPa; ``reach`` is the ± of each.
    target, width : float
        Middle of the band, and how wide it is.
    moves : tuple of str
        What is to be done to each.
    by : str
        ``"flow"`` or ``"vacuum"``.
    """
    low = min(min(one - off for one, off in zip(readings, reach, strict=True)), target - width)
    high = max(max(one + off for one, off in zip(readings, reach, strict=True)), target + width)
    span = high - low
    low, high = max(0.0, low - 0.35 * span), high + 0.1 * span

    def up(number: float) -> float:
        return _FOOT - (_FOOT - _TOP) * (min(max(number, low), high) - low) / (high - low)

    drawing = Drawing(340, 276)
    band = (up(target + width / 2), up(target - width / 2))
    drawing.text(4, 12, "Flow" if by == "flow" else "Vacuum, kPa", anchor="start")
    pitch = (_RIGHT - _LEFT) / len(readings)
    wide = min(26.0, 0.5 * pitch)
    crowded = len(readings) > 6
    for place in range(len(readings)):
        x = _LEFT + pitch * (place + 0.5)
        drawing.rectangle(x - wide / 2, _TOP - 16, wide, _FOOT - _TOP + 20, "part", round=4)
    drawing.rectangle(_LEFT, band[0], _RIGHT - _LEFT, max(band[1] - band[0], 2), "band")
    drawing.line(_LEFT, up(target), _RIGHT, up(target), "route")
    drawing.text(_LEFT - 4, up(target), figures(target, 2 if by == "flow" else 1), "number", anchor="end")
    for place, (one, off, move) in enumerate(zip(readings, reach, moves, strict=True)):
        x = _LEFT + pitch * (place + 0.5)
        turned = move in ("open it", "close it")
        drawing.line(x, up(one + off), x, up(one - off), "edge")
        drawing.circle(x, up(one), min(7.0, wide / 2 - 1), "spacer" if turned else "chosen")
        _throttle(drawing, x, _FOOT + 40, min(34.0, 0.8 * pitch), _PLATE[move], turned)
        drawing.text(x, _FOOT + 86, str(place + 1), "number")
        words = _CROWDED_WORDS if crowded else _MOVE_WORDS
        drawing.text(x, _FOOT + 103, words[move])
    if crowded:
        drawing.text(195, _FOOT + 119, "o open, c close, – stays, ? too close")
    said = "; ".join(
        f"throttle {place}: {figures(one, 2)}, {word(move)}"
        for place, (one, move) in enumerate(zip(readings, moves, strict=True), 1)
    )
    return Figure(
        key="balance",
        title="Gauge over throttle, opening too large; dashed: may stay; the line on a float: its uncertainty",
        svg=drawing.svg(f"Readings of the throttles, to be set to {figures(target, 2)}. {said[0].upper()}{said[1:]}."),
    )


def _throttle(drawing: Drawing, x: float, y: float, wide: float, off: float, turned: bool) -> None:
    """Draw a throttle's barrel cut open, its plate in it; blue where its screw is to be turned."""
    for side in (-1, 1):
        drawing.cut_box(x + side * (wide / 2 + 3) - 3, y - 30, 6, 60, "aluminium")
    angle = math.radians(28 + off)
    across, along = wide / 2 * math.cos(angle), wide / 2 * math.sin(angle)
    drawing.line(x - across, y - along, x + across, y + along, "hand" if turned else "edge")
    drawing.circle(x, y, 3, "pointer")
