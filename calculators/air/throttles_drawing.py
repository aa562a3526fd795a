"""The throttles side by side, and which of them to move."""

from __future__ import annotations

from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures
from calculators.bench.words import word

_MOVE_WORDS = {"stays": "stays", "open it": "open", "close it": "close", "too close to call": "?"}
_CROWDED_WORDS = {"stays": "–", "open it": "o", "close it": "c", "too close to call": "?"}
_FOOT, _TOP = 168.0, 44.0
_LEFT, _RIGHT = 58.0, 332.0


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

    drawing = Drawing(340, 230)
    band = (up(target + width / 2), up(target - width / 2))
    drawing.rectangle(_LEFT, band[0], _RIGHT - _LEFT, max(band[1] - band[0], 2), "band")
    drawing.line(_LEFT, up(target), _RIGHT, up(target), "route")
    drawing.text(_LEFT - 4, up(target), figures(target, 2 if by == "flow" else 1), "number", anchor="end")
    drawing.text(4, 12, "Flow" if by == "flow" else "Vacuum, kPa", "words", anchor="start")
    pitch = (_RIGHT - _LEFT) / len(readings)
    wide = min(38.0, 0.62 * pitch)
    crowded = len(readings) > 6
    for place, (one, off, move) in enumerate(zip(readings, reach, moves, strict=True)):
        x = _LEFT + pitch * (place + 0.5)
        drawing.rectangle(x - wide / 2, up(one), wide, _FOOT - up(one), "part")
        drawing.line(x, up(one + off), x, up(one - off), "arrow")
        drawing.text(x, _FOOT + 14, str(place + 1), "number")
        words = _CROWDED_WORDS if crowded else _MOVE_WORDS
        drawing.text(x, _FOOT + 32, words[move], "words")
        if move in ("open it", "close it"):
            arrow = ((x, up(one) - 4), (x, up(one) - 22)) if up(one) > up(target) else ((x, up(one) - 22), (x, up(one)))
            drawing.arrow(*arrow[0], *arrow[1])
    drawing.line(_LEFT, _FOOT, _RIGHT, _FOOT, "edge")
    drawing.text(
        195,
        _FOOT + 52,
        "o open, c close, – stays, ? too close" if crowded else "throttle; band: may stay as it is",
        "words",
    )
    said = "; ".join(
        f"throttle {place}: {figures(one, 2)}, {word(move)}"
        for place, (one, move) in enumerate(zip(readings, moves, strict=True), 1)
    )
    return Figure(
        key="balance",
        title="The throttles side by side, scale not from zero; the line on each bar is its uncertainty",
        svg=drawing.svg(f"Readings of the throttles, to be set to {figures(target, 2)}. {said[0].upper()}{said[1:]}."),
    )
