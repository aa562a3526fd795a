"""The jets of the drawer on a scale from rich to lean."""

from __future__ import annotations

from functools import lru_cache

from calculators.air.jetting import SIDE_WORDS
from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain


@lru_cache(maxsize=32)
def jets_figure(jets: tuple[tuple[float, float], ...], chosen: float, fitted: float) -> Figure:
    """Draw the jets of the drawer on a scale from rich to lean.

    Parameters
    ----------
    jets : tuple of (float, float)
        Number of each, and how much leaner than right it runs, as a share.
    chosen, fitted : float
        Numbers of two of them.
    """
    far = max(0.06, *(abs(off) for _, off in jets))
    scale = 140 / min(far, 0.4)

    def across(off: float) -> float:
        return 170 + min(max(off * scale, -150), 150)

    here, there = (across(dict(jets)[jet]) for jet in (fitted, chosen))
    below = fitted != chosen and abs(here - there) <= 64
    drawing = Drawing(340, 112 if below else 90)
    drawing.text(6, 12, "richer", "words", anchor="start")
    drawing.text(334, 12, "leaner", "words", anchor="end")
    drawing.text(170, 12, "right", "number")
    drawing.line(12, 56, 328, 56, "edge")
    drawing.line(170, 22, 170, 28, "thin")
    drawing.line(170, 48, 170, 64, "thin")
    said_at: list[float] = []
    for jet, off in sorted(jets, key=lambda one: (one[0] != chosen, one[0] != fitted, abs(one[1]))):
        x = across(off)
        drawing.circle(x, 56, 7 if jet == chosen else 5, "chosen" if jet == chosen else "stud")
        if all(abs(x - other) > 46 for other in said_at):
            drawing.text(min(max(x, 24), 316), 38, plain(round(jet, 1)), "number" if jet == chosen else "words")
            said_at.append(x)
    drawing.text(min(max(there, 24), 316), 78, "fit", "number")
    if fitted != chosen:
        drawing.text(min(max(here, 28), 312), 98 if below else 78, "fitted", "words")
        if below:
            drawing.line(here, 64, here, 70 if abs(here - there) < 18 else 90, "thin")
    said = "; ".join(f"{plain(round(jet, 1))} {figures(100 * abs(off), 1)}% {SIDE_WORDS[off > 0]}" for jet, off in jets)
    return Figure(
        key="jets",
        title="The main jets in this air, from rich to lean: dot: fit this one; rings: the others",
        svg=drawing.svg(
            f"Main jets in this air: fit {plain(round(chosen, 1))}, fitted is {plain(round(fitted, 1))}. {said}."
        ),
    )
