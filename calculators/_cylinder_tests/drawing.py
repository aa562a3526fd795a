"""Drawings of cylinder tests: pressures dry, wet and after the job, and leakage before and after."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from calculators._drawing import Drawing
from calculators._report import Figure
from calculators._units import figures
from calculators._words import word

_LEFT, _RIGHT = 40.0, 332.0


@dataclass(frozen=True, slots=True)
class Readings:
    """One cylinder's pressures, bar: best estimate and expanded uncertainty each, None where not read."""

    number: int
    dry: tuple[float, float] | None
    wet: tuple[float, float] | None
    after: tuple[float, float] | None
    expected: tuple[float, float] | None


@lru_cache(maxsize=32)
def pressures_figure(cylinders: tuple[Readings, ...], least: float | None) -> Figure:
    """Draw each cylinder's readings side by side, with what it should show and the least allowed."""
    top, foot = 58.0, 214.0
    ends = [
        value + spread
        for cylinder in cylinders
        for value, spread in filter(None, (cylinder.dry, cylinder.wet, cylinder.after, cylinder.expected))
    ]
    step, high = _scale(max([*ends, least or 0.0, 0.1]))
    pitch = (_RIGHT - _LEFT) / len(cylinders)
    kinds = tuple(
        (mark, words)
        for mark, words in (("dry", "dry"), ("wet", "wet"), ("after", "after"))
        if any(getattr(cylinder, mark) for cylinder in cylinders)
    )
    drawing = Drawing(340, 254)

    def up(pressure: float) -> float:
        return foot - (foot - top) * min(pressure, high) / high

    for place, cylinder in enumerate(cylinders):
        if cylinder.expected:
            value, spread = cylinder.expected
            upper, lower = up(value + spread), up(max(value - spread, 0))
            drawing.rectangle(_LEFT + place * pitch + 2, upper, pitch - 4, max(lower - upper, 2), "band")
    _axes(drawing, (top, foot), (step, high), "bar", [cylinder.number for cylinder in cylinders])
    if least is not None:
        drawing.line(_LEFT, up(least), _RIGHT, up(least), "route")
    offset = min(13.0, 0.28 * pitch)
    for place, cylinder in enumerate(cylinders):
        middle = _LEFT + (place + 0.5) * pitch
        points: list[tuple[float, float]] = []
        for side, (mark, _) in zip((-1, 0, 1), (("dry", ""), ("wet", ""), ("after", "")), strict=True):
            reading = getattr(cylinder, mark)
            if reading:
                x, (value, spread) = middle + side * offset, reading
                drawing.line(x, up(max(value - spread, 0)), x, up(value + spread), "edge")
                _mark(drawing, mark, x, up(value))
                points.append((x, up(value)))
    x = _LEFT
    for mark, words in kinds:
        _mark(drawing, mark, x, 12)
        drawing.text(x + 10, 12, word(words), anchor="start")
        x += 34 + 7.0 * len(words)
    x = _LEFT - 5
    if any(cylinder.expected for cylinder in cylinders):
        drawing.rectangle(x, 25, 18, 12, "band")
        drawing.text(x + 24, 31, "to be expected", anchor="start")
        x += 138
    if least is not None:
        drawing.line(x, 31, x + 22, 31, "route")
        drawing.text(x + 28, 31, "least allowed", anchor="start")
    said = "; ".join(_said(cylinder) for cylinder in cylinders)
    floor = f" At least {figures(least, 1)} bar is wanted." if least is not None else ""
    return Figure(
        key="pressures",
        title="Compression in bar, cylinder by cylinder; the stroke through each sign is its uncertainty",
        svg=drawing.svg(f"Compression in bar. {said}.{floor}"),
    )


def _said(cylinder: Readings) -> str:
    told = [
        f"{word(words)} {figures(reading[0], 1)}"
        for words, reading in (
            ("dry", cylinder.dry),
            ("wet", cylinder.wet),
            ("after the job", cylinder.after),
            ("to be expected", cylinder.expected),
        )
        if reading
    ]
    return f"Cylinder {cylinder.number}: {', '.join(told) or 'not read'}"


