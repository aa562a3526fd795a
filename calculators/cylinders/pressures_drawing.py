"""Pressures dry, wet and after the job, cylinder by cylinder."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, expanded_of
from calculators.bench.words import word
from calculators.cylinders.axes import LEFT, RIGHT, axes, scale_to

_MARKS = ("dry", "wet", "after")


@dataclass(frozen=True, slots=True)
class Readings:
    """One cylinder's pressures, bar: best estimate and expanded uncertainty each, None where not read."""

    number: int
    dry: tuple[float, float] | None
    wet: tuple[float, float] | None
    after: tuple[float, float] | None
    expected: tuple[float, float] | None

    @property
    def marked(self) -> dict[str, tuple[float, float] | None]:
        """What the gauge read, by the sign that it is drawn with."""
        return {"dry": self.dry, "wet": self.wet, "after": self.after}


def drawn(number: Any | None) -> tuple[float, float] | None:
    """Return best estimate and expanded uncertainty, None as it is."""
    return None if number is None else (best_of(number), expanded_of(number))


@lru_cache(maxsize=32)
def pressures_figure(cylinders: tuple[Readings, ...], least: float | None) -> Figure:
    """Draw each cylinder's readings side by side, with what it should show and the least allowed."""
    top, foot = 58.0, 214.0
    ends = [
        value + spread
        for cylinder in cylinders
        for value, spread in filter(None, (cylinder.dry, cylinder.wet, cylinder.after, cylinder.expected))
    ]
    step, high = scale_to(max([*ends, least or 0.0, 0.1]))
    pitch = (RIGHT - LEFT) / len(cylinders)
    kinds = tuple(mark for mark in _MARKS if any(cylinder.marked[mark] for cylinder in cylinders))
    drawing = Drawing(340, 254)

    def up(pressure: float) -> float:
        return foot - (foot - top) * min(pressure, high) / high

    for place, cylinder in enumerate(cylinders):
        if cylinder.expected:
            value, spread = cylinder.expected
            upper, lower = up(value + spread), up(max(value - spread, 0))
            drawing.rectangle(LEFT + place * pitch + 2, upper, pitch - 4, max(lower - upper, 2), "band")
    axes(drawing, (top, foot), (step, high), "bar", [cylinder.number for cylinder in cylinders])
    if least is not None:
        drawing.line(LEFT, up(least), RIGHT, up(least), "route")
    offset = min(13.0, 0.28 * pitch)
    for place, cylinder in enumerate(cylinders):
        middle = LEFT + (place + 0.5) * pitch
        for side, (mark, reading) in zip((-1, 0, 1), cylinder.marked.items(), strict=True):
            if reading:
                x, (value, spread) = middle + side * offset, reading
                drawing.line(x, up(max(value - spread, 0)), x, up(value + spread), "edge")
                _mark(drawing, mark, x, up(value))
    x = LEFT
    for mark in kinds:
        _mark(drawing, mark, x, 12)
        drawing.text(x + 10, 12, word(mark), anchor="start")
        x += 34 + 7.0 * len(mark)
    x = LEFT - 5
    if any(cylinder.expected for cylinder in cylinders):
        drawing.rectangle(x, 25, 18, 12, "band")
        drawing.text(x + 24, 31, "expected", anchor="start")
        x += 138
    if least is not None:
        drawing.line(x, 31, x + 22, 31, "route")
        drawing.text(x + 28, 31, "least allowed", anchor="start")
    said = "; ".join(_said(cylinder) for cylinder in cylinders)
    floor = f" At least {figures(least, 1)} bar is wanted." if least is not None else ""
    return Figure(
        key="pressures",
        title="Compression in bar, cylinder by cylinder; the line through each sign is its uncertainty",
        svg=drawing.svg(f"Compression in bar. {said}.{floor}"),
    )


def _said(cylinder: Readings) -> str:
    told = [
        f"{word(words)} {figures(reading[0], 1)}"
        for words, reading in (
            ("dry", cylinder.dry),
            ("wet", cylinder.wet),
            ("after the job", cylinder.after),
            ("expected", cylinder.expected),
        )
        if reading
    ]
    return f"Cylinder {cylinder.number}: {', '.join(told) or 'not read'}"


def _mark(drawing: Drawing, kind: str, x: float, y: float) -> None:
    if kind == "after":
        drawing.rectangle(x - 5, y - 5, 10, 10, "spacer")
    else:
        drawing.circle(x, y, 5, "chosen" if kind == "dry" else "stud")
