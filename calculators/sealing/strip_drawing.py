"""The time strip: hands and cure of every joint against the clock."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.drawing import width_about, within
from calculators.formulas.cure_plan import DAY

_STEPS = (0.25, 0.5, 1, 2, 3, 6, 12, 24, 48, 96, 168, 336, 672, 1344, 2688, 5376, 10752)
"""Hours between two marks of the clock, the first that gives six marks or fewer."""
_MOST_NIGHTS = 10
_LEFT, _RIGHT, _TOP, _PITCH = 28.0, 330.0, 40.0, 26.0


@lru_cache(maxsize=32)
def strip(
    rows: tuple[tuple[int, float, float, float], ...],
    start: float,
    done: float,
    hours: tuple[float, float],
    said: tuple[str, ...],
    oil: str,
) -> Figure:
    """Draw a row for each joint: a full block for the hands, a light one for the cure.

    Parameters
    ----------
    rows : tuple of (int, float, float, float)
        Number of the joint, begin, end of the work, cured; minutes.
    start, done : float, [min]
    hours : tuple of float, [min]
        When the workshop opens and shuts.
    said : tuple of str
        Each row in words.
    oil : str
        When the oil may go in, in words.
    """
    span = max(done - start, 30.0)
    foot = _TOP + _PITCH * len(rows)

    def across(moment: float) -> float:
        return _LEFT + (_RIGHT - _LEFT) * (moment - start) / span

    drawing = Drawing(340, foot + 62)
    _nights(drawing, start, start + span, hours, across, foot)
    step = next((hour for hour in _STEPS if span / 60 / hour <= 6), _STEPS[-1])
    tick = -(-start // (60 * step)) * 60 * step
    free = 0.0
    while tick <= start + span:
        drawing.line(across(tick), _TOP - 8, across(tick), foot, "thin")
        if step >= 24:
            words = f"day {int(tick // DAY) + 1}"
        else:
            minute = int(tick % DAY)
            words = f"{minute // 60:02d}:{minute % 60:02d}"
        x, half = within(across(tick), words), width_about(words) / 2
        if x - half >= free - 2:  # a mark at the edge may have no room for its words beside the one before
            drawing.text(x, _TOP - 18, words, "words")
            free = x + half
        tick += 60 * step
    for place, (number, begin, end, cured) in enumerate(rows):
        y = _TOP + _PITCH * place
        drawing.text(14, y + 10, str(number), "number")
        if cured > end:
            drawing.rectangle(across(end), y + 2, across(cured) - across(end), 16, "band")
            drawing.rectangle(across(end), y + 2, across(cured) - across(end), 16, "edge")
        drawing.rectangle(across(begin), y + 2, max(across(end) - across(begin), 3), 16, "pointer")
    drawing.line(across(done), _TOP - 8, across(done), foot + 8, "arrow")
    drawing.text(min(across(done), 334), foot + 18, f"oil: {oil}", "number", anchor="end")
    drawing.rectangle(_LEFT, foot + 38, 16, 12, "pointer")
    drawing.text(_LEFT + 22, foot + 44, "hands", "words", anchor="start")
    drawing.rectangle(_LEFT + 84, foot + 38, 16, 12, "band")
    drawing.rectangle(_LEFT + 84, foot + 38, 16, 12, "edge")
    drawing.text(_LEFT + 106, foot + 44, "cure", "words", anchor="start")
    if hours[1] - hours[0] < DAY and span <= _MOST_NIGHTS * DAY:
        drawing.line(_LEFT + 160, foot + 44, _LEFT + 186, foot + 44, "route")
        drawing.text(_LEFT + 192, foot + 44, "workshop shut", "words", anchor="start")
    return Figure(
        key="strip",
        title="Hands and cure of every joint against the clock",
        svg=drawing.svg(f"{'; '.join(said)}. Oil may go in on {oil}."),
    )


def _nights(
    drawing: Drawing,
    start: float,
    end: float,
    hours: tuple[float, float],
    across: Callable[[float], float],
    foot: float,
) -> None:
    """Mark by a dashed line under the rows when the workshop is shut."""
    opens, shuts = hours
    if shuts - opens >= DAY or end - start > _MOST_NIGHTS * DAY:
        return
    day = start // DAY - 1
    while day * DAY <= end:
        dark = max(day * DAY + shuts, start), min((day + 1) * DAY + opens, end)
        if dark[1] > dark[0]:
            drawing.line(across(dark[0]), foot + 3, across(dark[1]), foot + 3, "route")
        day += 1
