"""The rim with its marks, to scale."""

from __future__ import annotations

import itertools
from functools import lru_cache

from calculators.bench import Drawing, Figure, around
from calculators.bench.drawing import width_about
from calculators.bench.words import word
from calculators.timing.rim import HOLDER_WORDS

_LETTERS = "ABCDEFGHIJKLMNOPQRST"
_ROW = 19.0
_ROOM = 308.0
"""For what a mark is and where it goes; what needs more takes two rows."""


@lru_cache(maxsize=32)
def rim_figure(
    marks: tuple[tuple[str, float, bool, str, str], ...], clockwise: bool, rotation: str, on_rim: bool
) -> Figure:
    """Draw the whole rim with cylinder 1 up, the piece with its marks unrolled, and what each letter is.

    Parameters
    ----------
    marks : tuple of (str, float, bool, str, str)
        Name, degrees ahead of the top mark, whether it is a top, where it goes in words, and its name in brief.
    clockwise : bool
        Whether ahead is clockwise.
    rotation : str
        Of the crank.
    on_rim : bool
        Or else the marks stand on the case.
    """
    near = [place for place, (_, ahead, top, *_) in enumerate(marks) if not top or ahead == 0]
    strip = 188.0
    long = [width_about(brief) + width_about(where) > _ROOM for *_, where, brief in marks]
    drawing = Drawing(340, strip + 70 + _ROW * (len(marks) + sum(long)))
    _whole_rim(drawing, marks, clockwise, rotation, on_rim)
    sign = 1 if clockwise else -1
    spans = [sign * marks[place][1] for place in near]
    low, high = min(spans), max(spans)
    scale = 270 / max(high - low, 10)
    left = 170 - scale * (low + high) / 2
    drawing.rectangle(6, strip + 26, 328, 22, "part")
    tags = _spread([left + scale * span for span in spans], 15)
    for place, span, tag in zip(near, spans, tags, strict=True):
        x = left + scale * span
        drawing.line(x, strip + 26, x, strip + 48, "arrow" if marks[place][2] else "edge")
        drawing.line(x, strip + 26, tag, strip + 16, "thin")
        drawing.text(tag, strip + 8, _LETTERS[place], "number")
    y = strip + 66
    for row, (_, _, _, where, brief) in enumerate(marks):
        drawing.text(8, y, _LETTERS[row], "number", anchor="start")
        drawing.text(26, y, brief, anchor="start")
        if long[row]:
            y += _ROW
        drawing.text(334, y, where, "number", anchor="end")
        y += _ROW
    said = "; ".join(f"{name}: {where}" for name, _, _, where, _ in marks)
    holder = HOLDER_WORDS[on_rim]
    return Figure(
        key="rim",
        title=f"The {holder}'s marks, cylinder 1 at its top, and the piece with the advance marks unrolled",
        svg=drawing.svg(
            f"Marks on the {holder} in millimetres from the top mark. The crank turns {word(rotation)}. {said}."
        ),
    )


def _whole_rim(
    drawing: Drawing, marks: tuple[tuple[str, float, bool, str, str], ...], clockwise: bool, rotation: str, on_rim: bool
) -> None:
    x, y, radius = 170.0, 100.0, 66.0
    drawing.circle(x, y, radius, "part")
    drawing.circle(x, y, 8, "stud")
    inner, outer = (radius - 14, radius) if on_rim else (radius, radius + 14)
    for letter, (_, ahead, top, *_) in zip(_LETTERS, marks, strict=False):
        angle = ahead if clockwise else -ahead
        ends = around(x, y, inner, angle), around(x, y, outer, angle)
        drawing.line(*ends[0], *ends[1], "arrow" if top else "edge")
        if top:
            drawing.text(*around(x, y, radius - 26 if on_rim else radius + 24, angle), letter, "number")
    if on_rim:
        drawing.path([(x, y - radius - 2), (x - 7, y - radius - 16), (x + 7, y - radius - 16)], "pointer", closed=True)
        drawing.text(x + 14, y - radius - 14, "pointer", anchor="start")
    else:
        drawing.path([(x, y - radius + 14), (x - 6, y - radius), (x + 6, y - radius)], "pointer", closed=True)
    turn = 1 if rotation == "clockwise" else -1
    drawing.arc(x, y, 24, -60 * turn, 120 * turn, "arrow")
    drawing.arrowhead(*around(x, y, 24, 60 * turn), 60 * turn + (0 if turn > 0 else 180), "arrow")
    drawing.text(4, y + 4, "turns", anchor="start")
    drawing.text(4, y + 21, word(rotation), anchor="start")


def _spread(places: list[float], gap: float) -> list[float]:
    """Move letters apart until each has its room, as near to their marks as the paper lets them."""
    order = sorted(range(len(places)), key=places.__getitem__)
    moved = list(places)
    for before, after in itertools.pairwise(order):
        moved[after] = max(moved[after], moved[before] + gap)
    room = 330.0
    for place in reversed(order):
        moved[place] = min(moved[place], room)
        room = moved[place] - gap
    return moved
