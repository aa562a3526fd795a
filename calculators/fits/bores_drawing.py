"""Worn barrels, each cut open with its wear far too large."""

from __future__ import annotations

from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures


@lru_cache(maxsize=32)
def bores_figure(
    bores: tuple[tuple[int, tuple[float, ...], tuple[float, ...]], ...], base: float, from_new: bool
) -> Figure:
    """Draw each bore cut open, its wear far too large, across the thrust on the left and along the pin on the right.

    Parameters
    ----------
    bores : tuple of (int, tuple of float, tuple of float)
        Cylinder, and its readings on the two axes, the top first.
    base : float
        Diameter that the dashed walls stand for.
    from_new : bool
        Whether that is the bore when new, or else the least reading of all.
    """
    most = max(reading - base for _, across, along in bores for reading in across + along)
    scale = 34 / max(most, 0.01)
    rows = (len(bores) + 1) // 2
    drawing = Drawing(340, rows * 138 + 4)
    for place, (number, across, along) in enumerate(bores):
        x, y = 84 + 170 * (place % 2), 138 * (place // 2)
        drawing.text(x, y + 12, f"Cylinder {number}", "number")
        depth = 74 / max(len(across) - 1, 1)
        walls = []
        for side, readings in ((-1, across), (1, along)):
            points = [
                (x + side * (22 + max(-20.0, scale * (reading - base))), y + 44 + depth * step)
                for step, reading in enumerate(readings)
            ]
            if len(points) == 1:
                points.append((points[0][0], y + 118))
            walls.append(points)
            drawing.text(x + side * 40, y + 30, figures(readings[0] - base, 2), "words")
            drawing.text(x + side * 40, y + 131, figures(readings[-1] - base, 2), "words")
        for side, points in zip((-1, 1), walls, strict=True):
            drawing.cut([*points, (x + side * 64, points[-1][1]), (x + side * 64, points[0][1])])
        for side in (-1, 1):
            drawing.line(x + side * 22, y + 40, x + side * 22, y + 122, "route")
        for points in walls:
            for point in points:
                drawing.circle(*point, 3.5, "chosen")
    against = "the bore when new" if from_new else "the least reading"
    said = "; ".join(
        f"cylinder {number}: across the thrust {', '.join(figures(one - base, 2) for one in across)}, "
        f"along the pin {', '.join(figures(one - base, 2) for one in along)}"
        for number, across, along in bores
    )
    return Figure(
        key="bores",
        title=f"Bores cut open, top upwards, thrust left, pin right; mm over {against} (dashes), not to scale",
        svg=drawing.svg(f"Bores, in mm over {against}, from top to bottom. {said[0].upper()}{said[1:]}."),
    )
