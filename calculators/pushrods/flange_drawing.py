"""A flange beside its pipe, and the play of its stud holes."""

from __future__ import annotations

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures

_MIDDLE, _MOST = 150.0, 34.0


def flange_drawing(which: str, along: float, opens: float, play: float) -> Figure:
    """Draw a flange over its pipe's, cut through the middle, the way that it has slid enlarged; lengths in mm."""
    scale = 14.0 / max(play, 0.25)
    aside = max(-_MOST, min(_MOST, along * scale))
    gap = max(0.0, min(14.0, opens * 8))
    clear = max(3.0, min(14.0, play * scale))
    drawing = Drawing(340, 214)
    left = _MIDDLE + aside
    for sides, x, y in ((("head",), left, 66.0), (("pipe",), _MIDDLE, 100.0 + gap)):
        drawing.rectangle(x - 106, y, 74, 32, "part")
        drawing.rectangle(x + 32, y, 74, 32, "part")
        drawing.text(316, y + 16, sides[0], "words", "middle")
    for x in (-70.0, 70.0):
        drawing.rectangle(_MIDDLE + x - 6 - clear, 100 + gap, 12 + 2 * clear, 32, "space")
        drawing.rectangle(left + x - 6, 58, 12, 92 + gap, "stud")
    drawing.line(_MIDDLE, 40, _MIDDLE, 168, "route")
    drawing.line(left, 40, left, 100, "thin")
    if abs(aside) > 5:
        drawing.arrow(_MIDDLE, 46, left, 46, "arrow", head=7)
    drawing.text(_MIDDLE, 26, f"{figures(abs(along), 2)} mm aside", "number")
    drawing.text(_MIDDLE, 184, f"holes give {figures(play, 2)} mm", "number")
    if abs(opens) >= 0.005:
        told = f"joint {'opens' if opens > 0 else 'presses'} {figures(abs(opens), 2)} mm"
        drawing.text(_MIDDLE, 204, told, "words")
    return Figure(
        key="flange",
        title=f"The {which} flange of the head above, its pipe below, cut through the studs; movement enlarged",
        svg=drawing.svg(
            f"{which.capitalize()} flange {figures(abs(along), 2)} mm beside its pipe; its holes give "
            f"{figures(play, 2)} mm. Joint opens {figures(opens, 2)} mm."
        ),
    )
