"""A torque wrench with an extension on it: the two lengths and the angle to measure."""

from __future__ import annotations

import math
from functools import lru_cache

from calculators.bench import Drawing, Figure, around

_WIDTH, _SIDE, _SHORTEST = 340.0, 34.0, 40.0


@lru_cache(maxsize=16)
def wrench_drawing(lever: float, extension: float, angle: float, setting: str) -> Figure:
    """Draw wrench, extension and nut, seen along the nut.

    Parameters
    ----------
    lever, extension : float, [mm]
    angle : float, [°]
        0 straight on, 90 square to the wrench, 180 back towards the hand.
    setting : str
        The final mark, as the wrench shows it.
    """
    turn = math.radians(angle)
    forward, aside = math.cos(turn), math.sin(turn)
    back = angle > 90
    right = 2 * _SIDE if back else _SIDE
    room = _WIDTH - _SIDE - right
    scale = room / (lever + max(0.0, extension * forward))
    reach = min(max(extension * scale, _SHORTEST), 0.6 * room)  # a short crowfoot is drawn longer, to be seen
    hand = _SIDE
    drive = _WIDTH - right - max(0.0, reach * forward)
    top = 62.0 + reach * aside + (10.0 if back else 0.0)
    nut_x, nut_y = drive + reach * forward, top - reach * aside
    height = top + 84
    drawing = Drawing(_WIDTH, height)
    drawing.line(drive + 12, top, min(drive + 50, _WIDTH - 4), top, "route")
    drawing.rectangle(hand - 22, top - 9, 66, 18, "spacer", round=8)
    drawing.rectangle(hand + 44, top - 5, drive - hand - 44, 10, "part")
    normal_x, normal_y = aside, forward  # across the extension, y down
    outside = 1.0 if back else -1.0  # the side on which E can be measured free of the wrench
    half = 7.0
    drawing.path(
        [
            (drive + half * normal_x, top + half * normal_y),
            (nut_x + half * normal_x, nut_y + half * normal_y),
            (nut_x - half * normal_x, nut_y - half * normal_y),
            (drive - half * normal_x, top - half * normal_y),
        ],
        "part",
        closed=True,
    )
    drawing.rectangle(drive - 6, top - 6, 12, 12, "stud")
    corners = [(nut_x + 12 * math.cos(k * math.pi / 3), nut_y + 12 * math.sin(k * math.pi / 3)) for k in range(6)]
    drawing.path(corners, "stud", closed=True)
    if angle >= 8:
        drawing.arc(drive, top, 17 if back else 30, 90, -angle, "edge")
        letter = around(drive, top, 42, 90 - angle / 2) if 45 <= angle <= 90 else (drive + 32, top + 13)
        drawing.text(*letter, "a", "number")
    _length(drawing, (hand, top), (drive, top), (0.0, 1.0), 32, "L")
    _length(drawing, (drive, top), (nut_x, nut_y), (outside * normal_x, outside * normal_y), 26, "E")
    drawing.text(hand, top - 22, "hand")
    said = f"L {lever:.0f} mm, E {extension:.0f} mm, a {angle:.0f}°: set {setting}"
    drawing.text(_WIDTH / 2, height - 14, said)
    return Figure(
        key="wrench",
        title="Wrench and extension: L, E and the angle a between them",
        svg=drawing.svg(
            f"Torque wrench seen along the nut. L, {lever:.0f} mm, runs from the middle of the hand to the middle of "
            f"the drive square; E, {extension:.0f} mm, from there to the middle of the nut, at {angle:.0f}° from "
            f"straight on. The wrench is set to {setting} for the final torque."
        ),
    )


def _length(
    drawing: Drawing,
    start: tuple[float, float],
    end: tuple[float, float],
    aside: tuple[float, float],
    off: float,
    letter: str,
) -> None:
    """Draw a dimension line between two points, set off to one side, with its thin lines and its letter."""
    moved = [(x + off * aside[0], y + off * aside[1]) for x, y in (start, end)]
    for (x, y), (to_x, to_y) in zip((start, end), moved, strict=True):
        drawing.line(x, y, to_x, to_y, "thin")
    (x1, y1), (x2, y2) = moved
    heading = math.degrees(math.atan2(y2 - y1, x2 - x1))
    drawing.line(x1, y1, x2, y2)
    drawing.arrowhead(x2, y2, heading)
    drawing.arrowhead(x1, y1, heading + 180)
    drawing.text((x1 + x2) / 2 + 12 * aside[0], (y1 + y2) / 2 + 12 * aside[1], letter, "number")
