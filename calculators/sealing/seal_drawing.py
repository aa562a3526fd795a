"""A seal before and after: as it comes, and as the parts press it."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import Drawing, Figure
from calculators.bench.drawing import within
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, expanded_of
from calculators.sealing.crushed import Crush

_FOOT, _TALL = 150.0, 96.0


def pressed_seal(free: float, wanted: tuple[float, float], fitted: float | None, deed: str) -> Figure:
    """Draw one seal in section, free beside pressed, to one scale.

    Parameters
    ----------
    free : float, [mm]
    wanted : (float, float), [mm]
        The thinnest and the thickest it may be pressed to.
    fitted : float, optional, [mm]
        As the parts leave it; without it, it is drawn at the thickest that seals.
    deed : str
        What comes of it; ``"seals"`` needs no words.
    """
    unit = _TALL / max(free, fitted or 0)
    thinnest, thickest = (_FOOT - unit * end for end in wanted)
    lies = _FOOT - unit * (fitted if fitted is not None else wanted[1])
    drawing = Drawing(340, 200)
    drawing.text(62, 14, "free", "number")
    drawing.text(222, 14, "pressed", "number")
    drawing.rectangle(34, _FOOT - unit * free, 56, unit * free, "spacer", round=10)
    drawing.line(20, _FOOT, 104, _FOOT)
    drawing.text(62, _FOOT + 20, f"{figures(free, 2)} mm")
    drawing.rectangle(148, thickest, 148, thinnest - thickest, "band")
    for top in (thinnest, thickest):
        drawing.line(142, top, 300, top, "route")
    width = min(56 * free * unit / max(_FOOT - lies, 1), 130)
    drawing.rectangle(222 - width / 2, lies, width, _FOOT - lies, "part", round=10)
    drawing.rectangle(148, lies - 12, 148, 12, "stud")
    drawing.rectangle(148, _FOOT, 148, 12, "stud")
    drawing.text(336, min(thickest, thinnest - 14), figures(wanted[1], 2 if wanted[1] < 10 else 1), "words", "end")
    drawing.text(336, max(thinnest, thickest + 14), figures(wanted[0], 2 if wanted[0] < 10 else 1), "words", "end")
    drawing.text(222, _FOOT + 24, f"{figures(fitted, 2)} mm" if fitted is not None else "the parts", "number")
    if deed and deed != "seals":
        drawing.text(334, _FOOT + 42, deed, "number", "end")
    told = f"Pressed to {figures(fitted, 2)} mm: {deed}." if fitted is not None else ""
    return Figure(
        key="seal",
        title="In section; dashed: how far it may be pressed",
        svg=drawing.svg(
            f"A seal of {figures(free, 2)} mm, to be pressed to {figures(wanted[0], 2)} to {figures(wanted[1], 2)} mm. "
            f"{told}".rstrip()
        ),
    )


def rows_of_seals(seals: Sequence[Crush]) -> Figure:
    """Draw each seal's crush on one scale, with its band and its ±."""
    left, right, step = 70.0, 322.0, 34.0
    reach = max(60.0, *(best_of(seal.crush) + expanded_of(seal.crush) for seal in seals))
    foot = min(0.0, *(best_of(seal.crush) - expanded_of(seal.crush) for seal in seals))

    def across(crush: float) -> float:
        return left + (crush - foot) / (reach - foot) * (right - left)

    drawing = Drawing(340, 40 + step * len(seals))
    step_of_scale = next((step for step in (20, 50, 100, 200, 500) if step / (reach - foot) * 252 > 48), 1000)
    for tick in range(0, int(reach) + 1, step_of_scale):
        drawing.line(across(tick), 22, across(tick), 26 + step * len(seals), "thin")
        drawing.text(within(across(tick), f"{tick}% "), 12, f"{tick}%")
    said = []
    for row, seal in enumerate(seals):
        y = 42 + step * row
        best, spread = best_of(seal.crush), expanded_of(seal.crush)
        drawing.rectangle(across(seal.least), y - 10, across(seal.most) - across(seal.least), 20, "band")
        drawing.line(across(best - spread), y, across(best + spread), y, "arrow")
        drawing.circle(across(best), y, 5, "pointer" if seal.verdict == "in" else "halt")
        drawing.text(6, y, f"seal {seal.number}", "number" if seal.verdict == "out" else "words", "start")
        said.append(f"seal {seal.number} {figures(best, 0)}% of {seal.least:g} to {seal.most:g}%")
    return Figure(
        key="seals", title="Crush of each seal, and the band it needs", svg=drawing.svg(f"Crush: {'; '.join(said)}.")
    )
