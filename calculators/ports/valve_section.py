"""A section through the inlet seat: port above, throat, stem, and the valve opened by its lift."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import Figure
from calculators.bench.drawing import Drawing
from calculators.bench.units import figures
from calculators.bench.words import word

_MIDDLE, _SEAT = 120.0, 96.0


def valve_section(
    head: float,
    lift: float | None,
    throat: float | None,
    stem: float | None,
    areas: Sequence[tuple[str, float]],
    narrowest: str,
) -> Figure:
    """Draw the section, to scale, and name the area of each place.

    Parameters
    ----------
    head, lift, throat, stem : float, [mm]
        None where it is not known: the drawing then takes what is usual for the head.
    areas : sequence of (str, float), [mm²]
        Port, throat and curtain, as many as are known.
    narrowest : str
        Which of them is marked.
    """
    scale = 96 / head
    radius = 48.0
    hole = scale * (throat if throat is not None and throat < head else 0.88 * head) / 2
    rod = scale * (stem if stem is not None and stem < head / 2 else head / 5) / 2
    opened = min(scale * (lift if lift is not None else head / 4), 70)
    face = _SEAT + opened
    drawing = Drawing(340, max(face + 34, 158))
    for side in (-1, 1):
        wall = [
            (_MIDDLE + side * hole, 8),
            (_MIDDLE + side * hole, _SEAT - 10),
            (_MIDDLE + side * radius, _SEAT),
            (_MIDDLE + side * 88, _SEAT),
            (_MIDDLE + side * 88, 8),
        ]
        drawing.cut(wall, "aluminium")
    drawing.path(
        [
            (_MIDDLE - rod, 4),
            (_MIDDLE + rod, 4),
            (_MIDDLE + rod, face - 14),
            (_MIDDLE + radius, face),
            (_MIDDLE + radius, face + 5),
            (_MIDDLE - radius, face + 5),
            (_MIDDLE - radius, face),
            (_MIDDLE - rod, face - 14),
        ],
        "stud",
        closed=True,
    )
    known = dict(areas)
    places = {"port": 30.0, "throat": 62.0, "curtain": _SEAT + opened / 2}
    if "throat" in known:
        drawing.line(_MIDDLE - hole, places["throat"], _MIDDLE - rod, places["throat"], "arrow")
        drawing.line(_MIDDLE + rod, places["throat"], _MIDDLE + hole, places["throat"], "arrow")
    if "curtain" in known:
        for side in (-1, 1):
            drawing.line(_MIDDLE + side * radius, _SEAT, _MIDDLE + side * radius, face, "arrow")
    row = {"port": 24.0, "throat": 66.0, "curtain": 124.0}
    for place, area in areas:
        look = "number" if place == narrowest else "words"
        drawing.text(228, row[place], word(place).capitalize(), look, anchor="start")
        drawing.text(228, row[place] + 17, f"{figures(area, 0)} mm²", look, anchor="start")
        if place == narrowest:
            drawing.circle(324, row[place] + 17, 5, "chosen")
    drawing.text(_MIDDLE, face + 22, f"valve open by {figures(lift, 1)} mm" if lift is not None else "valve open")
    told = ", ".join(f"{word(place)} {figures(area, 0)} mm²" for place, area in areas)
    return Figure(
        key="section",
        title="Section through the inlet seat, stem upright, port above; dot: the narrowest place",
        svg=drawing.svg(
            f"Section through the inlet seat with the valve open: {told}; narrowest the {word(narrowest)}."
        ),
    )
