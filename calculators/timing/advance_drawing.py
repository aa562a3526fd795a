"""The advance wanted against speed, and what the light shows."""

from __future__ import annotations

import math
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures
from calculators.bench.words import word


@lru_cache(maxsize=32)
def curve_figure(
    curve: tuple[tuple[float, float], ...], tolerance: float, readings: tuple[tuple[float, float, float, str], ...]
) -> Figure:
    """Draw the advance wanted with its band, and each reading with its uncertainty.

    Parameters
    ----------
    curve : tuple of (r/min, degrees)
    tolerance : float, [°]
    readings : tuple of (r/min, degrees, expanded uncertainty, verdict)
    """
    left, right, top, foot = 42.0, 328.0, 40.0, 214.0
    speeds = [speed for speed, _ in curve] + [speed for speed, *_ in readings]
    last = _round_up(max(speeds) * 1.08)
    degrees = [advance + side * tolerance for _, advance in curve for side in (-1, 1)]
    degrees += [advance + side * spread for _, advance, spread, _ in readings for side in (-1, 1)]
    step = next((step for step in (5, 10, 20) if max(degrees) - min(degrees) <= 7 * step), 40)
    low, high = step * math.floor(min(0.0, *degrees) / step), step * math.ceil(max(degrees) / step)

    def at(speed: float, advance: float) -> tuple[float, float]:
        return left + (right - left) * speed / last, foot - (foot - top) * (advance - low) / (high - low)

    whole = ((0.0, curve[0][1]), *curve, (last, curve[-1][1]))
    drawing = Drawing(340, 262)
    upper, lower = (tuple(at(speed, advance + side * tolerance) for speed, advance in whole) for side in (1, -1))
    drawing.path([*upper, *reversed(lower)], "band", closed=True)
    drawing.path([at(*point) for point in whole], "edge")
    drawing.line(left, top - 6, left, foot)
    drawing.line(left, foot, right, foot)
    for mark in range(low, high + 1, step):
        y = at(0, mark)[1]
        drawing.line(left - 5, y, left, y)
        drawing.text(left - 8, y, figures(mark, 0) + "°", anchor="end")
    for part in range(5):
        speed = last * part / 4
        x = at(speed, low)[0]
        drawing.line(x, foot, x, foot + 5)
        drawing.text(min(x, 338 - 4.9 * len(f"{speed:.0f}")), foot + 16, f"{speed:.0f}")
    drawing.text((left + right) / 2, foot + 36, "r/min of the crank")
    _legend(drawing, (("in", "in"), ("close", "too close to call"), ("out", "out")), 60, 13)
    for speed, advance, spread, verdict in readings:
        x, y = at(speed, advance)
        drawing.line(x, at(0, advance - spread)[1], x, at(0, advance + spread)[1], "edge")
        _dot(drawing, x, y, verdict)
    said = "; ".join(
        f"{figures(advance, 1)}° at {speed:.0f} r/min, {word(verdict)}" for speed, advance, _, verdict in readings
    )
    wanted = "; ".join(f"{figures(advance, 1)}° at {speed:.0f} r/min" for speed, advance in curve)
    return Figure(
        key="advance",
        title="Advance wanted, its band, and what the light shows; dot in, ring too close to call, cross out",
        svg=drawing.svg(
            f"Advance against speed. Wanted: {wanted}, within {figures(tolerance, 1)}° either way. "
            + (f"Read: {said}." if said else "Nothing read yet.")
        ),
    )


def _round_up(speed: float) -> float:
    """Return the next speed whose quarters are round hundreds (tens, where it is slow)."""
    step = 400 if speed > 800 else 40
    return float(step * math.ceil(speed / step))


def _dot(drawing: Drawing, x: float, y: float, verdict: str) -> None:
    if verdict == "out":
        drawing.path([(x - 5, y - 5), (x + 5, y + 5)], "arrow")
        drawing.path([(x - 5, y + 5), (x + 5, y - 5)], "arrow")
    else:
        drawing.circle(x, y, 5, "chosen" if verdict == "in" else "stud")


def _legend(drawing: Drawing, kinds: tuple[tuple[str, str], ...], x: float, y: float) -> None:
    for verdict, words in kinds:
        _dot(drawing, x, y, verdict)
        drawing.text(x + 11, y, word(words), anchor="start")
        x += 36 + 7.0 * len(words)
