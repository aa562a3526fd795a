"""The rocker shaft pulled apart in its order."""

from __future__ import annotations

from calculators.drawings.kit.path import box, line, rounded
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw() -> Plate:
    plate = Plate(
        "The rocker shaft in its order",
        "The parts of a rocker shaft pulled apart along it, and below them the same parts put together. From "
        "left to right: clip, washer, rocker, spring, post, rocker, washer, clip. On the shaft the spring "
        "reaches from the left rocker to the post. A blade measures the side play of the other rocker, between rocker "
        "and post, where no spring presses.",
        420,
        ON_THE_BENCH,
    )
    y = 108.0
    plate.draw(line((0, y), (320, y)), "fine")
    for x in (14.0, 306.0):
        plate.draw(rounded([(x - 4, y - 12), (x + 4, y - 12), (x + 4, y + 12), (x - 4, y + 12)], 3), name="clip")
    for x in (40.0, 280.0):
        plate.draw(box(x - 3, y - 18, 6, 36, 1), name="washer")
    for x in (84.0, 236.0):
        _rocker(plate, x, y)
    _coil(plate, 110, y, 46)
    _post(plate, 178, y)
    plate.tag(32, 44, "clip", [(14, 100)], "clip")
    plate.tag(274, 44, "washer", [(280, 94)], "washer")
    plate.tag(104, 186, "rocker", [(84, 120)], "rocker")
    plate.tag(150, 44, "spring", [(132, 99)], "spring")
    plate.tag(216, 186, "post", [(182, 138)], "post")
    low = 300.0
    plate.draw(box(48, low - 10, 228, 20, 3), name="shaft")
    for x in (62.0, 257.0):
        plate.draw(
            rounded([(x - 4, low - 13), (x + 4, low - 13), (x + 4, low + 13), (x - 4, low + 13)], 3), name="clip"
        )
    for x in (71.0, 248.0):
        plate.draw(box(x - 3, low - 18, 6, 36, 1), name="washer")
    _rocker(plate, 96, low)
    _coil(plate, 116.5, low, 46)
    _post(plate, 181, low)
    plate.draw(box(199.5, low - 62, 3.4, 78), "held-solid", name="blade")
    _rocker(plate, 225, low)
    plate.tag(268, 226, "blade", [(201.2, 248)], "blade")
    plate.arrow((110, 212), (110, 246))
    plate.tag(280, 360, "shaft", [(270, 300)], "shaft")
    plate.words(160, 404, "side play, where no spring presses")
    return plate


def _rocker(plate: Plate, x: float, y: float) -> None:
    plate.draw(
        rounded(
            [
                (x - 8, y - 46),
                (x + 8, y - 46),
                (x + 10, y - 16),
                (x + 20, y - 16),
                (x + 20, y + 16),
                (x + 10, y + 16),
                (x + 8, y + 46),
                (x - 8, y + 46),
                (x - 10, y + 16),
                (x - 20, y + 16),
                (x - 20, y - 16),
                (x - 10, y - 16),
            ],
            4,
        ),
        name="rocker",
    )
    plate.draw(line((x - 20, y - 10), (x - 20, y + 10)), "fine")


def _coil(plate: Plate, x: float, y: float, long: float) -> None:
    """Draw a spring that reaches so far from ``x``."""
    for number in range(5):
        at = x + number * (long - 8) / 4
        plate.draw(rounded([(at, y - 15), (at + 5, y - 15), (at + 8, y + 15), (at + 3, y + 15)], 2.4), name="spring")


def _post(plate: Plate, x: float, y: float) -> None:
    plate.draw(
        rounded(
            [
                (x - 18, y - 20),
                (x + 18, y - 20),
                (x + 18, y + 20),
                (x + 22, y + 44),
                (x - 22, y + 44),
                (x - 18, y + 20),
            ],
            [4, 4, 0, 2, 2, 0],
        ),
        name="post",
    )
    plate.draw(box(x - 6, y - 28, 12, 14, 1), name="nut")
