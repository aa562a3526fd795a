"""One charge of air, here and where the jets are right, in two barrels side by side."""

from __future__ import annotations

from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures

_TOP, _TALL, _WIDE = 40.0, 112.0, 92.0


@lru_cache(maxsize=32)
def two_charges(share: float) -> Figure:
    """Draw two barrels in section, the air in each as high as it would stand at one density.

    Parameters
    ----------
    share : float, [%]
        Of the dry air in a charge where the jets are right.
    """
    unit = _TALL / max(share, 100.0)
    foot = _TOP + _TALL
    drawing = Drawing(340, 216)
    for x, words, part in ((60.0, "here", share), (188.0, "jets right", 100.0)):
        drawing.rectangle(x, foot - unit * part, _WIDE, unit * part, "band")
        drawing.line(x, foot - unit * part, x + _WIDE, foot - unit * part, "route")
        drawing.rectangle(x, foot, _WIDE, 26, "part")
        drawing.circle(x + _WIDE / 2, foot + 13, 6, "stud")
        for side in (x, x + _WIDE):
            drawing.cut_box(side - (10 if side == x else 0), _TOP, 10, _TALL + 30)
        drawing.cut_box(x - 10, _TOP - 14, _WIDE + 20, 14, "aluminium")
        drawing.text(x + _WIDE / 2, foot - unit * part / 2, f"{figures(part, 1)}%", "number", size=18)
        drawing.text(x + _WIDE / 2, 13, words, "number")
    drawing.text(170, foot + 48, "dry air in one charge, at equal pressure")
    return Figure(
        key="charges",
        title="Barrels in section, pistons down: the air of one charge, drawn at equal pressure",
        svg=drawing.svg(f"One charge here holds {figures(share, 1)}% of the dry air of one where the jets are right."),
    )
