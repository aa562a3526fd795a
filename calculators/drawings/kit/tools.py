"""The tools that matter."""

from __future__ import annotations

from calculators.drawings.kit.path import around, bar, box, closed, disc, line, rounded
from calculators.drawings.kit.plate import Part, Piece


def dial_gauge(reading: float = 40) -> Part:
    """Return a dial gauge, its tip at the origin, its plunger down the page to it."""
    ticks = line(around(0, -82, 20, 0), around(0, -82, 25, 0))
    for angle in range(30, 360, 30):
        ticks += line(around(0, -82, 21, angle), around(0, -82, 25, angle))
    needle = bar((0, -82), around(0, -82, 19, reading), 3)
    return Part(
        "dial gauge",
        (
            Piece(rounded([(-4, -56), (4, -56), (4, -24), (-4, -24)], 1)),
            Piece(bar((0, -26), (0, -3), 4)),
            Piece(disc(0, -3, 3.4)),
            Piece(box(-3, -122, 6, 10, 2)),
            Piece(disc(0, -82, 30)),
            Piece(ticks, "fine"),
            Piece(needle, "held-solid"),
            Piece(disc(0, -82, 3), "solid"),
        ),
    )


def tweezers(length: float = 92) -> Part:
    """Return tweezers, their tips at the origin, handles to the right."""
    upper = closed((0, -1), (14, -2), (length, -9), (length + 14, -5), (length + 14, 0), (length, -4), (14, 2))
    lower = closed((0, 1), (14, 2), (length, 9), (length + 14, 5), (length + 14, 0), (length, 4), (14, -2))
    return Part("tweezers", (Piece(lower), Piece(upper)))


def bridge(length: float, thick: float = 12) -> Part:
    """Return the bridge of a depth gauge lying on the origin's level, to the right."""
    return Part("bridge", (Piece(box(0, -thick, length, thick, 1)),))


def depth_gauge(deep: float, tall: float = 52) -> Part:
    """Return a depth gauge: its tip so deep below the origin, its dial above the bridge."""
    ticks = line(around(0, -tall, 14, 0), around(0, -tall, 18, 0))
    for angle in range(45, 360, 45):
        ticks += line(around(0, -tall, 15, angle), around(0, -tall, 18, angle))
    return Part(
        "depth gauge",
        (
            Piece(box(-3, -tall + 20, 6, tall - 20 - 4)),
            Piece(box(-1.8, -8, 3.6, deep + 7)),
            Piece(disc(0, -tall, 22)),
            Piece(ticks, "fine"),
            Piece(bar((0, -tall), around(0, -tall, 14, deep * 12), 3), "held-solid"),
        ),
    )


def screwdriver(length: float = 80) -> Part:
    """Return a screwdriver, its tip at the origin, handle to the right."""
    return Part(
        "screwdriver",
        (
            Piece(closed((0, -2), (8, -4), (8, 4), (0, 2))),
            Piece(bar((8, 0), (length, 0), 6)),
            Piece(rounded([(length, -9), (length + 42, -10), (length + 42, 10), (length, 9)], [3, 8, 8, 3])),
            Piece(line((length + 8, -3), (length + 36, -3)) + line((length + 8, 4), (length + 36, 4)), "fine"),
        ),
    )


def straightedge(length: float, thick: float = 14) -> Part:
    """Return a straightedge on the origin's level, to the right."""
    return Part("straightedge", (Piece(box(0, -thick, length, thick, 1)),))


def mallet() -> Part:
    """Return a mallet, its face at the origin, striking to the left; its shaft goes down."""
    return Part("mallet", (Piece(box(24, 10, 10, 88, 3)), Piece(box(0, -16, 58, 32, 5))))
