"""The float's level, measured on the lid turned over."""

from __future__ import annotations

from calculators.drawings.kit.path import bar, box, closed, disc, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "The float's level, lid upside down",
        "A carburettor's lid lies upside down, its face up. The float hangs on a pin at the right; its tongue just "
        "touches the tail of the float valve, whose point is down in its seat. The level is measured from the lid's "
        "face up to the float's far side, square to the face. Only the tongue is bent.",
        262,
        "on the bench, lid upside down",
    )
    plate.draw(rounded([(14, 188), (306, 188), (306, 222), (14, 222)], 4), cut="aluminium", name="lid")
    plate.draw(box(215, 188, 8, 34), "outline", name="way")
    plate.draw(closed((212, 137), (226, 137), (226, 172), (219, 182), (212, 172)), "held", name="valve")
    for side in (-1, 1):
        seat = [(219 + side * a, b) for a, b in ((18, 158), (9, 158), (9, 173), (4, 180), (4, 188), (18, 188))]
        plate.draw(closed(*seat), "outline", "iron", "valve seat")
    plate.draw(box(266, 132, 14, 56), name="post")
    plate.draw(bar((146, 118), (272, 128), 8), name="arm")
    plate.draw(rounded([(206, 122), (232, 124), (232, 136), (206, 138)], 2), "held", name="tongue")
    plate.draw(disc(273, 130, 6), name="pin")
    plate.draw(rounded([(46, 84), (166, 84), (166, 152), (46, 152)], 14), name="float")
    plate.draw(line((18, 84), (42, 84)), "fine")
    plate.arrow((28, 140), (28, 88), look="held-open")
    plate.arrow((28, 132), (28, 185), look="held-open")
    plate.words(106, 118, "float")
    plate.words(8, 56, "level", "start")
    plate.tag(238, 92, "tongue", [(219, 130)], "tongue", ("arm",))
    plate.tag(160, 246, "lid", [(150, 205)], "lid")
    return plate
