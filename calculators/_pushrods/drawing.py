"""One side of the engine before and after: case, spacer, barrel, head, tube, pushrod and rocker."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from calculators._drawing import Drawing
from calculators._report import Figure
from calculators.formulas.adjuster_screw import Place

_CASE = 62.0  # face of the case
_HEAD = 196.0  # face of the head before
_DEEP = 62.0  # of the head
_MOST = 24.0  # the farthest that a head is drawn to move
_PANEL = 190.0  # from one panel to the next
_PLACE_WORDS = {
    "pushrod": "Adjuster at the pushrod end.",
    "valve": "Adjuster at the valve end.",
    "pivot": "Adjuster: a nut on the pivot.",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Side:
    """What the drawing shows; lengths in mm, words as the tables print them."""

    name: str
    shift: float
    spacer_before: float
    spacer_after: float
    place: Place  # of the adjuster
    tube_words: tuple[str, str]
    pushrod_words: tuple[str, str]
    lean_words: tuple[str, str]
    shift_words: str
    spacer_words: tuple[str, str]


@lru_cache(maxsize=16)
def side_drawing(side: Side) -> Figure:
    """Draw the side twice, one above the other, the head's movement enlarged."""
    moved = max(-_MOST, min(_MOST, side.shift * 16))
    thickest = max(side.spacer_before, side.spacer_after)
    spacer = min(16.0, 22.0 / thickest) if thickest else 0.0
    drawing = Drawing(340, 2 * _PANEL + 22)
    for number, (title, head, height, screw) in enumerate(
        (("Before", _HEAD, side.spacer_before, 0.0), ("After", _HEAD + moved, side.spacer_after, moved))
    ):
        _panel(drawing, number * _PANEL, head, height * spacer, screw, side, number)
        drawing.text(4, number * _PANEL + 10, title, "number", anchor="start")
    drawing.line(_HEAD, 16, _HEAD, 2 * _PANEL - 30, "route")
    _shift(drawing, moved, side.shift_words)
    alternative = (
        f"Side of the engine with cylinder {side.name}, before and after. Head {side.shift_words}. "
        f"Spacers {side.spacer_words[0]} before, {side.spacer_words[1]} after. "
        f"Tube between its seats: {side.tube_words[0]}, then {side.tube_words[1]}. "
        f"Pushrod for the same rocker: {side.pushrod_words[0]}, then {side.pushrod_words[1]}. "
        f"Rocker off square at half lift: {side.lean_words[0]}, then {side.lean_words[1]}. "
        f"{_PLACE_WORDS[side.place]}"
    )
    return Figure(
        key="side",
        title=f"The side with cylinder {side.name}, before and after; not to scale, movement enlarged",
        svg=drawing.svg(alternative),
    )


def _panel(drawing: Drawing, top: float, head: float, spacer: float, screw: float, side: Side, number: int) -> None:
    """Draw one state: barrel above, tube and pushrod below, the rocker at the right."""
    drawing.rectangle(4, top + 20, _CASE - 4, 112, "part")
    drawing.text(33, top + 50, "Case", "words")
    if spacer:
        drawing.rectangle(_CASE, top + 28, spacer, 48, "spacer")
    drawing.rectangle(_CASE + spacer, top + 28, head - _CASE - spacer, 48, "part")
    drawing.text((_CASE + 26 + head) / 2, top + 52, "Barrel", "words")
    drawing.rectangle(head, top + 20, _DEEP, 112, "part")
    drawing.text(head + _DEEP / 2, top + 94, "Head", "words")
    drawing.rectangle(_CASE - 6, top + 100, head - _CASE + 12, 20, "stud")
    _rocker(drawing, top, head + _DEEP, screw, side)
    drawing.text((_CASE + head) / 2, top + 90, f"Tube {side.tube_words[number]}", "words")
    drawing.text(4, top + 146, f"Pushrod {side.pushrod_words[number]}", "words", anchor="start")
    drawing.text(336, top + 146, f"off square {side.lean_words[number]}", "words", anchor="end")
    drawing.text(4, top + 163, f"Spacers {side.spacer_words[number]}", "words", anchor="start")


def _rocker(drawing: Drawing, top: float, face: float, screw: float, side: Side) -> None:
    """Draw pushrod, rocker, adjuster and valve stem; it leans where the adjuster is not at the pushrod."""
    leaning = 0.0 if side.place == "pushrod" else max(-8.0, min(8.0, screw / 3))
    if side.place == "pivot":
        leaning /= 2
    pivot, middle = face + 30 - (leaning if side.place == "pivot" else 0.0), top + 74
    low, high = (pivot - leaning, top + 110), (pivot + leaning, top + 38)
    ball = low[0] - 12 - (screw if side.place == "pushrod" else 0)
    tip = high[0] - 12 - (2 * leaning if side.place == "valve" else 0)
    drawing.line(20, top + 110, ball - 4, top + 110, "arrow")
    drawing.line(ball, top + 110, low[0], top + 110, "edge")
    drawing.circle(ball, top + 110, 4, "chosen" if side.place == "pushrod" else "part")
    drawing.rectangle(face - 26, top + 34, tip - 4 - face + 26, 8, "stud")
    drawing.line(tip, top + 38, high[0], top + 38, "edge")
    drawing.circle(tip, top + 38, 4, "chosen" if side.place == "valve" else "part")
    drawing.path([low, (pivot, middle), high], "arrow")
    drawing.circle(pivot, middle, 7, "chosen" if side.place == "pivot" else "part")
    drawing.text(336, top + 10, "Rocker", "words", anchor="end")


def _shift(drawing: Drawing, moved: float, words: str) -> None:
    """Draw by how much the head's face has moved."""
    level = 2 * _PANEL - 26
    if abs(moved) >= 4:
        drawing.line(_HEAD + moved, level - 24, _HEAD + moved, level + 6, "thin")
        drawing.arrow(_HEAD, level, _HEAD + moved, level, "arrow", head=min(8, abs(moved) / 2))
    drawing.text(_HEAD - 6, level + 26, f"Head {words}", "number")