def _mark(drawing: Drawing, kind: str, x: float, y: float) -> None:
    if kind == "after":
        drawing.rectangle(x - 5, y - 5, 10, 10, "spacer")
    else:
        drawing.circle(x, y, 5, "chosen" if kind == "dry" else "stud")


def _scale(most: float) -> tuple[float, float]:
    """Return the step of an axis in round numbers, at most six of them, and where it ends."""
    step = next((step for step in (0.1, 0.2, 0.5, 1, 2, 5, 10, 20) if most <= 6 * step), 50)
    return step, step * math.ceil(most / step - 1e-9)


def _axes(
    drawing: Drawing, span: tuple[float, float], scale: tuple[float, float], unit: str, numbers: list[int]
) -> None:
    (top, foot), (step, high) = span, scale
    drawing.line(_LEFT, top - 6, _LEFT, foot)
    drawing.line(_LEFT, foot, _RIGHT, foot)
    for mark in range(round(high / step) + 1):
        y = foot - (foot - top) * mark * step / high
        drawing.line(_LEFT - 5, y, _LEFT, y)
        drawing.text(_LEFT - 8, y, figures(mark * step, 0 if step >= 1 else 1), anchor="end")
    pitch = (_RIGHT - _LEFT) / len(numbers)
    for place, number in enumerate(numbers):
        drawing.text(_LEFT + (place + 0.5) * pitch, foot + 13, str(number), "number")
    drawing.text(_LEFT - 8, foot + 29, unit, anchor="end")
    drawing.text((_LEFT + _RIGHT) / 2, foot + 29, "cylinder")


@lru_cache(maxsize=32)
def leaks_figure(
    leaks: tuple[tuple[int, tuple[float, float] | None, tuple[float, float] | None], ...], most: float
) -> Figure:
    """Draw each cylinder's leakage before and after the job as bars, with the most allowed.

    Parameters
    ----------
    leaks : tuple of (int, (float, float) or None, (float, float) or None)
        Cylinder, and share in per cent with its expanded uncertainty before and after.
    most : float, [%]
    """
    top, foot = 40.0, 176.0
    ends = [sum(share) for _, *shares in leaks for share in shares if share]
    step, high = _scale(min(100.0, max([*ends, most])))
    pitch = (_RIGHT - _LEFT) / len(leaks)
    drawing = Drawing(340, 216)

    def up(share: float) -> float:
        return foot - (foot - top) * min(max(share, 0), high) / high

    wide = min(24.0, 0.36 * pitch)
    for place, (_, *shares) in enumerate(leaks):
        middle = _LEFT + (place + 0.5) * pitch
        for side, look, share in zip((-1, 0), ("part", "spacer"), shares, strict=True):
            if share:
                value, spread = share
                x = middle + side * wide
                drawing.rectangle(x, up(value), wide, foot - up(value), look)
                drawing.line(x + wide / 2, up(value - spread), x + wide / 2, up(value + spread), "arrow")
    _axes(drawing, (top, foot), (step, high), "%", [number for number, *_ in leaks])
    drawing.line(_LEFT, up(most), _RIGHT, up(most), "route")
    x = _LEFT - 5
    for look, words, place in (("part", "left: before", 1), ("spacer", "right: after", 2)):
        if any(leak[place] for leak in leaks):
            drawing.rectangle(x, 7, 14, 12, look)
            drawing.text(x + 19, 13, words, anchor="start")
            x += 104
    drawing.line(x, 13, x + 20, 13, "route")
    drawing.text(x + 25, 13, "most", anchor="start")
    said = "; ".join(
        f"cylinder {number}: "
        + (
            ", ".join(
                f"{word(words)} {figures(share[0], 0)} per cent"
                for words, share in (("before", before), ("after", after))
                if share
            )
            or "not read"
        )
        for number, before, after in leaks
    )
    return Figure(
        key="leaks",
        title="Leakage in per cent, cylinder by cylinder; the stroke through each bar is its uncertainty",
        svg=drawing.svg(f"Leakage. {said[0].upper()}{said[1:]}. At most {figures(most, 0)} per cent is allowed."),
    )
