"""Drawings of the measuring room: what to take out of a chamber, a crown down its barrel, decks under one head."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from calculators.bench import Drawing, Figure

_CELL = 104.0


@lru_cache(maxsize=16)
def bowls(volumes: tuple[str, ...], out: tuple[str, ...], shares: tuple[float, ...], unit: str) -> Figure:
    """Draw each chamber as a bowl, what is to come out of its roof as a band over it.

    Parameters
    ----------
    volumes, out : tuple of str
        As printed; ``out`` is empty where nothing is to come out.
    shares : tuple of float
        What is to come out, as a share of the most of them.
    unit : str
    """
    across = 2 if len(volumes) == 4 else min(len(volumes), 3)
    width = 340 / across
    rows = math.ceil(len(volumes) / across)
    drawing = Drawing(340, 24 + rows * _CELL)
    drawing.text(170, 12, f"Chambers, roof up, in {unit}", "words")
    for index, (volume, more, share) in enumerate(zip(volumes, out, shares, strict=True)):
        x, face = width * (index % across + 0.5), 24 + _CELL * (index // across) + 70
        half, height = min(46.0, width / 2 - 16), 40.0
        if more:
            band = 3 + 9 * share
            drawing.cut(_dome(x, face, half + band, height + band), "iron", "spacer")
        drawing.path(_dome(x, face, half, height), "part", closed=True)
        drawing.text(x, face - 14, str(index + 1), "number")
        drawing.text(x, face + 12, volume, "words")
        if more:
            drawing.text(x, face + 28, f"out {more}", "number")
    said = "; ".join(
        f"cylinder {number} {volume} {unit}, {f'take out {more} {unit}' if more else 'leave it'}"
        for number, (volume, more) in enumerate(zip(volumes, out, strict=True), 1)
    )
    return Figure(
        key="bowls",
        title="Each chamber, and what to take out of it to match the largest",
        svg=drawing.svg(f"What each chamber holds: {said}."),
    )


def _dome(x: float, face: float, half: float, height: float) -> list[tuple[float, float]]:
    return [
        (x + half * math.cos(math.pi * step / 24), face - height * math.sin(math.pi * step / 24)) for step in range(25)
    ]


@lru_cache(maxsize=16)
def crown_section(crown: float, bore: float, depth: float | None, cylinder: int, words: str) -> Figure:
    """Draw a piston down its barrel, filled or not, its crown dished or domed.

    Parameters
    ----------
    crown : float, [cm³]
    bore : float, [mm]
    depth : float, [mm], optional
        How far the piston stands down, where it was filled.
    cylinder : int
    words : str
        The crown's volume, as printed.
    """
    drawing = Drawing(340, 216)
    left, right, top, bottom = 90.0, 250.0, 40.0, 200.0
    edge = top + 56
    bow = max(-30.0, min(30.0, crown / (math.pi / 4 * bore**2 / 100) * 60))
    crowned = [(left + (right - left) * step / 24, edge + bow * math.sin(math.pi * step / 24)) for step in range(25)]
    if depth is not None:
        drawing.path([(left, top), *crowned, (right, top)], "band", closed=True)
        drawing.arrow(left + 12, top, left + 12, edge, "arrow")
        drawing.text(left + 20, top + 13, f"{depth:.4g} mm", "number", anchor="start")
    drawing.path([*crowned, (right, bottom), (left, bottom)], "part", closed=True)
    for wall in (left - 14, right):
        drawing.cut_box(wall, top, 14, bottom - top)
    drawing.text(170, 14, f"Cylinder {cylinder}, barrel's top up", "words")
    drawing.text(170, edge + max(bow, 0) + 26, words, "number")
    drawing.text(170, bottom - 16, "Piston", "words")
    drawing.text(right + 20, top + 20, "Barrel", "words", anchor="start")
    shape = "dished" if crown > 0 else "domed" if crown < 0 else "flat"
    down = f", set down {depth:.4g} mm and filled" if depth is not None else ""
    return Figure(
        key="crown",
        title="The crown with the largest volume; its curve is not to scale",
        svg=drawing.svg(f"Section of cylinder {cylinder}: piston{down}, crown {shape}, {words}."),
    )


@lru_cache(maxsize=16)
def deck_steps(
    heads: tuple[tuple[int, ...], ...], decks: tuple[float, ...], words: tuple[str, ...], verdicts: tuple[str, ...]
) -> Figure:
    """Draw the pistons under each head beside one another, each at its depth below one line of barrel tops.

    Parameters
    ----------
    heads : tuple of tuples of int
        Counted from 1.
    decks : tuple of float, [mm]
        Of each cylinder.
    words : tuple of str
        The same as printed.
    verdicts : tuple of str
        One for each head.
    """
    drawing = Drawing(340, 20 + 152 * len(heads))
    deepest, shallowest = max(decks), min(decks)
    scale = 34 / (deepest - shallowest) if deepest > shallowest else 0.0
    for row, (head, verdict) in enumerate(zip(heads, verdicts, strict=True)):
        top = 52 + 152.0 * row
        width = min(110.0, 320 / len(head))
        start = 170 - width * len(head) / 2
        drawing.text(170, top - 36, f"Head over {' '.join(map(str, head))}", "words")
        drawing.text(170, top - 18, verdict, "words")
        drawing.line(start, top, start + width * len(head), top, "thin")
        for place, cylinder in enumerate(head):
            x = start + width * (place + 0.5)
            crown = top + 10 + scale * (decks[cylinder - 1] - shallowest)
            for wall in (x - width / 2, x + width / 2 - 8):
                drawing.cut_box(wall, top, 8, 96)
            drawing.rectangle(x - width / 2 + 9, crown, width - 18, top + 92 - crown, "spacer", round=2)
            drawing.text(x, top + 64, words[cylinder - 1], "number")
            drawing.text(x, top + 82, f"cyl {cylinder}", "words")
    return Figure(
        key="steps",
        title="Pistons below the tops of their barrels, differences enlarged",
        svg=drawing.svg(_said(heads, words, verdicts)),
    )


def _said(heads: Sequence[Sequence[int]], words: Sequence[str], verdicts: Sequence[str]) -> str:
    each = "; ".join(
        f"head over {' '.join(map(str, head))}: {', '.join(words[cylinder - 1] for cylinder in head)}, {verdict}"
        for head, verdict in zip(heads, verdicts, strict=True)
    )
    return f"Deck heights in mm. {each[0].upper()}{each[1:]}."
