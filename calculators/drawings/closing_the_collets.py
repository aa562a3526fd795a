"""Valve held shut from inside, spring compressed, collets set; collets of one groove and of several."""

from __future__ import annotations

from calculators.drawings.kit import hands, parts, tools
from calculators.drawings.kit.path import Path, Point, box, closed, disc, rounded, sector
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw() -> Plate:
    plate = Plate(
        "Spring compressed, collets set",
        "A head on the bench, chamber down over a wood block that holds the valve shut. The compressor's fork "
        "presses the cap down and bares the groove of the stem. Tweezers set a collet, large end up; the fingers "
        "stay clear of the cap. Below, two kinds in section: collets with one rib grip the stem and leave a gap "
        "between the halves, alike on both sides; collets with several ribs touch each other and leave none.",
        428,
        ON_THE_BENCH,
    )
    x, top = 118.0, 196.0
    plate.draw(box(0, 262, 236, 12), "outline", name="bench")
    plate.draw(box(x - 38, 246, 76, 16), "outline", name="block")
    head = closed(
        (24, 196),
        (x - 13, 196),
        (x - 13, 176),
        (x - 5, 176),
        (x - 5, 212),
        (x - 22, 222),
        (x - 32, 232),
        (x - 44, 232),
        (x - 60, 262),
        (24, 262),
    )
    plate.draw(head, "outline", "aluminium", "head")
    plate.draw(
        Path(tuple((pen, tuple((2 * x - a, b) for a, b in points)) for pen, points in head.steps)),
        "outline",
        "aluminium",
        "head",
    )
    plate.put(parts.valve(62, 10, 136).turned(-90), x, 246)
    plate.put(parts.spring(58, 6, 62, 5).turned(-90), x, top)
    plate.put(parts.cap(62, 10).scaled(1.0).turned(-90), x, top - 62)
    _jaw(plate, x)
    _collet(plate, x - 5, 108, -1)
    _collet(plate, x + 5, 108, 1)
    plate.put(tools.tweezers().turned(-38), x + 11, 98)
    plate.put(hands.pinch().scaled(0.7).turned(-12), 196, 40)
    plate.arrow((298, 132), (298, 164), look="held-open")
    plate.tag(44, 56, "collets", [(110, 102)], "collet")
    plate.tag(226, 168, "fork", [(190, 121)], "compressor")
    plate.tag(278, 230, "block", [(148, 254)], "block", ("head",))
    _kind(plate, 80, 352, 1)
    _kind(plate, 240, 352, 4)
    plate.right(8, 412, "1 groove: gap")
    plate.right(166, 412, "3 or 4: none")
    return plate


def _jaw(plate: Plate, x: float) -> None:
    """Draw the fork of the compressor, open in the middle, and the frame that pulls it down."""
    for side in (-1, 1):
        near, far = x + 22 * side, x + 34 * side
        plate.draw(box(min(near, far), 114, 12, 18), "held", name="compressor")
    plate.draw(
        rounded(
            [(x + 22, 114), (x + 190, 108), (x + 190, 122), (x + 34, 130), (x + 34, 132), (x + 22, 132)],
            [2, 7, 7, 0, 2, 2],
        ),
        "held",
        name="compressor",
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
