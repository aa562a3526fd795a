"""One side of the engine before and after: case, spacer, barrel, head, and what spans from case to head."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.bench import Drawing, Figure

_CASE = 56.0  # face of the case
_HEAD = 226.0  # face of the head before
_DEEP = 70.0  # of the head
_MOST = 24.0  # the farthest that a head is drawn to move
_PANEL = 128.0  # from one panel to the next


@dataclass(frozen=True, kw_only=True, slots=True)
class Side:
    """What the drawing shows; lengths in mm, words as they are printed."""

    cylinder: int
    what: str  # that spans: "Pushrod" or "Tube"
    shift: float
    spacers: tuple[float, float]  # before and after
    words: tuple[str, str]  # of what spans
    shift_words: str


def side_drawing(side: Side) -> Figure:
    """Draw the side twice, one above the other, the head's movement enlarged."""
    moved = max(-_MOST, min(_MOST, side.shift * 16))
    thickest = max(side.spacers)
    per_mm = min(16.0, 22.0 / thickest) if thickest else 0.0
    drawing = Drawing(340, 2 * _PANEL + 22)
    for row, head in enumerate((_HEAD, _HEAD + moved)):
        _panel(drawing, row * _PANEL, head, side.spacers[row] * per_mm, side, row)
        drawing.text(4, row * _PANEL + 10, ("Before", "After")[row], "number", anchor="start")
    for start, end in ((112, _PANEL + 18), (_PANEL + 112, 2 * _PANEL - 4)):
        drawing.line(_HEAD, start, _HEAD, end, "route")
    level = 2 * _PANEL - 4
    if abs(moved) >= 4:
        drawing.line(_HEAD + moved, level - 10, _HEAD + moved, level + 6, "thin")
        drawing.arrow(_HEAD, level, _HEAD + moved, level, "arrow", head=min(8, abs(moved) / 2))
    drawing.text(_HEAD - 6, level + 16, f"Head {side.shift_words}", "number")
    return Figure(
        key="side",
        title=f"The side with cylinder {side.cylinder}, before and after; not to scale, movement enlarged",
        svg=drawing.svg(
            f"Side of the engine with cylinder {side.cylinder}, case at the left. Head {side.shift_words}. "
            f"{side.what} {side.words[0]} before, {side.words[1]} after."
        ),
    )


def _panel(drawing: Drawing, top: float, head: float, spacer: float, side: Side, row: int) -> None:
    """Draw one state: barrel above, what spans below it, the head at the right."""
    drawing.rectangle(4, top + 20, _CASE - 4, 92, "part")
    drawing.text(30, top + 44, "Case", "words")
    if spacer:
        drawing.rectangle(_CASE, top + 26, spacer, 40, "spacer")
    drawing.rectangle(_CASE + spacer, top + 26, head - _CASE - spacer, 40, "part")
    drawing.text((_CASE + 26 + head) / 2, top + 46, "Barrel", "words")
    drawing.rectangle(head, top + 20, _DEEP, 92, "part")
    drawing.text(head + _DEEP / 2, top + 44, "Head", "words")
    if side.what == "Tube":
        drawing.rectangle(_CASE - 6, top + 86, head - _CASE + 12, 16, "stud")
        for seat in (_CASE - 6, head - 2):
            drawing.rectangle(seat, top + 84, 8, 20, "spacer")
    else:
        drawing.line(40, top + 94, head + 48, top + 94, "arrow")
        for end in (40.0, head + 48):
            drawing.circle(end, top + 94, 5, "chosen")
    drawing.text((_CASE + head) / 2, top + 77, f"{side.what} {side.words[row]}", "number")
