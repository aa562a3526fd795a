"""A barrel cut open on its spacers, piston at top dead centre, and its two thin places enlarged."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain
from calculators.compression.lying_drawing import lying_cylinder

_STEPS = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Section:
    """One barrel cut along its axis, piston at top dead centre, [mm]; ``words`` as the table prints them."""

    name: str
    spacers: tuple[float, ...]
    gasket: float
    clearance: float
    clearance_words: str
    spacer_words: str


@lru_cache(maxsize=16)
def barrel_section(section: Section) -> Figure:
    """Draw the barrel as it lies, and below it its two thin places enlarged."""
    drawing = Drawing(340, 350)
    stack = sum(section.spacers)
    _whole(drawing, section, stack)
    thickest = max(section.clearance, stack, section.gasket, 0.1)
    enlarged = 56 / thickest
    _spacer_detail(drawing, section, enlarged)
    _gap_detail(drawing, section, enlarged)
    drawing.line(8, 338, 8 + enlarged * _bar(enlarged), 338, "edge")
    drawing.text(16 + enlarged * _bar(enlarged), 338, f"{plain(_bar(enlarged))} mm in the details", anchor="start")
    alternative = (
        f"Section of cylinder {section.name} as it lies, case left, head right, piston at top dead centre. "
        f"Deck clearance between crown and head: "
        f"{section.clearance_words}. Under the barrel: {section.spacer_words}."
        + (f" Between barrel and head: a gasket of {figures(section.gasket, 2)} mm." if section.gasket else "")
    )
    return Figure(
        key="barrel_section",
        title=f"Cylinder {section.name}, the least deck clearance; the gaps to scale in the details alone",
        svg=drawing.svg(alternative),
    )


def _bar(enlarged: float) -> float:
    return max(step for step in _STEPS if step * enlarged <= 90)


def _whole(drawing: Drawing, section: Section, stack: float) -> None:
    """The barrel between case and head, with a ring round each of its thin places."""
    case, face, upper, lower = 56.0, 214.0, 38.0, 114.0
    shoulder = case + (7.0 if stack else 0.0)
    gasket = 5.0 if section.gasket else 0.0
    lying_cylinder(
        drawing, case=case, shoulder=shoulder, face=face, upper=upper, lower=lower, crown=face - 8, gasket=gasket
    )
    drawing.text(4, 76, "case", anchor="start")
    drawing.text(face - 44, 99, "piston")
    drawing.text(face + 72, 76, "head", anchor="start")
    for x, y, end in ((case + 4, lower + 15, 84.0), (face - 4, lower - 4, 252.0)):
        drawing.circle(x, y, 13, "blue-line")
        drawing.line(x + 4 * (end > 170), y + 13, end, 168, "thin")


def _spacer_detail(drawing: Drawing, section: Section, enlarged: float) -> None:
    """Case, spacers one by one, and barrel, enlarged."""
    top, foot = 200.0, 288.0
    drawing.text(84, 178, "spacers")
    stack = sum(section.spacers) * enlarged
    left = 84 - stack / 2
    drawing.cut_box(8, top, left - 8, foot - top, "aluminium")
    drawing.cut_box(left + stack, top, 160 - left - stack, foot - top, "iron")
    level = left
    for thickness in section.spacers:
        drawing.rectangle(level, top, thickness * enlarged, foot - top - 24, "spacer")
        level += thickness * enlarged
    if section.spacers:
        _span(drawing, foot - 10, left, left + stack)
    drawing.text(84, foot + 14, section.spacer_words, "number")


def _gap_detail(drawing: Drawing, section: Section, enlarged: float) -> None:
    """Barrel and crown, the gap, the gasket, and the head, enlarged."""
    top, foot, face = 200.0, 288.0, 290.0
    drawing.text(258, 178, "deck clearance")
    drawing.cut_box(face, top, 40, foot - top, "aluminium")
    gasket = section.gasket * enlarged
    drawing.cut_box(184, foot - 24, face - gasket - 184, 24, "iron")
    if gasket:
        drawing.cut_box(face - gasket, foot - 24, gasket, 24, "iron", "spacer")
    crown = face - max(section.clearance, 0) * enlarged
    drawing.rectangle(184, top, crown - 184, foot - top - 32, "part")
    if section.clearance > 0:
        _span(drawing, top + 26, crown, face)
    drawing.text(258, foot + 14, section.clearance_words, "number")


def _span(drawing: Drawing, y: float, left: float, right: float) -> None:
    """Draw a dimension line with a head at each end, where there is room for them."""
    head = min(8, (right - left) / 2)
    middle = (left + right) / 2
    for end in (left, right):
        drawing.arrow(middle, y, end, y, "hand", head=head)
