"""The foot of a spark plug, with what is seen on it."""

from __future__ import annotations

from functools import lru_cache

from calculators.bench import Drawing, Figure

_MIDDLE = 92.0
_NOSE = ((_MIDDLE - 17, 84.0), (_MIDDLE + 17, 84.0), (_MIDDLE + 9, 132.0), (_MIDDLE - 9, 132.0))
_SPOTS = (
    (-9, 92),
    (4, 96),
    (11, 90),
    (-3, 104),
    (7, 108),
    (-8, 112),
    (2, 118),
    (-4, 126),
    (6, 127),
    (-26, 132),
    (26, 131),
)


@lru_cache(maxsize=8)
def plug_foot(look: str, seen: str) -> Figure:
    """Draw the foot of a plug in half section, and name where to look.

    Parameters
    ----------
    look, seen : str
        Its look as the code compares it, and as the reader sees it.
    """
    drawing = Drawing(340, 196)
    drawing.rectangle(_MIDDLE - 44, 14, 88, 24, "part")
    for side in (-34, 20):
        drawing.cut_box(_MIDDLE + side, 38, 14, 100)
    drawing.rectangle(_MIDDLE - 20, 38, 40, 46, "edge")
    drawing.path(list(_NOSE), "edge", closed=True)
    drawing.rectangle(_MIDDLE - 4, 132, 8, 14, "stud")
    drawing.path([(_MIDDLE + 30, 138), (_MIDDLE + 30, 164), (_MIDDLE - 10, 164)], "edge")
    _seen(drawing, look)
    for y, words, x in (
        (98.0, "nose of the insulator", 12.0),
        (142.0, "middle electrode", 5.0),
        (164.0, "earth", 30.0),
    ):
        drawing.line(_MIDDLE + x, y, 176, y, "thin")
        drawing.circle(_MIDDLE + x, y, 2.5, "pointer")
        drawing.text(180, y, words, "words", "start")
    first, _, rest = seen.partition(", ")
    drawing.text(180, 40, first if rest else seen, "number", "start")
    if rest:
        drawing.text(180, 60, rest, "number", "start")
    return Figure(
        key="plug", title="Foot of the plug, in half section", svg=drawing.svg(f"Foot of a spark plug: {seen.lower()}.")
    )


def _seen(drawing: Drawing, look: str) -> None:
    """Put onto the foot what is seen there: soot as dots, metal as beads, oil and fuel as drops."""
    for place, (x, y) in enumerate(_SPOTS):
        at = _MIDDLE + x
        if look == "sooty":
            drawing.circle(at, y, 2.4, "pointer")
        elif look == "white" and place % 3 == 0:
            drawing.circle(at, y, 3, "edge")
        elif look in ("oily", "wet") and place % 2 == 0:
            drawing.path([(at, y - 6), (at + 4, y + 2), (at, y + 5), (at - 4, y + 2)], "edge", closed=True)
            if look == "oily":
                drawing.circle(at, y + 1, 2, "pointer")
