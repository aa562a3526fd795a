"""Coils of a spring in section, and how hard their wire is worked."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.bench import Drawing, Figure, around
from calculators.bench.drawing import within
from calculators.bench.units import figures

_LEFT, _RIGHT = 20.0, 320.0


@dataclass(frozen=True, slots=True)
class Stressed:
    """The stress of the wire, what it surely bears, and what no wire so thick does, in MPa."""

    stress: float
    surely: float
    most: float


def coils_in_section(wire: float, mean: float, stressed: Stressed) -> Figure:
    """Draw four coils cut along the spring's axis, to one scale, and the stress on a scale below."""
    drawing = Drawing(340, 232)
    unit = 92 / (mean + wire)
    radius, half = wire * unit / 2, mean * unit / 2
    pitch = max(2 * radius + 14, 44)
    middle, first = 66.0, 128.0
    drawing.line(first - 30, middle, first + 3.5 * pitch + 18, middle, "route")
    for turn in range(4):
        x = first + turn * pitch
        drawing.line(x, middle - half, x + pitch / 2, middle + half, "thin")
        for at, level in ((x, middle - half), (x + pitch / 2, middle + half)):
            drawing.cut([around(at, level, radius, 15 * step) for step in range(24)])
    drawing.arrow(first - 34, middle - half, first - 34, middle + half, "arrow", head=7)
    drawing.arrow(first - 34, middle + half, first - 34, middle - half, "arrow", head=7)
    drawing.text(first - 42, middle - 8, f"D {figures(mean, 1)}", "number", "end")
    drawing.text(first - 42, middle + 10, f"d {figures(wire, 2)}", "number", "end")

    def across(stress: float) -> float:
        return _LEFT + min(stress / stressed.most, 1.0) * (_RIGHT - _LEFT)

    y = 172.0
    drawing.rectangle(_LEFT, y - 8, _RIGHT - _LEFT, 16, "part")
    drawing.cut_box(_LEFT, y - 8, across(stressed.stress) - _LEFT, 16)
    for stress, words, anchor in ((stressed.surely, "surely borne", "middle"), (stressed.most, "by none", "end")):
        drawing.line(across(stress), y - 14, across(stress), y + 14, "arrow")
        drawing.text(across(stress) + (4 if anchor == "end" else 0), y + 24, figures(stress, 0), "words", anchor)
        drawing.text(across(stress) + (4 if anchor == "end" else 0), y + 42, words, "words", anchor)
    words = f"{figures(stressed.stress, 0)} MPa"
    drawing.text(within(across(stressed.stress), words), y - 22, words, "number", "middle")
    return Figure(
        key="coils",
        title="Coils in section along the spring's axis, mm; below, the stress in the wire",
        svg=drawing.svg(
            f"Wire {figures(wire, 2)} mm, coil {figures(mean, 1)} mm from middle to middle. Stress at full lift "
            f"{figures(stressed.stress, 0)} MPa; surely borne {figures(stressed.surely, 0)}, by no wire "
            f"{figures(stressed.most, 0)} MPa."
        ),
    )
