"""A map of the places where oil comes out, and what each is."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import Path, Point, box, line, outline, rounded
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw() -> Plate:
    plate = Plate(
        "Where it is wet, and what leaks",
        "One side of the engine from the pulley end, drops at six places. 1, the edge of the rocker cover. 2, "
        "the outer seal of a pushrod tube. 3, its inner seal. 4, the foot of a barrel. 5, the foot of the "
        "cooler. 6, the pressure switch. Oil runs down and back: the highest wet place is the leak.",
        470,
        IN_THE_ENGINE,
    )
    y = 168.0
    plate.draw(rounded([(0, 96), (76, 96), (76, 266), (0, 266)], [0, 4, 4, 0]), name="case")
    plate.draw(box(8, 40, 54, 56, 3), name="cooler")
    fins = Path(())
    for number in range(6):
        fins += line((14 + number * 8.5, 46), (14 + number * 8.5, 90))
    plate.draw(fins, "fine")
    plate.draw(rounded([(36, 110), (50, 110), (50, 128), (36, 128)], 2), name="switch")
    plate.draw(box(40, 128, 6, 10), name="switch")
    plate.put(parts.tube(132, 16, 3), 76, y + 76)
    plate.put(parts.barrel_outside(72, 112, 8, 4, 14), 80, y)
    plate.draw(
        rounded(
            [(192, y - 56), (244, y - 56), (244, y + 92), (208, y + 92), (208, y + 58), (192, y + 58)],
            [2, 2, 2, 2, 0, 2],
        ),
        name="head",
    )
    for number in range(4):
        plate.draw(line((202 + number * 10, y - 56), (202 + number * 10, y + 48)), "fine")
    plate.draw(rounded([(244, y - 44), (288, y - 34), (288, y + 78), (244, y + 88)], [2, 12, 12, 2]), name="cover")
    spots: list[Point] = [(247, y + 94), (205, y + 92), (80, y + 92), (82, y + 60), (36, 100), (56, 124)]
    for number, (x, level) in enumerate(spots, 1):
        _drop(plate, x, level)
        dx, dy = ((14, 8), (-14, 8), (16, 8), (-16, 4), (-14, 8), (14, 4))[number - 1]
        plate.words(x + dx, level + dy, str(number))
    plate.arrow((304, 60), (304, 110), look="open")
    plate.words(316, 46, "runs down", "end")
    for number, (x, level, words) in enumerate(
        (
            (0, 330, "cover edge"),
            (0, 356, "tube, outer seal"),
            (0, 382, "tube, inner seal"),
            (172, 330, "barrel foot"),
            (172, 356, "cooler foot"),
            (172, 382, "switch"),
        ),
        1,
    ):
        plate.words(x, level, f"{number}  {words}", "start")
    plate.words(0, 420, "Highest wet place first.", "start")
    return plate


def _drop(plate: Plate, x: float, y: float) -> None:
    plate.draw(
        outline(
            (x, y - 8),
            ((x + 2, y - 2), (x + 7, y + 2), (x + 7, y + 7)),
            ((x + 7, y + 16), (x - 7, y + 16), (x - 7, y + 7)),
            ((x - 7, y + 2), (x - 2, y - 2), (x, y - 8)),
        ),
        "held-solid",
        name="drop",
    )
