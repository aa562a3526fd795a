"""Old springs lying beside a new one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.bench import Drawing, Figure
from calculators.bench.units import plain

_LEFT, _NEW, _LIMIT = 44.0, 172.0, 26.0
"""Where springs begin, where a new one ends, and how far before that the allowed loss is drawn."""
_STEP = 38.0


@dataclass(frozen=True, slots=True)
class Beside:
    """One old spring: what it has lost of its length in mm, where it was measured, and the words beside it."""

    number: int
    loss: float | None
    found: str
    verdict: str


def beside_a_new_one(springs: Sequence[Beside], allowed: float) -> Figure:
    """Draw each old spring lying, its foot at the left, what it has lost enlarged."""
    drawing = Drawing(340, 48 + _STEP * len(springs))
    foot = 40 + _STEP * len(springs)
    _lying(drawing, 22, _NEW, "edge")
    drawing.text(6, 22, "new", "words", "start")
    drawing.line(_LEFT, 8, _LEFT, foot, "edge")
    drawing.line(_NEW - _LIMIT, 8, _NEW - _LIMIT, foot, "route")
    drawing.text(_NEW + 10, 22, f"allowed {plain(allowed)} mm", "words", "start")
    for row, one in enumerate(springs, 1):
        y = 22 + _STEP * row
        drawing.text(6, y, str(one.number), "number", "start")
        if one.loss is not None:
            end = _NEW - max(-0.5, min(one.loss / allowed, 3.5)) * _LIMIT
            _lying(drawing, y, end, "edge")
            drawing.line(end, y - 11, end, y + 11, "cross" if one.verdict == "replace" else "arrow")
        drawing.text(192, y - 7, one.found, "words", "start")
        drawing.text(192, y + 8, one.verdict, "number", "start")
    words = "; ".join(f"{one.number}: {one.found}, {one.verdict}" for one in springs)
    return Figure(
        key="old",
        title="Old springs lying beside a new one; what they have lost is enlarged; dashes: what they may",
        svg=drawing.svg(f"Old springs: {words}."),
    )


def _lying(drawing: Drawing, y: float, end: float, look: str) -> None:
    turns = 13
    drawing.path(
        [(_LEFT + (end - _LEFT) * turn / turns, y + (9 if turn % 2 else -9)) for turn in range(turns + 1)], look
    )
