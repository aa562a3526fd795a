"""The pull of a stud as bands on one scale, each thread condition against the proof load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain

_LEFT, _RIGHT, _TOP, _PITCH = 124.0, 326.0, 62.0, 50.0
_STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0)


@dataclass(frozen=True, slots=True)
class Band:
    """A range of pull, [kN]; the ``chosen`` one is what the reader asked about."""

    name: str
    least: float
    most: float
    chosen: bool = False

    @property
    def words(self) -> str:
        return f"{self.name[0].upper()}{self.name[1:]}: {figures(self.least, 1)} to {figures(self.most, 1)} kN"


def pull_figure(bands: Sequence[Band], proof: float) -> Figure:
    """Draw what a torque makes of each thread condition beside the proof load.

    Parameters
    ----------
    bands : sequence of Band
        One a thread condition.
    proof : float, [kN]
        Proof load of the stud.
    """
    reach = 1.06 * max(proof, *(band.most for band in bands))

    def across(pull: float) -> float:
        return _LEFT + pull / reach * (_RIGHT - _LEFT)

    foot = _TOP + len(bands) * _PITCH
    drawing = Drawing(340, max(foot + 46, 250))
    _stud(drawing)
    drawing.text(_LEFT, 12, "pull of one stud, kN", anchor="start")
    drawing.line(across(proof), 42, across(proof), 52, "edge")
    for number, band in enumerate(bands):
        top = _TOP + number * _PITCH
        look = "number" if band.chosen else "words"
        drawing.text(_LEFT, top + 4, band.name, look, "start")
        drawing.text(_RIGHT, top + 4, f"{figures(band.least, 1)} to {figures(band.most, 1)}", look, "end")
        x, wide = across(band.least), across(band.most) - across(band.least)
        drawing.rectangle(x, top + 16, wide, 14, "spacer" if band.chosen else "part")
        drawing.line(across(proof), top + 14, across(proof), top + 32, "edge")
    end = "end" if across(proof) > 210 else "start"
    drawing.text(across(proof) + (6 if end == "end" else -6), 32, f"proof load {figures(proof, 1)}", "number", end)
    drawing.line(_LEFT, foot, _RIGHT, foot, "thin")
    step = next((step for step in _STEPS if reach / step <= 5), reach)
    for count in range(int(reach / step) + 1):
        drawing.line(across(count * step), foot, across(count * step), foot + 5, "thin")
        drawing.text(across(count * step), foot + 16, plain(count * step))
    said = "; ".join(band.words + (", as asked" if band.chosen else "") for band in bands)
    return Figure(
        key="clamp",
        title="What this torque does to one stud, cut open beside it; the upright line is the proof load",
        svg=drawing.svg(f"Pull of one stud beside its proof load of {figures(proof, 1)} kN. {said}."),
    )


def _stud(drawing: Drawing) -> None:
    """Draw the stud in its case, the part that it clamps, and the nut that is turned; all of it metal cut through."""
    middle = 52.0
    for side in (-1, 1):
        near, far = middle + side * 12, middle + side * 44
        for top, foot, metal in ((70.0, 168.0, "aluminium"), (168.0, 236.0, "aluminium")):
            inner = near if top < 100 else middle + side * 8
            drawing.cut([(inner, top), (far, top), (far, foot), (inner, foot)], metal)
    drawing.rectangle(middle - 8, 18, 16, 206, "stud")
    for y in (*range(22, 36, 5), *range(172, 220, 5)):
        drawing.line(middle - 8, y + 4, middle + 8, y, "thin")
    drawing.rectangle(middle - 22, 62, 44, 8, "part")
    drawing.rectangle(middle - 18, 38, 36, 24, "spacer", round=2)
    drawing.line(middle - 7, 38, middle - 7, 62, "hand")
    drawing.line(middle + 7, 38, middle + 7, 62, "hand")
    for start, end in ((112.0, 78.0), (130.0, 162.0)):
        drawing.arrow(middle, start, middle, end, "arrow", head=10)
