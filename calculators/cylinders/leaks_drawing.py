"""Leakage before and after the job, cylinder by cylinder."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures
from calculators.bench.words import word
from calculators.cylinders.axes import LEFT, RIGHT, axes, scale_to


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
    step, high = scale_to(min(100.0, max([*ends, most])))
    pitch = (RIGHT - LEFT) / len(leaks)
    drawing = Drawing(340, 216)

    def up(share: float) -> float:
        return foot - (foot - top) * min(max(share, 0), high) / high

    wide = min(24.0, 0.36 * pitch)
    bars: tuple[Callable[[float, float, float, float], None], ...] = (drawing.rectangle, drawing.cut_box)
    for place, (_, *shares) in enumerate(leaks):
        middle = LEFT + (place + 0.5) * pitch
        for side, draw, share in zip((-1, 0), bars, shares, strict=True):
            if share:
                value, spread = share
                x = middle + side * wide
                draw(x, up(value), wide, foot - up(value))
                drawing.line(x + wide / 2, up(value - spread), x + wide / 2, up(value + spread), "arrow")
    axes(drawing, (top, foot), (step, high), "%", [number for number, *_ in leaks])
    drawing.line(LEFT, up(most), RIGHT, up(most), "route")
    x = LEFT - 5
    for draw, words, place in zip(bars, ("left: before", "right: after"), (1, 2), strict=True):
        if any(leak[place] for leak in leaks):
            draw(x, 7, 14, 12)
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
        title="Leakage in per cent, cylinder by cylinder; the line through each bar is its uncertainty",
        svg=drawing.svg(f"Leakage. {said[0].upper()}{said[1:]}. At most {figures(most, 0)} per cent is allowed."),
    )
