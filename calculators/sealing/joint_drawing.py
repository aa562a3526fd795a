"""Each kind of joint, drawn where its sealer or its seal goes: flanges from above, the others in section."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from calculators.bench import Drawing, Figure

_WIDE, _HIGH = 340, 190


@lru_cache(maxsize=16)
def joint_drawn(joint: str, name: str) -> Figure:
    """Draw one kind of joint; what goes on it is the shaded or the thick part."""
    drawing = Drawing(_WIDE, _HIGH)
    draw, view, told = _JOINTS[joint]
    draw(drawing)
    return Figure(key="joint", title=f"{name.capitalize()}, {view}", svg=drawing.svg(f"{name}, {view}: {told}."))


def _name(
    drawing: Drawing,
    beside: tuple[float, float],
    part: tuple[float, float],
    *words: str,
    strong: bool = False,
    first: float | None = None,
) -> None:
    """Name a part: a line from it to the words beside the drawing, one under the other from ``first`` down."""
    x, y = beside
    drawing.line(x, y, *part)
    for row, line in enumerate(words):
        drawing.text(x + 4, (y if first is None else first) + 18 * row, line, "number" if strong else "words", "start")


def _flange(drawing: Drawing) -> None:
    drawing.rectangle(20, 18, 200, 154, "part", round=20)


def _opening_and_holes(drawing: Drawing) -> None:
    drawing.rectangle(62, 58, 84, 74, "space", round=10)
    for x, y in ((34, 32), (206, 32), (34, 158), (206, 158), (120, 30), (120, 160)):
        drawing.circle(x, y, 7, "stud")
    _name(drawing, (230, 32), (214, 32), "bolt holes")
    _name(drawing, (230, 108), (140, 108), "opening")


def _bead(drawing: Drawing) -> None:
    _flange(drawing)
    drawing.rectangle(46, 42, 148, 106, "hand", round=24)
    _opening_and_holes(drawing)
    drawing.circle(168, 122, 6, "stud")
    _name(drawing, (230, 70), (196, 70), "bead", strong=True)
    _name(drawing, (230, 146), (175, 124), "oilway, clear")


def _cover(drawing: Drawing) -> None:
    _flange(drawing)
    drawing.rectangle(26, 24, 188, 142, "spacer", round=16)
    _opening_and_holes(drawing)
    _name(drawing, (230, 66), (205, 70), "gasket, glued", "to the cover", strong=True, first=62)


def _port(drawing: Drawing) -> None:
    drawing.rectangle(14, 40, 206, 110, "part", round=55)
    drawing.circle(117, 95, 48, "spacer")
    drawing.circle(117, 95, 36, "space")
    for x in (42, 192):
        drawing.circle(x, 95, 9, "stud")
    _name(drawing, (230, 95), (203, 95), "stud")
    _name(drawing, (230, 56), (152, 70), "ring or gasket,", "dry", strong=True, first=48)
    _name(drawing, (230, 136), (140, 112), "port")


def _barrel_foot(drawing: Drawing) -> None:
    drawing.rectangle(20, 12, 166, 166, "part", round=10)
    drawing.circle(103, 95, 58, "spacer")
    drawing.circle(103, 95, 52, "space")
    for x, y in ((36, 28), (170, 28), (36, 162), (170, 162)):
        drawing.circle(x, y, 8, "stud")
    _name(drawing, (232, 34), (178, 30), "studs")
    _name(drawing, (232, 76), (168, 82), "film, closed", strong=True)
    _name(drawing, (232, 112), (150, 108), "mouth of", "the barrel")


def _block(drawing: Drawing, x: float, y: float, width: float, height: float) -> None:
    """Draw a part that is cut through."""
    drawing.rectangle(x, y, width, height, "part")


def _stud(drawing: Drawing) -> None:
    _block(drawing, 30, 74, 68, 92)
    _block(drawing, 142, 74, 68, 92)
    drawing.rectangle(100, 80, 40, 62, "spacer")
    drawing.rectangle(106, 14, 28, 140, "stud")
    for y in range(84, 142, 9):
        drawing.line(106, y + 5, 134, y, "edge")
    _name(drawing, (218, 34), (136, 34), "stud, outwards")
    _name(drawing, (218, 98), (140, 104), "sealer on the", "thread", strong=True)
    _name(drawing, (218, 150), (136, 150), "tip bare", strong=True)
    drawing.text(120, 180, "oil behind it")


def _tube(drawing: Drawing) -> None:
    _block(drawing, 20, 14, 60, 56)
    _block(drawing, 20, 120, 60, 56)
    drawing.rectangle(46, 66, 120, 58, "space")
    drawing.line(46, 72, 166, 72, "blade")
    drawing.line(46, 118, 166, 118, "blade")
    drawing.rectangle(48, 52, 30, 18, "spacer", round=8)
    drawing.rectangle(48, 120, 30, 18, "spacer", round=8)
    drawing.text(126, 34, "seam upwards", "words", "start")
    drawing.line(140, 44, 140, 70)
    _name(drawing, (218, 78), (168, 78), "tube")
    _name(drawing, (218, 112), (80, 128), "seal, a trace", "of oil", strong=True)
    _name(drawing, (218, 162), (82, 162), "seat, dry")


def _eye(drawing: Drawing) -> None:
    drawing.rectangle(60, 16, 92, 26, "part")
    drawing.rectangle(92, 42, 28, 128, "stud")
    drawing.rectangle(54, 46, 38, 10, "spacer")
    drawing.rectangle(120, 46, 38, 10, "spacer")
    drawing.rectangle(40, 58, 52, 40, "part")
    drawing.rectangle(120, 58, 52, 40, "part")
    drawing.rectangle(54, 100, 38, 10, "spacer")
    drawing.rectangle(120, 100, 38, 10, "spacer")
    _block(drawing, 30, 112, 62, 64)
    _block(drawing, 120, 112, 62, 64)
    drawing.circle(106, 78, 6, "stud first")
    _name(drawing, (218, 28), (154, 28), "hollow bolt")
    _name(drawing, (218, 51), (160, 51), "new washer", strong=True)
    _name(drawing, (218, 78), (174, 78), "eye of the pipe")
    _name(drawing, (218, 105), (160, 105), "new washer", strong=True)
    drawing.path([(218, 134), (196, 134), (112, 82)], "thin")
    drawing.text(222, 134, "hole, clear", "words", "start")


def _plug(drawing: Drawing) -> None:
    _block(drawing, 30, 20, 62, 88)
    _block(drawing, 128, 20, 62, 88)
    drawing.rectangle(92, 30, 36, 90, "stud")
    for y in range(36, 106, 9):
        drawing.line(92, y + 5, 128, y, "edge")
    drawing.rectangle(52, 110, 116, 10, "spacer")
    drawing.rectangle(60, 122, 100, 34, "part")
    _name(drawing, (218, 42), (192, 42), "sump or cover")
    _name(drawing, (218, 84), (130, 70), "thread, clean")
    _name(drawing, (218, 115), (170, 115), "new washer", strong=True)
    _name(drawing, (218, 144), (162, 144), "plug, below")


def _recess(drawing: Drawing) -> None:
    _block(drawing, 20, 108, 180, 62)
    drawing.rectangle(56, 92, 108, 34, "spacer", round=12)
    drawing.rectangle(88, 92, 44, 78, "space")
    _block(drawing, 20, 24, 68, 66)
    _block(drawing, 132, 24, 68, 66)
    _name(drawing, (218, 50), (202, 50), "cooler")
    _name(drawing, (218, 100), (166, 106), "new seal,", "no sealer", strong=True)
    _name(drawing, (218, 150), (202, 150), "case")
    drawing.arrow(110, 160, 110, 36)
    drawing.text(110, 182, "oil")


def _barrel_head(drawing: Drawing) -> None:
    drawing.path([(20, 20), (200, 20), (200, 96), (168, 96), (168, 66), (52, 66), (52, 96), (20, 96)], "part", True)
    drawing.rectangle(58, 74, 18, 96, "stud")
    drawing.rectangle(144, 74, 18, 96, "stud")
    drawing.line(54, 70, 78, 70, "hand")
    drawing.line(142, 70, 166, 70, "hand")
    _name(drawing, (218, 34), (202, 34), "head")
    _name(drawing, (218, 70), (168, 70), "seat: bare, or", "its ring", strong=True)
    _name(drawing, (218, 140), (164, 140), "barrel")


_SECTION = "in section"
_ABOVE = "its face from above"
_JOINTS: dict[str, tuple[Callable[[Drawing], None], str, str]] = {
    "barrel_foot": (_barrel_foot, _ABOVE, "a film closed round the mouth of the barrel, inside of the studs"),
    "barrel_head": (_barrel_head, _SECTION, "the barrel bears on its seat in the head, bare or on its ring"),
    "stud": (_stud, _SECTION, "sealer on the thread, the tip bare"),
    "tube": (_tube, _SECTION, "a seal between tube and seat at its end, the seam upwards"),
    "cover": (_cover, _ABOVE, "the gasket over the whole flange, glued to the cover, dry to the head"),
    "cooler": (_recess, _SECTION, "a new seal in its recess between cooler and case"),
    "pipe": (_eye, _SECTION, "a new washer above and below the eye of the pipe"),
    "manifold": (_port, _ABOVE, "a dry gasket round the port"),
    "exhaust": (_port, _ABOVE, "a dry ring or gasket round the port"),
    "case": (_bead, _ABOVE, "a thin closed bead inside of the bolt holes, clear of the oilway"),
    "drain": (_plug, _SECTION, "a new washer under the plug"),
}
