"""The belt pressed with a thumb, in the middle of its longest run."""

from __future__ import annotations

from calculators.drawings.kit import hands
from calculators.drawings.kit.path import arc, curve, disc, line
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "The belt gives 10 to 15 mm",
        "Two pulleys and their belt face on, engine stopped. A thumb presses the belt in the middle of its "
        "longest run; the belt bends in by 10 to 15 mm, measured from its straight line.",
        340,
        "face on, engine stopped, up at the top",
    )
    for y in (102.0, 276.0):
        plate.draw(disc(106, y, 50), name="pulley")
        plate.draw(disc(106, y, 42), "fine")
        plate.draw(disc(106, y, 13), name="hub")
    plate.draw(
        arc(106, 102, 52, -90, 180) + arc(106, 276, 52, 90, 180) + line((54, 102), (54, 276)), "open", name="belt"
    )
    plate.draw(curve((158, 102), (148, 178), (146, 189), (148, 200), (158, 276)), "held-open", name="belt")
    plate.draw(line((158, 102), (158, 276)), "fine")
    plate.put(hands.thumb().scaled(0.8), 148, 189)
    plate.arrow((246, 262), (206, 262), look="held-open")
    plate.draw(line((146, 134), (146, 184)), "fine")
    plate.arrow((122, 144), (146, 144), look="held-open", head=7)
    plate.arrow((182, 144), (158, 144), look="held-open", head=7)
    plate.words(190, 144, "10–15 mm", "start")
    return plate
