"""Drawings of the chamber calculator: the fills on a line each, and a chamber cut open."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache

from calculators._drawing import Drawing
from calculators._report import Figure
from calculators._units import figures, plain, with_plus_minus

_STEPS = tuple(count * 10.0**power for power in range(-5, 4) for count in (1, 2, 5))


@lru_cache(maxsize=16)
def fills_chart(
    middles: tuple[float, ...],
    expanded: tuple[float, ...],
    fills: tuple[tuple[float, ...], ...],
    unit: str,
    places: int,
    cylinders: tuple[int, ...] = (),
) -> Figure:
    """Draw each chamber's fills as dots over the band of its ±.

    Parameters
    ----------
    middles, expanded : tuple of float, [unit]
        Of each cylinder: volume, and half the width of its band.
    fills : tuple of tuple of float, [unit]
        Empty where a volume comes from dimensions.
    unit : str
    places : int
        Decimals.
    cylinders : tuple of int, optional
        Their numbers, where some were left out.
    """
    cylinders = cylinders or tuple(range(1, len(middles) + 1))
    left, right, top, pitch = 34.0, 232.0, 34.0, 30.0
    bottom = top + pitch * len(middles)
    ends = [
        end
        for middle, half, dots in zip(middles, expanded, fills, strict=True)
        for end in (middle - half, middle + half, *dots)
    ]
    low, high = min(ends), max(ends)
    room = (high - low) * 0.03 or abs(high) * 0.01 or 1.0
    low, high = low - room, high + room

    def across(volume: float) -> float:
        return left + (volume - low) / (high - low) * (right - left)

    drawing = Drawing(340, bottom + 46)
    drawing.text(4, 12, "Cylinder", "words", anchor="start")
    drawing.text(336, 12, f"Volume, {unit}", "words", anchor="end")
    _axis(drawing, across, (low, high), bottom)
    for row, (middle, half, dots) in enumerate(zip(middles, expanded, fills, strict=True)):
        level = top + pitch * (row + 0.5)
        drawing.text(10, level, str(cylinders[row]), "number")
        drawing.rectangle(across(middle - half), level - 8, across(middle + half) - across(middle - half), 16, "spacer")
        drawing.line(across(middle), level - 12, across(middle), level + 12, "edge")
        drawn: list[float] = []
        for dot in dots:
            like = sum(
                abs(across(dot) - other) < 4 for other in drawn
            )  # fills that came out alike stand over each other
            drawn.append(across(dot))
            drawing.circle(across(dot), level + (0, -6, 6)[like % 3], 3.5, "chosen")
        drawing.text(336, level, with_plus_minus(middle, half, places), "words", anchor="end")
    said = "; ".join(
        f"cylinder {number} {with_plus_minus(middle, half, places)} {unit}"
        + (f" from fills of {', '.join(figures(dot, places) for dot in dots)}" if dots else " from dimensions")
        for number, middle, half, dots in zip(cylinders, middles, expanded, fills, strict=True)
    )
    return Figure(
        key="fills",
        title="Chamber volumes: each dot is a fill, the line their mean, the band the ±",
        svg=drawing.svg(f"Chamber volumes: {said}."),
    )


def _axis(drawing: Drawing, across: Callable[[float], float], ends: tuple[float, float], bottom: float) -> None:
    """Draw the line of volumes with a few round marks, none crowding the next."""
    low, high = ends
    drawing.line(across(low), bottom, across(high), bottom, "thin")
    step = next((step for step in _STEPS if (high - low) / step <= 4), high - low)
    mark = -(-low // step) * step
    while mark <= high:
        drawing.line(across(mark), bottom, across(mark), bottom + 4, "thin")
        drawing.text(across(mark), bottom + 16, plain(round(mark, 6)), "words")
        mark += step


@lru_cache(maxsize=16)
def chamber_section(
    dome: tuple[float, ...] | None, cone: tuple[float, ...] | None, step: tuple[float, ...] | None
) -> Figure:
    """Draw the chamber cut along its axis, to scale: the dome over the cone over the step, [mm].

    Parameters
    ----------
    dome : tuple of float, optional
        Diameter, height.
    cone : tuple of float, optional
        Wide diameter, narrow diameter, height.
    step : tuple of float, optional
        Diameter, height.
    """
    edge: list[tuple[float, float]] = []  # half a width and a height above the face, upwards
    level = 0.0
    words: list[str] = []
    if step:
        edge += [(step[0] / 2, 0.0), (step[0] / 2, step[1])]
        level = step[1]
        words.append(f"a step of {plain(step[0])} mm, {plain(step[1])} mm high")
    if cone:
        edge += [(cone[0] / 2, level), (cone[1] / 2, level + cone[2])]
        level += cone[2]
        words.append(f"a cone from {plain(cone[0])} to {plain(cone[1])} mm, {plain(cone[2])} mm high")
    if dome:
        edge += _cap(dome[0] / 2, dome[1], level)
        level += dome[1]
        words.append(f"a dome of {plain(dome[0])} mm, {plain(dome[1])} mm high")
    else:
        edge.append((0.0, level))
    widest = max(half for half, _ in edge)
    scale = min(120 / widest, 150 / level)
    face, middle = 56 + level * scale, 170.0
    drawing = Drawing(340, face + 40)
    outer, roof = widest * scale + 24, 26.0
    outline = [(middle + half * scale, face - height * scale) for half, height in edge]
    mirrored = [(2 * middle - x, y) for x, y in reversed(outline)]
    drawing.path(
        [
            (middle - outer, face),
            (middle - outer, roof),
            (middle + outer, roof),
            (middle + outer, face),
            *outline,
            *mirrored,
        ],
        "part",
        closed=True,
    )
    drawing.line(middle - outer, face, middle + outer, face, "route")
    drawing.text(middle, 12, "Head", "words")
    drawing.text(middle, face + 12, "Sealing face", "words")
    bar = max(size for size in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0) if size * scale <= 110 or size == 0.1)
    drawing.line(8, face + 28, 8 + bar * scale, face + 28, "edge")
    drawing.text(16 + bar * scale, face + 28, f"{plain(bar)} mm", "words", anchor="start")
    return Figure(
        key="section",
        title="The chamber as typed, to scale, without valves and plug",
        svg=drawing.svg(f"Chamber cut open, from the sealing face up: {', then '.join(words)}."),
    )


def _cap(radius: float, height: float, level: float) -> Sequence[tuple[float, float]]:
    """Return points along half a cap's arc, from its edge to its top."""
    ball = (radius**2 + height**2) / (2 * height)
    points = []
    for part in range(13):
        up = height * part / 12
        half = ball**2 - (ball - height + up) ** 2
        points.append((max(half, 0.0) ** 0.5, level + up))
    return points
