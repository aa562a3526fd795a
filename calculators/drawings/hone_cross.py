"""The cross of the hone's lines in a bore: right, too flat, too steep."""

from __future__ import annotations

import math

from calculators.drawings.kit.path import Path, box, line
from calculators.drawings.kit.plate import Plate

_WIDE, _TALL = 88.0, 150.0


def draw() -> Plate:
    plate = Plate(
        "The cross that the hone leaves",
        "Three bores, each laid open and flat, foot down. Right: fine lines cross each other at 45 to 60 degrees, "
        "lying flatter than upright. Wrong: lines nearly level, from strokes that were too slow for the drill. "
        "Wrong: lines nearly upright, from strokes that were too fast for it.",
        236,
        "bore laid open, foot down",
    )
    for left, crossing, words in ((12.0, 53.0, "53°"), (116.0, 14.0, "too flat"), (220.0, 130.0, "too steep")):
        frame = box(left, 26, _WIDE, _TALL)
        plate.draw(frame, name="bore")
        plate.draw(_lines(left, 26, crossing / 2) + _lines(left, 26, -crossing / 2), "fine")
        plate.words(left + _WIDE / 2, 194, words)
        (plate.right if crossing == 53 else plate.wrong)(left + _WIDE / 2, 218)
    return plate


def _lines(left: float, top: float, slope: float) -> Path:
    """Return lines that rise by so many degrees from the level, all over one bore."""
    rise = math.tan(math.radians(slope)) * _WIDE
    path, apart = Path(()), max(12.0, abs(rise) / 6)
    start = top - max(rise, 0.0) + apart / 2
    while start < top + _TALL + abs(rise):
        ends = _cut((left, start), (left + _WIDE, start + rise), top)
        if ends:
            path += line(*ends)
        start += apart
    return path


def _cut(
    a: tuple[float, float], b: tuple[float, float], top: float
) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """Return the piece of a line that lies between top and foot of the bore."""
    step = b[1] - a[1]
    least, most = sorted(((top - a[1]) / step, (top + _TALL - a[1]) / step))
    least, most = max(0.0, least), min(1.0, most)
    if most - least < 0.05:
        return None
    return (a[0] + (b[0] - a[0]) * least, a[1] + step * least), (a[0] + (b[0] - a[0]) * most, a[1] + step * most)
