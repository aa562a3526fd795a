"""One joint along the clock: the bead, the time to shut it, the time until load and oil."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.bench import Drawing, Figure

_LEFT, _RIGHT, _LINE = 14.0, 326.0, 66.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """What one does or leaves alone meanwhile, and when it ends; ``now`` is the one for the hands."""

    words: str
    ends: tuple[str, str]
    now: bool = False


def one_joint(begins: str, stretches: Sequence[Stretch]) -> Figure:
    """Draw the stretches one after the other, not to scale: minutes stand beside days."""
    drawing = Drawing(340, 138)
    drawing.text(_LEFT, 14, begins, "number", "start")
    drawing.arrow(_LEFT + 4, 26, _LEFT + 4, _LINE - 15)
    width = (_RIGHT - _LEFT) / max(len(stretches), 1)
    for place, stretch in enumerate(stretches):
        left, right = _LEFT + width * place, _LEFT + width * (place + 1)
        drawing.rectangle(left, _LINE - 13, width, 26, "spacer" if stretch.now else "part")
        drawing.text((left + right) / 2, _LINE, stretch.words, "number")
        drawing.line(right, _LINE - 20, right, _LINE + 22, "arrow")
        for row, words in enumerate(stretch.ends):
            drawing.text(right, _LINE + 34 + 18 * row, words, "number" if row else "words", "end")
    if not stretches:
        drawing.line(_LEFT, _LINE, _RIGHT, _LINE)
        drawing.text(170, _LINE + 34, "no waiting time", "number")
    told = "; ".join(f"{stretch.words}, until {' '.join(stretch.ends)}" for stretch in stretches)
    return Figure(
        key="clock",
        title="From the first bead on; not to scale",
        svg=drawing.svg(f"{begins}: {told or 'no waiting time'}."),
    )
