"""How a class or grade is marked: on the head of a bolt, and on the end of a stud."""

from __future__ import annotations

from functools import lru_cache

from calculators.bench import Drawing, Figure, around
from calculators.bench.words import word
from calculators.formulas.threads import Steel

_STROKES = {"three strokes": 3, "six strokes": 6}


@lru_cache(maxsize=16)
def marks(steel: Steel) -> Figure:
    """Draw a hexagon head and a stud's end, each seen from above with its mark."""
    drawing = Drawing(340, 196)
    head, end, level = 90.0, 250.0, 96.0
    drawing.text(head, 12, "Bolt head", "number")
    drawing.text(end, 12, "Stud end", "number")
    drawing.path([around(head, level, 66, angle) for angle in range(0, 360, 60)], "part", closed=True)
    drawing.circle(head, level, 54, "thin")
    strokes = _STROKES.get(steel.head, 0)
    for number in range(strokes):
        angle = number * 360 / strokes
        drawing.line(*around(head, level, 20, angle), *around(head, level, 48, angle), "arrow")
    if not strokes and steel.head != "none":
        drawing.text(head, level, steel.head, "number", size=30)
    drawing.circle(end, level, 48, "part")
    drawing.circle(end, level, 40, "thin")
    _end_sign(drawing, end, level, steel)
    drawing.text(head, 182, word(steel.head) if strokes or steel.head == "none" else f"the figure {steel.head}")
    drawing.text(end, 182, "as the maker marks it" if steel.graded else _end_words(steel))
    return Figure(
        key="marks",
        title=f"How {steel.name if steel.graded else f'class {steel.name}'} is marked, where it is marked at all",
        svg=drawing.svg(
            f"Bolt head with the mark: {word(steel.head)}. "
            f"End of a stud with the mark: {'as the maker marks it' if steel.graded else _end_words(steel)}.",
            stamped=True,
        ),
    )


def _end_words(steel: Steel) -> str:
    return f"the figure {steel.end}" if steel.end == steel.name else word(steel.end)


def _end_sign(drawing: Drawing, x: float, y: float, steel: Steel) -> None:
    match steel.end:
        case "a circle":
            drawing.circle(x, y, 16, "stud")
        case "a square":
            drawing.rectangle(x - 15, y - 15, 30, 30, "stud")
        case "a triangle":
            drawing.path([around(x, y, 20, angle) for angle in (0, 120, 240)], "stud", closed=True)
        case "a plus":
            drawing.line(x - 16, y, x + 16, y, "arrow")
            drawing.line(x, y - 16, x, y + 16, "arrow")
        case "a dash":
            drawing.line(x - 16, y, x + 16, y, "arrow")
        case _ if not steel.graded:
            drawing.text(x, y, steel.end, "number", size=24)
