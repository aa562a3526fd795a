"""The crank's end play, read by a dial on the flywheel: pushed in, pulled out."""

from __future__ import annotations

from calculators.drawings.kit import tools
from calculators.drawings.kit.path import box, line
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "End play: push, set to zero, pull, read",
        "Case and flywheel cut along the crank. Shims lie between the case's thrust face and the flywheel. A dial "
        "bears on the flywheel's face, in line with the crank, its foot on the case. The flywheel is pushed hard "
        "to the engine and the dial set to zero; then it is pulled away, and the dial reads the end play.",
        280,
        "on the stand, from the side",
    )
    y = 150.0
    plate.draw(box(8, y - 74, 96, 50), cut="aluminium", name="case")
    plate.draw(box(8, y + 24, 96, 50), cut="aluminium", name="case")
    plate.draw(box(8, y - 20, 132, 40), name="crank")
    for side in (-1, 1):
        top = y - 46 if side < 0 else y + 24
        plate.draw(box(106, top, 12, 22), "held", name="shims")
    plate.draw(box(122, y - 96, 30, 76), cut="iron", name="flywheel")
    plate.draw(box(122, y + 20, 30, 76), cut="iron", name="flywheel")
    plate.draw(box(122, y - 20, 30, 40), name="nut")
    plate.draw(line((2, y), (158, y)), "fine")
    plate.put(tools.dial_gauge().turned(90).scaled(0.9), 152, y + 62)
    plate.arrow((206, y - 70), (160, y - 70), look="held-open")
    plate.words(214, y - 70, "1 push, zero", "start")
    plate.arrow((160, y - 38), (206, y - 38), look="held-open")
    plate.words(214, y - 38, "2 pull, read", "start")
    plate.tag(60, 40, "shims", [(112, 110)], "shims", ("case",))
    return plate
