"""A chamber cut open, to scale, from the dimensions typed."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import plain


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
    drawing.cut(
        [
            (middle - outer, face),
            (middle - outer, roof),
            (middle + outer, roof),
            (middle + outer, face),
            *outline,
            *mirrored,
        ],
        "aluminium",
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
        svg=drawing.svg(f"Chamber in section, from the sealing face up: {', then '.join(words)}."),
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
