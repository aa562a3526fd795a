"""The engine from above, pulley towards the reader: what goes under each barrel, and how far the heads move."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.drawing import width_about

_ROW, _LINE = 54.0, 16.0
_ROOM = 92.0  # for words across a barrel


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
    lines = [_lines(words) for words in under]
    row_height = _ROW + _LINE * (max(map(len, lines)) - 1)
    pairs = list(itertools.batched(heads, 2, strict=False))
    rows = [max(map(len, pair)) for pair in pairs]
    height = 8 + sum(row_height * count + 24 for count in rows)
    drawing = Drawing(340, height + 40)
    foot = height
    for place, (pair, count) in enumerate(zip(pairs, rows, strict=True)):
        top = foot - row_height * count - 20
        drawing.rectangle(144, top, 52, row_height * count + 4, "part", round=4)
        drawing.text(170, top + row_height * count / 2, "case")
        for side, head in zip((-1, 1), pair, strict=False):
            low = top + row_height * (count - len(head))
            _head(drawing, side, low, head, lines, row_height, moves[2 * place + (side > 0)] if moves else "")
        foot -= row_height * count + 24
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


def _head(
    drawing: Drawing,
    side: int,
    top: float,
    head: Sequence[int],
    under: Sequence[Sequence[str]],
    tall: float,
    moves: str,
) -> None:
    """Draw one side: spacers at the case, barrels, the head outside."""
    at = 170 + side * 26

    def box(near: float, far: float, y: float, height: float, look: str) -> None:
        left, right = sorted((at + side * near, at + side * far))
        drawing.rectangle(left, y, right - left, height, look)

    for row, cylinder in enumerate(head):
        y = top + 4 + tall * (len(head) - 1 - row)
        near = 8 if under[cylinder] != ["none"] else 0
        for fin in range(6):
            x = at + side * (18 + fin * 16)
            drawing.line(x, y, x, y + tall - 8, "edge")
        box(near, 104, y + 5, tall - 18, "part")
        if near:
            box(0, 8, y + 1, tall - 10, "spacer")
        middle = at + side * 56
        drawing.text(middle, y + 15, str(cylinder + 1), "number")
        for place, words in enumerate(under[cylinder]):
            drawing.text(middle, y + 32 + _LINE * place, words)
    box(104, 124, top + 2, tall * len(head), "part")
    for fin in range(1, 5 * len(head)):
        y = top + 2 + tall * fin / 5
        box(118, 124, y, 0, "thin")
    if moves:
        y = top + tall * len(head) + 13
        drawing.arrow(at + side * 94, y, at + side * 124, y, "hand")
        drawing.text(at + side * 88, y, moves, "number", anchor="end" if side > 0 else "start")


def _lines(words: str) -> list[str]:
    """Break a stack of spacers where it is wider than a barrel."""
    first, *others = words.split(" + ")
    lines = [first]
    for piece in others:
        if width_about(f"{lines[-1]} + {piece}") <= _ROOM:
            lines[-1] += f" + {piece}"
        else:
            lines.append(f"+ {piece}")
    return lines
