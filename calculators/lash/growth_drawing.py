"""How a gap gets from cold to hot, part by part, as bars that each begin where the last one ended."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures
from calculators.bench.words import word

_LEFT, _RIGHT, _PITCH, _HEIGHT = 112.0, 276.0, 26.0, 15.0


@lru_cache(maxsize=32)
def growth_figure(valve: str, steps: tuple[tuple[str, float, bool], ...]) -> Figure:
    """Draw a gap, what each part adds to it or takes from it, and what is left.

    Parameters
    ----------
    valve : str
        ``"inlet"`` or ``"exhaust"``.
    steps : tuple of (str, float, bool)
        Name, millimetres, and whether it is the whole gap (drawn from nought) or a change.
    """
    spans = _spans(steps)
    low, high = min(0.0, *(min(span) for span in spans)), max(0.0, *(max(span) for span in spans))
    scale = (_RIGHT - _LEFT) / max(high - low, 1e-9)

    def across(gap: float) -> float:
        return _LEFT + (gap - low) * scale

    drawing = Drawing(340, 34 + _PITCH * len(steps))
    foot = 22 + _PITCH * len(steps)
    drawing.line(across(0), 18, across(0), foot, "edge")
    drawing.text(across(0), 10, "0")
    for row, ((name, change, whole), (start, end)) in enumerate(zip(steps, spans, strict=True)):
        y = 26 + row * _PITCH
        drawing.text(_LEFT - 8, y + _HEIGHT / 2, name, "number" if whole else "words", anchor="end")
        left, right = sorted((across(start), across(end)))
        drawing.rectangle(left, y, max(right - left, 1.5), _HEIGHT, "chosen" if whole else "part")
        if not whole and right - left > 14:
            middle = y + _HEIGHT / 2
            ends = (left + 2, right - 2) if change > 0 else (right - 2, left + 2)
            drawing.arrow(ends[0], middle, ends[1], middle, "arrow", 7)
        text = figures(change, 2) if whole or change < 0 else f"+{figures(change, 2)}"
        drawing.text(336, y + _HEIGHT / 2, text, "number" if whole else "words", anchor="end")
        if row + 1 < len(steps):
            drawing.line(across(end), y + _HEIGHT, across(end), y + _PITCH, "thin")
    said = "; ".join(f"{name} {figures(change, 2)} mm" for name, change, _ in steps)
    return Figure(
        key=f"{valve}_growth",
        title=f"The {word(valve)} gap from cold to hot, in mm",
        svg=drawing.svg(f"The {word(valve)} gap, part by part: {said}. A minus reduces the gap."),
    )


def _spans(steps: Sequence[tuple[str, float, bool]]) -> list[tuple[float, float]]:
    spans, now = [], 0.0
    for _, change, whole in steps:
        spans.append((0.0, change) if whole else (now, now + change))
        now = spans[-1][1]
    return spans
