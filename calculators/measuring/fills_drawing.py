"""What ran into each chamber: its fills on a line, over the band of their ±."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.drawing import width_about
from calculators.bench.units import figures, plain, with_plus_minus

_STEPS = tuple(count * 10.0**power for power in range(-5, 4) for count in (1, 2, 5))


@lru_cache(maxsize=16)
def fills_chart(
    middles: tuple[float, ...],
    expanded: tuple[float, ...],
    fills: tuple[tuple[float, ...], ...],
    unit: str,
    places: int,
    cylinders: tuple[int, ...],
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
    cylinders : tuple of int
        Their numbers.
    """
    said_at = [with_plus_minus(middle, half, places) for middle, half in zip(middles, expanded, strict=True)]
    left, top, pitch = 34.0, 34.0, 30.0
    right = min(232.0, 326 - width_about(max(said_at, key=len)))  # as far as the numbers beside it leave room
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
        drawing.rectangle(across(middle - half), level - 8, across(middle + half) - across(middle - half), 16, "band")
        drawing.line(across(middle), level - 12, across(middle), level + 12, "edge")
        drawn: list[float] = []
        for dot in dots:
            like = sum(
                abs(across(dot) - other) < 4 for other in drawn
            )  # fills that came out alike stand over each other
            drawn.append(across(dot))
            drawing.circle(across(dot), level + (0, -6, 6)[like % 3], 3.5, "chosen")
        drawing.text(336, level, said_at[row], "words", anchor="end")
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
