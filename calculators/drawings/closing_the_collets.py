"""Valve held shut from inside, spring compressed, collets set; collets of one groove and of several."""

from __future__ import annotations

from calculators.drawings.kit import hands, parts, tools
from calculators.drawings.kit.path import Point, bar, box, closed, disc, outline, rounded, sector
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate

_HEAD = outline(
    (88, 196), (13, 196), (13, 176), (5, 176), (5, 214), ((8, 226), (25, 232), (25, 246)), (36, 246), (36, 258),
    (54, 260), (62, 276), (88, 276),
)  # fmt: skip
"""The right half of the cut head, from the middle of the stem."""


def draw() -> Plate:
    plate = Plate(
        "Spring compressed, collets set",
        "A head on the bench, chamber down, cut, its valve shut on the seat. The compressor's screw presses on the "
        "valve's head from inside, in place of a wood block; its fork stands square on the cap, presses it down and "
        "bares the groove of the stem. Tweezers set a collet, large end up; the fingers stay clear of the cap. Below, "
        "two kinds in section: collets with one rib grip the stem and leave a gap between the halves, alike on both "
        "sides; collets with several ribs touch each other and leave none.",
        464,
        ON_THE_BENCH,
    )
    x, top = 118.0, 196.0
    for side in (1, -1):
        plate.draw(_HEAD.scaled(side, 1).moved(x, 0), "outline", "aluminium", "head")
    plate.put(parts.valve(58, 10, 146).turned(-90), x, 256)
    for side in (1, -1):
        seat = [(x + a * side, b) for a, b in ((25, 246), (36, 246), (36, 258), (30, 255), (25, 250))]
        plate.draw(closed(*seat), "outline", "iron", "seat")
    plate.put(parts.spring(58, 6, 62, 5).turned(-90), x, top)
    plate.put(parts.cap(62, 10).turned(-90), x, top - 62)
    _frame(plate, x)
    _collet(plate, x - 5, 108, -1)
    _collet(plate, x + 5, 108, 1)
    plate.put(tools.tweezers().turned(-38), x + 11, 98)
    plate.put(hands.pinch().scaled(0.7).turned(-12), 196, 40)
    plate.tag(44, 56, "collets", [(110, 102)], "collet")
    plate.tag(38, 160, "fork", [(90, 122)], "compressor")
    plate.tag(284, 322, "screw", [(134, 322)], "compressor")
    plate.tag(40, 306, "seat", [(88, 251)], "seat", ("head",))
    _kind(plate, 80, 386, 1)
    _kind(plate, 240, 386, 4)
    plate.right(14, 448, "1 groove: gap")
    plate.right(172, 448, "3 or 4: none")
    return plate


def _frame(plate: Plate, x: float) -> None:
    """Draw the compressor: fork on the cap, bow beside the head, screw under the valve's head."""
    plate.draw(box(x - 4, 262, 8, 62), "held", name="compressor")
    plate.draw(box(x - 16, 256, 32, 8, 2), "held", name="compressor")
    plate.draw(bar((x - 24, 322), (x + 24, 322), 6, True), "held", name="compressor")
    plate.draw(box(x - 34, 114, 12, 20), "held", name="compressor")
    bow = [
        (22, 134),
        (22, 106),
        (126, 106),
        (126, 310),
        (-12, 310),
        (-12, 296),
        (112, 296),
        (112, 120),
        (34, 120),
        (34, 134),
    ]
    plate.draw(
        rounded([(x + a, float(b)) for a, b in bow], [1, 2, 10, 10, 3, 3, 4, 4, 1, 1]), "held", name="compressor"
    )


def _collet(plate: Plate, x: float, y: float, side: int) -> None:
    points: list[Point] = [(0, 0), (7, 0), (3, 18), (0, 18)]
    plate.draw(closed(*((x + a * side, y - 10 + b) for a, b in points)), "held-solid", name="collet")


def _kind(plate: Plate, x: float, y: float, grooves: int) -> None:
    """Draw stem and collets large: in section, and seen along the stem."""
    left = x - 40
    pitch = 9.0
    first = y - 14 if grooves == 1 else y - 26
    side: list[Point] = [(left + 16, y - 44)]
    for number in range(grooves):
        at = first + number * pitch * 1.4
        side += [(left + 16, at), (left + 11, at + 2), (left + 11, at + 6), (left + 16, at + 8)]
    side.append((left + 16, y + 42))
    plate.draw(closed(*side, *((2 * left - a, b) for a, b in reversed(side))), name="stem")
    for hand in (-1, 1):
        ribs = [(16.0, y - 34.0)]
        for number in range(grooves):
            at = first + number * pitch * 1.4
            ribs += [(16.0, at + 0.8), (12.0, at + 2.6), (12.0, at + 5.4), (16.0, at + 7.2)]
        ribs += [(16.0, y + 26.0), (21.0, y + 26.0), (31.0, y - 34.0)]
        plate.draw(closed(*((left + a * hand, b) for a, b in ribs)), "held", "iron", "collet")
    cx = x + 36
    gap = 26 if grooves == 1 else 0.5
    for start in (gap / 2, 180 + gap / 2):
        plate.draw(sector(cx, y, 15, 30, start, 180 - gap), "held", name="collet")
    plate.draw(disc(cx, y, 13), name="stem")
