"""Rocker pads and the oil way: what is good, what is worn, how the pad sits on the stem."""

from __future__ import annotations

from calculators.drawings.kit.path import Path, Point, blob, box, closed, curve, disc, line
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "Pads: good, hollow, and where they sit",
        "Rocker pads on the tip of a valve's stem, from the side. Right: a whole curve touches in the middle of "
        "the tip. Wrong: a hollow worn into the pad, with a step. Wrong: the pad sits at the edge of the tip. "
        "Below, the shaft cut: oil comes out of the hole in the shaft on the loaded side, into the rocker's hole "
        "and on to its ends.",
        408,
        "on the head, from the side",
    )
    for x, kind in ((50.0, "good"), (160.0, "hollow"), (270.0, "edge")):
        _pad(plate, x, 92, kind)
    plate.right(20, 184, "middle")
    plate.wrong(126, 184, "hollow")
    plate.wrong(240, 184, "edge")
    _oil(plate, 160, 306)
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
    arm = blob(
        (x - 150, y - 12),
        (x - 90, y - 26),
        (x - 36, y - 52),
        (x + 36, y - 52),
        (x + 90, y - 26),
        (x + 150, y - 10),
        (x + 152, y + 14),
        (x + 90, y + 18),
        (x + 36, y + 54),
        (x - 36, y + 54),
        (x - 90, y + 18),
        (x - 152, y + 16),
    )
    plate.draw(arm, "outline", "iron", "rocker")
    plate.draw(closed((x + 30, y - 6), (x + 132, y - 1), (x + 132, y + 7), (x + 30, y + 6)), name="oil hole")
    plate.draw(disc(x, y, 40), name="bush")
    plate.draw(disc(x, y, 34), "outline", "iron", "shaft")
    plate.draw(disc(x, y, 16), name="oil way")
    plate.draw(box(x + 10, y - 5, 32, 10), "blank")
    plate.draw(line((x + 15, y - 5), (x + 36, y - 5)) + line((x + 15, y + 5), (x + 36, y + 5)), "open")
    plate.arrow((x - 4, y), (x + 60, y), look="held-open")
    plate.arrow((x + 76, y + 1), (x + 124, y + 3), look="held-open")
    plate.tag(64, 388, "shaft", [(x - 22, y + 12)], "shaft", ("bush", "rocker"))
    plate.tag(250, 388, "oil hole", [(x + 100, y + 3)], "oil hole", ("rocker",))
