"""The linkage apart, a gauge on each port, both alike."""

from __future__ import annotations

from calculators.drawings.kit.path import around, box, curve, disc, line, rounded
from calculators.drawings.kit.plate import Plate


def draw() -> Plate:
    plate = Plate(
        "Linkage apart, a gauge on each port",
        "Two carburettors side by side, the rod between them taken off at one end, so that each throttle rests "
        "on its own stop screw. A gauge on each port, both lines alike in length. Right: both needles stand "
        "alike. Wrong: one stands lower.",
        410,
        "from the rear",
    )
    for x in (70.0, 250.0):
        plate.draw(rounded([(x - 36, 190), (x + 36, 190), (x + 30, 262), (x - 30, 262)], 4), name="carburettor")
        plate.draw(rounded([(x - 44, 172), (x + 44, 172), (x + 44, 190), (x - 44, 190)], 3), name="carburettor")
        plate.draw(box(x - 20, 262, 40, 26), name="manifold")
        plate.draw(disc(x, 228, 12), name="throttle")
        side = 1 if x < 160 else -1
        plate.draw(line((x, 228), (x + 34 * side, 250)), "open", name="lever")
        _stop_screw(plate, x + 29 * side, 252)
        plate.draw(
            curve((x - 20 * side, 274), (x - 50 * side, 260), (x - 46 * side, 140), (x, 128)), "open", name="line"
        )
        _gauge(plate, x, 92, 30)
    plate.draw(line((104, 250), (196, 238)), "held-open", name="rod")
    plate.draw(disc(104, 250, 4), "held", name="rod")
    plate.draw(disc(196, 238, 4), "held", name="rod")
    plate.tag(160, 204, "rod off", [(194, 238)], "rod")
    plate.tag(160, 316, "stop screw", [(98, 266)], "stop screw")
    for x, other in ((70.0, 30.0), (240.0, -50.0)):
        _small(plate, x - 30, 360, 30)
        _small(plate, x + 30, 360, other)
    plate.right(52, 398, "alike")
    plate.wrong(222, 398, "apart")
    return plate


def _stop_screw(plate: Plate, x: float, y: float) -> None:
    """Draw the screw on whose upper end the lever rests, its locknut below, and its thread."""
    plate.draw(box(x - 4, y, 8, 36, 1), "held", name="stop screw")
    thread = line((x - 4, y + 3), (x + 4, y + 6))
    for at in (8, 22, 27):
        thread += line((x - 4, y + at), (x + 4, y + at + 3))
    plate.draw(thread, "fine")
    plate.draw(box(x - 9, y + 12, 18, 8, 1), "held", name="stop screw")
    plate.draw(box(x - 6, y + 33, 12, 6, 1), "held", name="stop screw")


def _gauge(plate: Plate, x: float, y: float, needle: float) -> None:
    plate.draw(disc(x, y, 38), name="gauge")
    ticks = line(around(x, y, 28, -120), around(x, y, 33, -120))
    for angle in range(-90, 121, 30):
        ticks += line(around(x, y, 28, angle), around(x, y, 33, angle))
    plate.draw(ticks, "fine")
    plate.draw(line((x, y), around(x, y, 26, needle)), "held-open")


def _small(plate: Plate, x: float, y: float, needle: float) -> None:
    plate.draw(disc(x, y, 22), name="gauge")
    plate.draw(line((x, y), around(x, y, 16, needle)), "held-open")
