"""The springs of every valve on their shims."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain
from calculators.springs.spring_drawing import spiral

_ACROSS, _STEP, _TALL = 4, 84.0, 150.0
_MOST = 12
_PER_MM = 12.0
"""Thickness at which a millimetre of shim is drawn: a shim to scale could not be seen."""


def shims_under(valves: Sequence[tuple[int, tuple[float, ...], float]], wanted: float) -> Figure:
    """Draw springs on their shims, four beside one another, the head below.

    Parameters
    ----------
    valves : sequence of (int, tuple of float, float), [mm]
        Number, pile of shims, and height of the springs on them.
    wanted : float, [mm]
        Height for the load wanted.
    """
    shown = valves[:_MOST]
    rows = -(-len(shown) // _ACROSS)
    piles = {number: _lines(pile) for number, pile, _ in shown}
    tall = _TALL + 16 * (max(map(len, piles.values()), default=1) - 1)
    drawing = Drawing(340, rows * tall + 6)
    left = (340 - _STEP * min(len(shown), _ACROSS)) / 2
    for place, (number, pile, height) in enumerate(shown):
        x = left + _STEP * (place % _ACROSS + 0.5)
        foot = tall * (place // _ACROSS) + 108
        drawing.line(x - 34, foot, x + 34, foot, "edge")
        at = foot
        for shim in pile:
            thick = min(shim * _PER_MM, 24)
            at -= thick
            drawing.rectangle(x - 28, at, 56, thick, "spacer")
        spiral(drawing, x, foot - 84, at, 22, 5, "edge")
        drawing.line(x - 28, foot - 84, x + 28, foot - 84, "arrow")
        drawing.text(x, foot - 98, f"{number}", "number")
        for line, words in enumerate(piles[number]):
            drawing.text(x, foot + 16 + 16 * line, words, "number")
        drawing.text(x, foot + 18 + 16 * len(piles[number]), f"{figures(height, 2)} mm")
    said = "; ".join(
        f"valve {number}: {' + '.join(plain(shim) for shim in pile) or 'no shim'}, {figures(height, 2)} mm"
        for number, pile, height in valves
    )
    more = "" if len(shown) == len(valves) else f"; valves 1 to {_MOST}, the others in the table"
    return Figure(
        key="shims",
        title=f"Retainer above, head below; shims thickened; {figures(wanted, 2)} mm wanted{more}",
        svg=drawing.svg(f"Springs on their shims: {said}. Wanted: {figures(wanted, 2)} mm."),
    )


def _lines(pile: Sequence[float]) -> list[str]:
    """Return a pile in words: on one line where it is short, else each shim on its own."""
    words = [plain(shim) for shim in pile] or ["none"]
    joined = "+".join(words)
    return [joined] if len(joined) <= 8 else [*(f"{word} +" for word in words[:-1]), words[-1]]
