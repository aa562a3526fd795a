"""Rocker pads and the oil way: what is good, what is worn, how the pad sits on the stem."""

from __future__ import annotations

from calculators.drawings.kit.path import Path, Point, blob, box, closed, curve, disc, line
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "Pads: good, hollow, and where they sit",
        "Rocker pads on the tip of a valve's stem, from the side. Right: a whole curve touches in the middle of the "
        "tip. Wrong: a hollow worn into the pad, with a step. Wrong: the pad sits at the edge of the tip. Below, the "
        "head beneath them, shaft and rocker cut: both ends of the rocker are pushed up, so the shaft's side towards "
        "the head is loaded, and the play lies on the other. The hole in the shaft points to the loaded side; oil "
        "comes out there, into the rocker's hole and on to both its ends.",
        440,
        "on the head, from the side",
    )
    for x, kind in ((50.0, "good"), (160.0, "hollow"), (270.0, "edge")):
        _pad(plate, x, 92, kind)
    plate.right(20, 184, "middle")
    plate.wrong(126, 184, "hollow")
    plate.wrong(240, 184, "edge")
    _oil(plate, 160, 296)
    return plate


def _pad(plate: Plate, x: float, y: float, kind: str) -> None:
    shift = 16.0 if kind == "edge" else 0.0
    plate.draw(box(x - 15, y + 2, 30, 72), name="stem")
    plate.draw(
        line((x - 15, y + 14), (x - 10, y + 14), (x - 10, y + 26), (x - 15, y + 26))
        + line((x + 15, y + 14), (x + 10, y + 14), (x + 10, y + 26), (x + 15, y + 26)),
        "open",
    )
    left, right = x + shift - 32, x + shift + 32
    steps: list[tuple[str, tuple[Point, ...]]] = [("M", ((left + 4, y - 60),)), ("L", ((left, y - 18),))]
    if kind == "hollow":
        steps += [
            ("L", ((left + 8, y - 2),)),
            ("L", ((x - 17, y + 3),)),
            ("L", ((x - 15, y - 6),)),
            ("C", ((x - 6, y - 11), (x + 6, y - 11), (x + 15, y - 6))),
            ("L", ((x + 17, y + 3),)),
            ("L", ((right - 8, y - 2),)),
        ]
    else:
        steps.append(("C", ((left + 14, y + 7), (right - 14, y + 7), (right, y - 18))))
    steps += [("L", ((right, y - 18),)), ("L", ((right - 4, y - 60),))]
    plate.draw(Path((*steps, ("Z", ()))), "outline" if kind == "good" else "held", name="rocker")
    plate.draw(box(left - 2, y - 66, 70, 8), "blank")
    plate.draw(curve((left + 2, y - 58), (left + 20, y - 64), (right - 20, y - 54), (right - 2, y - 60)), "fine")


def _oil(plate: Plate, x: float, y: float) -> None:
    """Draw a rocker cut across its shaft, the head below: both ends are pushed up, so the shaft's foot is loaded."""
    plate.draw(box(x - 137, y + 66, 18, 44), name="stem")
    plate.draw(box(x + 120, y + 2, 16, 72, 2), name="screw")
    plate.draw(disc(x + 128, y + 76, 11), name="screw")
    arm = blob(
        (x - 146, y + 26),
        (x - 76, y + 16),
        (x - 34, y - 38),
        (x + 34, y - 38),
        (x + 76, y + 16),
        (x + 146, y + 20),
        (x + 146, y + 62),
        (x + 60, y + 66),
        (x - 60, y + 66),
        (x - 128, y + 70),
        (x - 152, y + 52),
    )
    plate.draw(arm, "outline", "iron", "rocker")
    way = [
        (a, y + b) for a, b in ((x - 5, 28), (x - 5, 40), (x - 130, 40), (x - 130, 70), (x - 120, 70), (x - 120, 50))
    ]
    way += [(a, y + b) for a, b in ((x + 96, 50), (x + 96, 65), (x + 106, 65), (x + 106, 40), (x + 5, 40), (x + 5, 28))]
    plate.draw(closed(*way), name="oil hole")
    plate.draw(disc(x, y, 33), name="bush")
    plate.draw(disc(x, y + 5, 28), "outline", "iron", "shaft")
    plate.draw(disc(x, y + 5, 11), name="oil way")
    plate.draw(box(x - 5, y + 12, 10, 28), "blank")
    plate.draw(line((x - 5, y + 15), (x - 5, y + 40)) + line((x + 5, y + 15), (x + 5, y + 40)), "open")
    plate.arrow((x, y + 4), (x, y + 34), look="held-open", head=7)
    for side, end in ((-1, -118), (1, 94)):
        plate.arrow((x + 28 * side, y + 45), (x + end, y + 45), look="held-open", head=7)
    plate.tag(52, 256, "shaft", [(x - 18, y - 2)], "shaft", ("bush", "rocker"))
    plate.tag(262, 256, "play", [(x + 13, y - 26)], "bush", ("rocker",))
    plate.tag(74, 424, "oil hole", [(x - 70, y + 45)], "oil hole", ("rocker",))
    plate.tag(230, 424, "loaded side", [(x + 12, y + 26)], "shaft", ("rocker", "oil hole", "bush"))
