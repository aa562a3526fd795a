"""One turn of the distributor, lobe by lobe: for how much of it the points are closed."""

from __future__ import annotations

from calculators.bench import Drawing, Figure, around
from calculators.bench.units import figures
from calculators.formulas.ignition_timing import lobe_angle

_X, _Y = 170.0, 112.0
_OUTER, _INNER = 84.0, 62.0


def dwell_drawing(lobes: int, wanted: float | None, read: float | None, verdict: str | None) -> Figure:
    """Draw the closed points as arcs round the distributor's shaft: read outside, wanted inside.

    Parameters
    ----------
    lobes : int
    wanted, read : float, [°], optional
        Of the distributor, points closed.
    verdict : str, optional
        On what was read.
    """
    pitch = lobe_angle(lobes)
    drawing = Drawing(340, 262)
    for radius in (_OUTER, _INNER):
        drawing.circle(_X, _Y, radius, "thin")
    drawing.circle(_X, _Y, 14, "part")
    for lobe in range(lobes):
        at = lobe * pitch
        drawing.line(*around(_X, _Y, 14, at), *around(_X, _Y, 30, at), "edge")  # the top of a lobe holds them open
        for dwell, radius, width in ((read, _OUTER, 14.0), (wanted, _INNER, 10.0)):
            if dwell is not None:
                middle = at + pitch / 2
                _band(drawing, middle - dwell / 2, dwell, radius, width, "chosen" if radius == _OUTER else "spacer")
    row = 226.0
    if read is not None:
        said = f"outside: read {figures(read, 1)}°" + (f", {verdict}" if verdict else "")
        drawing.text(_X, row, said, "number")
        row += 20
    if wanted is not None:
        drawing.text(_X, row, f"inside: wanted {figures(wanted, 1)}°")
    parts = [
        f"{name} {figures(dwell, 1)}°" for name, dwell in (("read", read), ("wanted", wanted)) if dwell is not None
    ]
    return Figure(
        key="dwell",
        title=f"One turn of the distributor, seen from above: points closed along the bars, {lobes} lobe"
        f"{'' if lobes == 1 else 's'} open them",
        svg=drawing.svg(f"Points closed, of {figures(pitch, 1)}° from lobe to lobe: {', '.join(parts)}."),
    )


def _band(drawing: Drawing, start: float, turn: float, radius: float, width: float, look: str) -> None:
    steps = max(2, round(turn / 6))
    out = [around(_X, _Y, radius + width / 2, start + turn * step / steps) for step in range(steps + 1)]
    back = [around(_X, _Y, radius - width / 2, start + turn * step / steps) for step in range(steps, -1, -1)]
    drawing.path([*out, *back], look, closed=True)
