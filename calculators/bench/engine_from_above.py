"""An engine from above, its pulley towards the reader, with words beside each cylinder."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from contextlib import nullcontext

from calculators.bench.drawing import Drawing

_MOST_WORDED_BANKS = 4


def from_above(
    banks: Sequence[Sequence[int]],
    lines: Mapping[int, Sequence[str]],
    first: Collection[int] = (),
    movable: bool = False,
) -> Drawing:
    """Draw an engine from above, its pulley towards the reader.

    Parameters
    ----------
    banks : sequence of sequence of int
        The cylinders of each bank, from the pulley end.
    lines : mapping of int to sequence of str
        What is written beside each cylinder where there is room: one line, two or none.
    first : collection of int
        The cylinders that are drawn strong.
    movable : bool
        Each cylinder can be taken up by the page.
    """
    rows = max(map(len, banks))
    top, pitch = 34.0, 42.0
    foot = top + rows * pitch + 8
    drawing = Drawing(340, foot + 46)
    width = 340 / len(banks)
    worded = len(banks) <= _MOST_WORDED_BANKS
    drawing.line(170, top, 170, foot + 12, "thin")
    for column, bank in enumerate(banks):
        middle = (column + 0.5) * width
        half = min(width / 2 - 2, 54)
        drawing.rectangle(middle - half, top, 2 * half, rows * pitch, "part", round=8)
        if worded and len(banks) > 1:
            drawing.text(middle, top - 16, f"bank {column + 1}")
        for row, cylinder in enumerate(bank):
            x, y = middle - (26 if worded else 0), top + (rows - row - 0.5) * pitch
            with drawing.mark(cylinder=cylinder) if movable else nullcontext():
                if movable:
                    drawing.circle(x, y, min(pitch / 2, half), "reach")
                drawing.circle(x, y, min(16, half), "stud first" if cylinder in first else "stud")
                drawing.text(x, y, str(cylinder), "number", size=16 if worded else 14)
            beside = lines.get(cylinder, ()) if worded else ()
            for offset, line in zip((-9, 9) if len(beside) > 1 else (0,), beside, strict=False):
                drawing.text(x + 22, y + offset, line, anchor="start")
    drawing.rectangle(130, foot + 8, 80, 12, "part", round=3)
    drawing.text(170, foot + 32, "pulley end, towards you")
    return drawing
