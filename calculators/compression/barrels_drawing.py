"""The engine from above, pulley towards the reader: what goes under each barrel, and how far the heads move."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import lru_cache

from calculators.bench import Drawing, Figure

_ROW = 54.0


@lru_cache(maxsize=16)
def barrels_map(
    heads: tuple[tuple[int, ...], ...],
    under: tuple[str, ...],
    unit: str,
    what: str,
    moves: tuple[str, ...] = (),
) -> Figure:
    """Draw the case in the middle, the barrels of each head beside it, and what is under each barrel.

    Parameters
    ----------
    heads : tuple of tuples of int
        Cylinders counted from nought; the first head lies to the left, the next to the right.
    under : tuple of str
        Of each cylinder, as the fingers pick it, without unit; ``"none"`` where nothing is.
    unit : str
    what : str
        The title, and what it is in words.
    moves : tuple of str, optional
        How far each head moves out, as printed.
    """
    pairs = list(itertools.batched(heads, 2, strict=False))
    rows = [max(map(len, pair)) for pair in pairs]
    height = 8 + sum(_ROW * count + 24 for count in rows)
    drawing = Drawing(340, height + 40)
    foot = height
    for place, (pair, count) in enumerate(zip(pairs, rows, strict=True)):
        top = foot - _ROW * count - 20
        drawing.rectangle(144, top, 52, _ROW * count + 4, "part", round=4)
        drawing.text(170, top + _ROW * count / 2, "case")
        for side, head in zip((-1, 1), pair, strict=False):
            low = top + _ROW * (count - len(head))
            _head(drawing, side, low, head, under, moves[2 * place + (side > 0)] if moves else "")
        foot -= _ROW * count + 24
    drawing.rectangle(163, height - 16, 14, 8, "part")
    drawing.rectangle(143, height - 8, 54, 14, "part", round=3)
    drawing.text(170, height + 26, f"pulley end, towards you · {unit}")
    said = "; ".join(
        f"head over {' '.join(str(one + 1) for one in head)}: "
        + ", ".join(f"cylinder {one + 1} {under[one]}{'' if under[one] == 'none' else f' {unit}'}" for one in head)
        + (f", moves out by {moves[place]}" if moves else "")
        for place, head in enumerate(heads)
    )
    return Figure(key="barrels", title=what, svg=drawing.svg(f"{what}. {said[0].upper()}{said[1:]}."))


def _head(drawing: Drawing, side: int, top: float, head: Sequence[int], under: Sequence[str], moves: str) -> None:
    """Draw one side: spacers at the case, barrels, the head outside."""
    at = 170 + side * 26

    def box(near: float, far: float, y: float, height: float, look: str) -> None:
        left, right = sorted((at + side * near, at + side * far))
        drawing.rectangle(left, y, right - left, height, look)

    for row, cylinder in enumerate(head):
        y = top + 4 + _ROW * (len(head) - 1 - row)
        near = 8 if under[cylinder] != "none" else 0
        for fin in range(6):
            x = at + side * (18 + fin * 16)
            drawing.line(x, y, x, y + _ROW - 8, "edge")
        box(near, 104, y + 5, _ROW - 18, "part")
        if near:
            box(0, 8, y + 1, _ROW - 10, "spacer")
        middle = at + side * 56
        drawing.text(middle, y + 15, str(cylinder + 1), "number")
        drawing.text(middle, y + 32, under[cylinder])
    box(104, 124, top + 2, _ROW * len(head), "part")
    for fin in range(1, 5 * len(head)):
        y = top + 2 + _ROW * fin / 5
        box(118, 124, y, 0, "thin")
    if moves:
        y = top + _ROW * len(head) + 13
        drawing.arrow(at + side * 94, y, at + side * 124, y, "hand")
        drawing.text(at + side * 88, y, moves, "number", anchor="end" if side > 0 else "start")
