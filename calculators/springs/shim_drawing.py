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
    drawing = Drawing(340, rows * _TALL + 6)
    left = (340 - _STEP * min(len(shown), _ACROSS)) / 2
    for place, (number, pile, height) in enumerate(shown):
        x = left + _STEP * (place % _ACROSS + 0.5)
        foot = _TALL * (place // _ACROSS) + 108
        drawing.line(x - 34, foot, x + 34, foot, "edge")
        at = foot
        for shim in pile:
            thick = min(shim * _PER_MM, 24)
            at -= thick
            drawing.rectangle(x - 28, at, 56, thick, "spacer")
        spiral(drawing, x, foot - 84, at, 22, 5, "edge")
        drawing.line(x - 28, foot - 84, x + 28, foot - 84, "arrow")
        drawing.text(x, foot - 98, f"{number}", "number")
        drawing.text(x, foot + 16, "+".join(plain(shim) for shim in pile) or "none", "number")
        drawing.text(x, foot + 34, f"{figures(height, 2)} mm")
    words = "; ".join(
        f"valve {number}: {' + '.join(plain(shim) for shim in pile) or 'no shim'}, {figures(height, 2)} mm"
        for number, pile, height in valves
    )
    more = "" if len(shown) == len(valves) else f"; valves 1 to {_MOST}, the others in the table"
    return Figure(
        key="shims",
        title=f"Retainer above, head below; shims thickened; {figures(wanted, 2)} mm wanted{more}",
        svg=drawing.svg(f"Springs on their shims: {words}. Wanted: {figures(wanted, 2)} mm."),
    )
