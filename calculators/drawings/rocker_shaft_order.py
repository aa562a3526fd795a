"""The rocker shaft pulled apart in its order."""

from __future__ import annotations

from calculators.drawings.kit.path import box, disc, line, rounded
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw() -> Plate:
    plate = Plate(
        "The rocker shaft in its order",
        "The parts of a rocker shaft pulled apart along it, and below them the same parts put together. From "
        "left to right: clip, washer, rocker, spring, post, rocker, washer, clip. The oil holes of the shaft "
        "point to the loaded side. A blade between rocker and post measures the side play.",
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
    _coil(plate, 116, y)
    _post(plate, 178, y)
    plate.tag(32, 44, "clip", [(14, 100)], "clip")
    plate.tag(274, 44, "washer", [(280, 94)], "washer")
    plate.tag(104, 186, "rocker", [(84, 120)], "rocker")
    plate.tag(150, 44, "spring", [(128, 98)], "spring")
    plate.tag(216, 186, "post", [(182, 138)], "post")
    low = 300.0
    plate.draw(box(22, low - 10, 276, 20, 3), name="shaft")
    for x in (60.0, 116.0, 220.0, 266.0):
        plate.draw(disc(x, low, 2.6), "solid")
    for x in (28.0, 292.0):
        plate.draw(
            rounded([(x - 4, low - 13), (x + 4, low - 13), (x + 4, low + 13), (x - 4, low + 13)], 3), name="clip"
        )
    for x in (39.0, 281.0):
        plate.draw(box(x - 3, low - 18, 6, 36, 1), name="washer")
    _rocker(plate, 64, low)
    _coil(plate, 87, low)
    _post(plate, 160, low)
    _rocker(plate, 204, low)
    _coil(plate, 227, low)
    plate.draw(box(181.5, low - 46, 3.4, 60), "held-solid", name="blade")
    plate.tag(244, 224, "blade", [(183.2, 258)], "blade")
    plate.arrow((100, 212), (100, 246))
    plate.words(160, 396, "side play between rocker and post")
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


def _coil(plate: Plate, x: float, y: float) -> None:
    for number in range(4):
        at = x + number * 7
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
