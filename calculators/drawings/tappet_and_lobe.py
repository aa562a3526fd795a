"""Tappet faces, good and worn, and the lift of a lobe read by a dial."""

from __future__ import annotations

from calculators.drawings.kit import parts, tools
from calculators.drawings.kit.path import arc, bar, box, disc, symmetric
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw() -> Plate:
    plate = Plate(
        "Tappet faces, and a lobe's lift by the dial",
        "Three tappet faces seen from the cam. Right: a faint pattern of circles, so it has turned. Wrong: one "
        "straight line across, so it stood still. Wrong: a hollow face, with light under the middle of a "
        "straightedge. Below, in the engine from the pulley end: tappet on its lobe, a straight rod in the "
        "tappet's cup, and a dial gauge on the rod's end in the same line. A hand turns the crank; the dial "
        "moves by the lobe's lift.",
        366,
    )
    _hollow(plate, 266, 44)
    for x, kind in ((50, "round"), (156, "line")):
        plate.draw(disc(x, 48, 38), name="tappet")
        if kind == "round":
            for radius in (10, 18, 26):
                plate.draw(
                    arc(x, 48, radius, 20, 110) + arc(x, 48, radius, 170, 90) + arc(x, 48, radius, 290, 60), "fine"
                )
        else:
            plate.draw(bar((x - 37, 45), (x + 37, 51), 7), "held-solid")
    plate.right(16, 106, "turned")
    plate.wrong(118, 106, "stood still")
    plate.wrong(244, 106, "hollow")
    y = 250.0
    plate.words(0, 150, IN_THE_ENGINE, "start")
    plate.draw(box(70, y - 56, 62, 34), "outline", "aluminium", "case")
    plate.draw(box(70, y + 22, 62, 34), "outline", "aluminium", "case")
    plate.put(parts.cam(17, 12).turned(0), 52, y)
    plate.put(parts.tappet(38, 40, 50), 81, y)
    plate.put(parts.pushrod(86, 8).in_hand(), 126, y)
    plate.put(tools.dial_gauge().scaled(0.82).turned(90), 216, y)
    plate.turn(52, y, 40, 195, 150)
    plate.arrow((140, y + 20), (172, y + 20))
    plate.arrow((172, y + 20), (140, y + 20))
    plate.tag(34, 344, "lobe", [(44, 258)], "cam")
    plate.tag(120, 344, "tappet", [(104, 260)], "tappet", ("case",))
    plate.tag(242, 344, "straight rod", [(190, 251)], "pushrod")
    return plate


def _hollow(plate: Plate, x: float, y: float) -> None:
    """Draw a tappet on its stem under a straightedge, its face dished."""
    body = symmetric(
        x,
        (x, y + 9),
        ((x + 20, y + 9), (x + 24, y), (x + 38, y)),
        (x + 38, y + 16),
        (x + 18, y + 16),
        (x + 18, y + 44),
    )
    plate.draw(body, name="tappet")
    plate.draw(box(x - 52, y - 15, 104, 14, 1), "held", name="straightedge")
