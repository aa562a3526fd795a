"""A barrel cut open on its spacers, piston at top dead centre, and its two thin places enlarged."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain

_STEPS = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Section:
    """One barrel cut along its axis, piston at top dead centre, [mm]; ``words`` as the table prints them."""

    name: str
    bore: float
    barrel_length: float | None
    spacers: tuple[float, ...]
    gasket: float
    clearance: float
    clearance_words: str
    spacer_words: str


@lru_cache(maxsize=16)
def barrel_section(section: Section) -> Figure:
    """Draw a barrel, its spacers and its piston to scale, and the two thin places enlarged."""
    length = section.barrel_length or 1.3 * section.bore
    drawing = Drawing(340, 324)
    _whole(drawing, section, length)
    thickest = max(section.clearance, sum(section.spacers), section.gasket, 0.1)
    enlarged = 60 / thickest
    _gap_detail(drawing, section, enlarged)
    _spacer_detail(drawing, section, enlarged)
    drawing.line(8, 306, 8 + enlarged * _bar(enlarged), 306, "edge")
    drawing.text(16 + enlarged * _bar(enlarged), 306, f"{plain(_bar(enlarged))} mm in the details", "words", "start")
    alternative = (
        f"Section of cylinder {section.name}, piston at top dead centre. Deck clearance between crown and head: "
        f"{section.clearance_words}. Under the barrel: {section.spacer_words}."
        + (f" Between barrel and head: a gasket of {figures(section.gasket, 2)} mm." if section.gasket else "")
    )
    return Figure(
        key="barrel_section",
        title=(
            f"Cylinder {section.name}, the least deck clearance: bore, spacers and gap to scale"
            + ("" if section.barrel_length else ", length of the barrel assumed")
        ),
        svg=drawing.svg(alternative),
    )


def _bar(enlarged: float) -> float:
    return max(step for step in _STEPS if step * enlarged <= 90)


def _whole(drawing: Drawing, section: Section, length: float) -> None:
    """The barrel between head and case, 160 units wide; walls, head, case and piston's length as a sign."""
    scale = min(96 / section.bore, 180 / length)
    middle, half, wall = 80.0, section.bore * scale / 2, 10.0
    top = 62.0 + section.gasket * scale
    shoulder = top + length * scale
    case = shoulder + sum(section.spacers) * scale
    crown = 62.0 + section.clearance * scale
    inner, outer = (middle - half, middle + half), (middle - half - wall, middle + half + wall)
    drawing.path(
        [
            (outer[0], 62),
            (outer[0], 24),
            (outer[1], 24),
            (outer[1], 62),
            (inner[1], 62),
            (middle + half * 0.4, 40),
            (middle - half * 0.4, 40),
            (inner[0], 62),
        ],
        "part",
        closed=True,
    )
    drawing.text(middle, 12, "Head", "words")
    for side, wall_at in ((-1, outer[0]), (1, inner[1])):
        if section.gasket:
            drawing.rectangle(wall_at, 62, wall, section.gasket * scale, "spacer")
        drawing.rectangle(wall_at, top, wall, shoulder - top + 20, "part")
        flange = wall_at - 8 if side < 0 else wall_at + wall
        drawing.rectangle(flange, shoulder - 12, 8, 12, "part")
        if section.spacers:
            drawing.rectangle(flange, shoulder, 8, case - shoulder, "spacer")
        drawing.rectangle(flange - (10 if side < 0 else 0), case, 18, 26, "part")
    length_of_piston = min(section.bore * 0.8, length * 0.6) * scale
    drawing.rectangle(inner[0] + 1, crown, 2 * half - 2, length_of_piston, "part")
    for ring in (0.12, 0.2, 0.28):
        for edge in (inner[0] + 1, inner[1] - 7):
            drawing.line(edge, crown + ring * length_of_piston, edge + 6, crown + ring * length_of_piston, "edge")
    drawing.circle(middle, crown + 0.6 * length_of_piston, 7, "part")
    drawing.text(middle, crown + 0.36 * length_of_piston, "Piston", "words")
    drawing.text(middle, case + 16, "Case", "words")
    drawing.circle(inner[1], 62, 11, "thin")
    drawing.line(inner[1] + 11, 62, 186, 62, "thin")
    drawing.circle(outer[1] + 4, shoulder, 11, "thin")
    drawing.line(outer[1] + 15, shoulder, 186, 220, "thin")


def _gap_detail(drawing: Drawing, section: Section, enlarged: float) -> None:
    """Head, gasket, top of the barrel, and the crown below it, enlarged."""
    face = 56.0
    drawing.text(263, 12, "Deck clearance", "words")
    drawing.rectangle(186, 26, 148, face - 26, "part")
    drawing.text(260, 41, "Head", "words")
    if section.gasket:
        drawing.rectangle(300, face, 34, section.gasket * enlarged, "spacer")
    drawing.rectangle(300, face + section.gasket * enlarged, 34, 142 - face - section.gasket * enlarged, "part")
    crown = face + max(section.clearance, 0) * enlarged
    drawing.rectangle(186, crown, 108, 142 - crown, "part")
    drawing.text(240, crown + 11, "Piston", "words")
    if section.clearance > 0:
        _span(drawing, 200, face, crown)
    drawing.text(
        208 if section.clearance > 0 else 190,
        face + max(section.clearance * enlarged / 2, 8),
        section.clearance_words,
        "number",
        anchor="start",
    )


def _spacer_detail(drawing: Drawing, section: Section, enlarged: float) -> None:
    """Barrel, spacers one by one, and case, enlarged."""
    drawing.text(263, 168, "Spacers", "words")
    drawing.rectangle(186, 180, 148, 28, "part")
    drawing.text(260, 194, "Barrel", "words")
    level = 208.0
    for thickness in section.spacers:
        drawing.rectangle(186, level, 70, thickness * enlarged, "spacer")
        level += thickness * enlarged
    drawing.rectangle(186, level, 148, 26, "part")
    drawing.text(260, level + 13, "Case", "words")
    if section.spacers:
        _span(drawing, 270, 208, level)
    drawing.text(260, level + 38, section.spacer_words, "number")


def _span(drawing: Drawing, x: float, upper: float, lower: float) -> None:
    """Draw a dimension line with a head at each end, where there is room for them."""
    head = min(8, (lower - upper) / 2)
    middle = (upper + lower) / 2
    for end in (upper, lower):
        drawing.arrow(x, middle, x, end, "arrow", head=head)
