"""The barrels from above, pulley end up: what goes under each, and how far the heads move."""

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
    drawing = Drawing(340, 26 + sum(_ROW * count + 22 for count in rows))
    drawing.text(170, 12, f"↑ pulley end · {unit}", "words")
    top = 26.0
    for place, (pair, count) in enumerate(zip(pairs, rows, strict=True)):
        drawing.rectangle(144, top, 52, _ROW * count + 4, "part")
        drawing.text(170, top + _ROW * count / 2, "Case", "words")
        for side, head in zip((-1, 1), pair, strict=False):
            _head(drawing, side, top, head, under, moves[2 * place + (side > 0)] if moves else "")
        top += _ROW * count + 22
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
        y = top + 4 + _ROW * row
        if under[cylinder] != "none":
            box(0, 7, y, _ROW - 8, "spacer")
        box(7 if under[cylinder] != "none" else 0, 104, y + 3, _ROW - 14, "part")
        middle = at + side * 56
        drawing.text(middle, y + 13, str(cylinder + 1), "number")
        drawing.text(middle, y + 31, under[cylinder], "words")
    box(104, 122, top + 2, _ROW * len(head), "part")
    if moves:
        y = top + _ROW * len(head) + 12
        drawing.arrow(at + side * 70, y, at + side * 122, y)
        drawing.text(at + side * 64, y, moves, "number", anchor="end" if side > 0 else "start")
