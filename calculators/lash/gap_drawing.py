"""Gaps as bars, valve by valve: where each lies in its band, where it came from, and how far it may be off."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain

_LEFT, _RIGHT, _PITCH, _TOP = 56.0, 190.0, 26.0, 40.0
_LETTER = 8.8
"""How wide a letter of what is said is, at the most."""
MOST_DRAWN = 24
"""Valves that a phone shows in one drawing."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One gap, in mm.

    Parameters
    ----------
    name : str
        ``1 IN``.
    gap, spread : float
        The reading, and its U.
    said : str
        What stands behind it; a strong one is what there is to do.
    least, most : float, optional
        The band that it is held against.
    before : float, optional
        Where it came from.
    """

    name: str
    gap: float
    spread: float
    said: str
    strong: bool = False
    least: float | None = None
    most: float | None = None
    before: float | None = None

    @property
    def ends(self) -> tuple[float, ...]:
        known = (self.gap + self.spread, self.least, self.most, self.before)
        return tuple(end for end in known if end is not None)


@lru_cache(maxsize=64)
def gap_bars(key: str, title: str, bars: tuple[Bar, ...], legend: str) -> Figure:
    """Draw gaps under one another to one scale, those that want something done first where there are too many.

    Parameters
    ----------
    key, title : str
    bars : tuple of Bar
    legend : str
        What dot, band and arrow mean, in few words.
    """
    drawn = bars if len(bars) <= MOST_DRAWN else sorted(bars, key=lambda bar: not bar.strong)[:MOST_DRAWN]
    longest = max(len(bar.said) for bar in drawn)
    scale = (min(_RIGHT, 322 - _LETTER * longest) - _LEFT) / max(0.1, *(end for bar in drawn for end in bar.ends))
    foot = _TOP + _PITCH * len(drawn)
    drawing = Drawing(340, foot + 30)
    drawing.line(_LEFT, _TOP - 8, _LEFT, foot, "edge")
    drawing.text(_LEFT, _TOP - 18, "0")
    step = _scale_step(scale)
    drawing.line(_LEFT + step * scale, _TOP - 8, _LEFT + step * scale, foot, "thin")
    drawing.text(_LEFT + step * scale, _TOP - 18, f"{plain(step)} mm")
    for row, bar in enumerate(drawn):
        _row(drawing, bar, _TOP + _PITCH * (row + 0.5), scale)
    more = len(bars) - len(drawn)
    drawing.text(170, foot + 16, f"{legend}; {more} more valves" if more else legend)
    said = "; ".join(_told(bar) for bar in bars)
    return Figure(key=key, title=title, svg=drawing.svg(f"{title}: {said}."))


def _scale_step(scale: float) -> float:
    """Return the round gap nearest to the middle of the drawing."""
    return min((0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0), key=lambda step: abs(step * scale - 80))


def _row(drawing: Drawing, bar: Bar, y: float, scale: float) -> None:
    def across(gap: float) -> float:
        return _LEFT + max(gap, 0.0) * scale

    drawing.text(_LEFT - 8, y, bar.name, "number" if bar.strong else "words", anchor="end")
    if bar.least is not None:
        end = across(bar.most) if bar.most is not None else _RIGHT + 6
        drawing.rectangle(across(bar.least), y - 9, end - across(bar.least), 18, "band")
    if bar.before is not None:
        drawing.circle(across(bar.before), y, 4, "part")
        if abs(across(bar.before) - across(bar.gap)) > 16:
            inward = 5 if bar.gap > bar.before else -5
            drawing.arrow(across(bar.before) + inward, y, across(bar.gap) - inward, y, "arrow", 8)
    drawing.line(across(bar.gap - bar.spread), y, across(bar.gap + bar.spread), y, "edge")
    drawing.circle(across(bar.gap), y, 4.5, "chosen")
    drawing.text(334, y, bar.said, "number" if bar.strong else "words", anchor="end")


def _told(bar: Bar) -> str:
    before = f"from {figures(bar.before, 2)} to " if bar.before is not None else ""
    return f"{bar.name} {before}{figures(bar.gap, 2)} mm, {bar.said}"
