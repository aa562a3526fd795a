"""The pull of a stud as bands on one scale, each thread condition against the proof load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain

_LEFT, _RIGHT, _TOP, _PITCH = 14.0, 326.0, 62.0, 44.0
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
    drawing = Drawing(340, foot + 46)
    drawing.text(_LEFT, 10, "Pull of one stud, kN", anchor="start")
    for number, band in enumerate(bands):
        top = _TOP + number * _PITCH
        drawing.text(
            _LEFT, top + 4, f"{'▶ ' if band.chosen else ''}{band.words}", "number" if band.chosen else "words", "start"
        )
        look = "spacer" if band.chosen else "part"
        drawing.rectangle(across(band.least), top + 14, across(band.most) - across(band.least), 14, look)
    for top in (_TOP + number * _PITCH for number in range(len(bands))):
        drawing.line(across(proof), top + 11, across(proof), top + 31, "arrow")
    end = "end" if across(proof) > 170 else "start"
    drawing.text(across(proof), 30, f"proof load {figures(proof, 1)} kN", "number", end)
    drawing.arrow(across(proof), 38, across(proof), 54, "arrow")
    drawing.line(_LEFT, foot, _RIGHT, foot, "thin")
    step = next((step for step in _STEPS if reach / step <= 7), reach)
    for count in range(int(reach / step) + 1):
        drawing.line(across(count * step), foot, across(count * step), foot + 5, "thin")
        drawing.text(across(count * step), foot + 16, plain(count * step))
    said = "; ".join(band.words + (", as asked" if band.chosen else "") for band in bands)
    return Figure(
        key="clamp",
        title="What this torque does to one stud; the upright line is the proof load",
        svg=drawing.svg(f"Pull of one stud beside its proof load of {figures(proof, 1)} kN. {said}."),
    )
