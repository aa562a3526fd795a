"""A stud in its case, cut through: the thread that is in, and the thread that must be."""

from __future__ import annotations

from calculators.bench import Drawing, Figure
from calculators.formulas.threads import Thread

_FACE, _DEEP = 62.0, 122.0


def stud_in_case(thread: Thread, needed: float, engaged: float | None, told: tuple[str, str], inserted: bool) -> Figure:
    """Draw stud and case to scale along the stud; the face of the case is up.

    Parameters
    ----------
    needed, engaged : float, [mm]
        Length of thread that is sure to hold, and the length that is in, where it is known.
    told : (str, str)
        How both are said.
    inserted : bool
        A wire insert stands between stud and case.
    """
    unit = _DEEP / max(needed, engaged or 0.0, thread.major)
    half = min(max(unit * thread.major / 2, 14), 38)
    middle, foot = 104.0, _FACE + _DEEP + 22
    deep = unit * (engaged if engaged is not None else needed)
    drawing = Drawing(340, foot + 6)
    drawing.cut_box(14, _FACE, 180, foot - _FACE, "aluminium")
    drawing.rectangle(middle - half, _FACE, 2 * half, deep + 12, "space")
    if inserted:
        for side in (middle - half - 7, middle + half):
            drawing.rectangle(side, _FACE, 7, deep, "spacer")
    drawing.rectangle(middle - half, 12, 2 * half, _FACE - 12 + deep, "stud")
    step = max(unit * thread.pitch, 5)
    y = _FACE
    while y + step <= _FACE + deep:
        drawing.line(middle - half, y + step, middle + half, y, "thin")
        y += step
    drawing.arrow(middle, 42, middle, 4, "hand")
    drawing.text(middle - half - 8, 24, "pull", "words", "end")
    _depth(drawing, 206, unit * needed, ("needed", told[0]), "number")
    if engaged is not None:
        _depth(drawing, 288, unit * engaged, ("in", told[1]), "words")
    drawing.line(194, _FACE, 330, _FACE, "thin")
    known = f", {told[1]} are in" if engaged is not None else ""
    return Figure(
        key="stud_in_case",
        title="Stud and case in section, face of the case upwards",
        svg=drawing.svg(
            f"{thread.name} in the case{' with a wire insert' if inserted else ''}: {told[0]} of thread needed{known}."
        ),
    )


def _depth(drawing: Drawing, x: float, deep: float, words: tuple[str, str], look: str) -> None:
    """Draw a length down from the face of the case."""
    drawing.arrow(x, _FACE + deep / 2, x, _FACE + deep)
    drawing.line(x - 14, _FACE + deep, x + 14, _FACE + deep)
    drawing.line(x, _FACE, x, _FACE + deep / 2, "arrow")
    for row, word_ in enumerate(words):
        drawing.text(x + 7, 28 + 18 * row, word_, look)
