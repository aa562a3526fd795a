"""The engine from above, with what each cylinder points to written on its barrel."""

from __future__ import annotations

from calculators.bench import Drawing, Figure

_ROW, _BARREL = 62.0, 104.0


def suspects_figure(banks: tuple[tuple[int, ...], ...], short: dict[int, tuple[str, str]], said: str) -> Figure:
    """Draw the cylinders where they lie, the pulley towards the reader.

    Parameters
    ----------
    banks : tuple of tuples of int
        The cylinders under each head, counted from the pulley end; of two, the first to the left.
    short : mapping of int to (str, str)
        Two short lines for each cylinder that points to something; the others are sound, or were not tested.
    said : str
        The same as a sentence.
    """
    left, right = (banks[0], banks[1]) if len(banks) == 2 else ((), tuple(number for bank in banks for number in bank))
    rows = max(len(left), len(right))
    foot = 12 + _ROW * rows
    drawing = Drawing(340, foot + 50)
    drawing.rectangle(140, 6, 60, foot - 2, "edge")
    drawing.rectangle(162, foot + 4, 16, 10, "edge")
    drawing.rectangle(132, foot + 14, 76, 12, "edge", 3)
    drawing.text(170, foot + 38, "pulley")
    for bank, x, head in ((left, 140 - _BARREL, 10.0), (right, 200.0, 304.0)):
        for place, number in enumerate(bank):
            y = 10 + _ROW * (rows - 1 - place)
            marked = number in short
            drawing.rectangle(x, y, _BARREL, _ROW - 8, "band" if marked else "edge")
            drawing.text(x + _BARREL / 2, y + (12 if marked else 27), str(number), "number")
            for line, words in enumerate(short.get(number, ())):
                drawing.text(x + _BARREL / 2, y + 28 + 15 * line, words, "words")
        if bank:
            low = 10 + _ROW * (rows - len(bank))
            drawing.rectangle(head, low, 26, _ROW * len(bank) - 8, "part")
    return Figure(
        key="suspects",
        title="The engine from above, pulley towards you; on each barrel, what it points to",
        svg=drawing.svg(said),
    )
