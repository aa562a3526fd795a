"""Each kind of joint, drawn where its sealer or its seal goes: flanges from above, the others in section."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from calculators.bench import Drawing, Figure

_WIDE, _HIGH = 340, 190
_HATCH = 12.0


@lru_cache(maxsize=16)
def joint_drawn(joint: str, name: str) -> Figure:
    """Draw one kind of joint; what goes on it is the shaded or the thick part."""
    drawing = Drawing(_WIDE, _HIGH)
    draw, view, told = _JOINTS[joint]
    draw(drawing)
    return Figure(key="joint", title=f"{name.capitalize()}, {view}", svg=drawing.svg(f"{name}, {view}: {told}."))


def _flange(drawing: Drawing) -> None:
    drawing.rectangle(20, 18, 200, 154, "part", round=20)


def _opening_and_holes(drawing: Drawing) -> None:
    drawing.rectangle(62, 58, 84, 74, "space", round=10)
    for x, y in ((34, 32), (206, 32), (34, 158), (206, 158), (120, 30), (120, 160)):
        drawing.circle(x, y, 7, "stud")
    drawing.line(230, 32, 214, 32)
    drawing.text(234, 32, "bolt holes", "words", "start")
    drawing.line(230, 108, 140, 108)
    drawing.text(234, 108, "opening", "words", "start")


def _bead(drawing: Drawing) -> None:
    _flange(drawing)
    drawing.rectangle(46, 42, 148, 106, "contact", round=24)
    _opening_and_holes(drawing)
    drawing.circle(168, 122, 6, "stud first")
    drawing.line(230, 70, 196, 70)
    drawing.text(234, 70, "bead", "number", "start")
    drawing.line(230, 146, 175, 124)
    drawing.text(234, 146, "oilway, clear", "words", "start")


def _cover(drawing: Drawing) -> None:
    _flange(drawing)
    drawing.rectangle(26, 24, 188, 142, "spacer", round=16)
    _opening_and_holes(drawing)
    drawing.line(230, 66, 205, 70)
    drawing.text(234, 62, "gasket, glued", "number", "start")
    drawing.text(234, 80, "to the cover", "number", "start")


def _port(drawing: Drawing) -> None:
    drawing.rectangle(14, 40, 206, 110, "part", round=55)
    drawing.circle(117, 95, 48, "spacer")
    drawing.circle(117, 95, 36, "space")
    for x in (42, 192):
        drawing.circle(x, 95, 9, "stud")
    drawing.line(230, 95, 203, 95)
    drawing.text(234, 95, "stud", "words", "start")
    drawing.line(230, 56, 152, 70)
    drawing.text(234, 48, "ring or gasket,", "number", "start")
    drawing.text(234, 66, "dry", "number", "start")
    drawing.line(230, 136, 140, 112)
    drawing.text(234, 136, "port", "words", "start")


def _barrel_foot(drawing: Drawing) -> None:
    drawing.rectangle(20, 12, 166, 166, "part", round=10)
    drawing.circle(103, 95, 64, "contact")
    drawing.circle(103, 95, 52, "space")
    for x, y in ((36, 28), (170, 28), (36, 162), (170, 162)):
        drawing.circle(x, y, 8, "stud")
    drawing.line(232, 34, 178, 30)
    drawing.text(236, 34, "studs", "words", "start")
    drawing.line(232, 76, 168, 82)
    drawing.text(236, 76, "film, closed", "number", "start")
    drawing.line(232, 112, 150, 108)
    drawing.text(236, 112, "mouth of", "words", "start")
    drawing.text(236, 130, "the barrel", "words", "start")


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
    drawing.text(222, 34, "stud, outwards", "words", "start")
    drawing.line(218, 34, 136, 34)
    drawing.line(218, 98, 140, 104)
    drawing.text(222, 98, "sealer on the", "number", "start")
    drawing.text(222, 116, "thread", "number", "start")
    drawing.line(218, 150, 136, 150)
    drawing.text(222, 150, "tip bare", "number", "start")
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
    drawing.line(218, 78, 168, 78)
    drawing.text(222, 78, "tube", "words", "start")
    drawing.line(218, 112, 80, 128)
    drawing.text(222, 112, "seal, a trace", "number", "start")
    drawing.text(222, 130, "of oil", "number", "start")
    drawing.line(218, 162, 82, 162)
    drawing.text(222, 162, "seat, dry", "words", "start")


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
    drawing.line(218, 28, 154, 28)
    drawing.text(222, 28, "hollow bolt", "words", "start")
    drawing.line(218, 51, 160, 51)
    drawing.text(222, 51, "new washer", "number", "start")
    drawing.line(218, 78, 174, 78)
    drawing.text(222, 78, "eye of the pipe", "words", "start")
    drawing.line(218, 105, 160, 105)
    drawing.text(222, 105, "new washer", "number", "start")
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
    drawing.line(218, 42, 192, 42)
    drawing.text(222, 42, "sump or cover", "words", "start")
    drawing.line(218, 84, 130, 70)
    drawing.text(222, 84, "thread, clean", "words", "start")
    drawing.line(218, 115, 170, 115)
    drawing.text(222, 115, "new washer", "number", "start")
    drawing.line(218, 144, 162, 144)
    drawing.text(222, 144, "plug, below", "words", "start")


def _recess(drawing: Drawing) -> None:
    _block(drawing, 20, 108, 180, 62)
    drawing.rectangle(56, 92, 108, 34, "spacer", round=12)
    drawing.rectangle(88, 92, 44, 78, "space")
    _block(drawing, 20, 24, 68, 66)
    _block(drawing, 132, 24, 68, 66)
    drawing.line(218, 50, 202, 50)
    drawing.text(222, 50, "cooler", "words", "start")
    drawing.line(218, 100, 166, 106)
    drawing.text(222, 100, "new seal,", "number", "start")
    drawing.text(222, 118, "no sealer", "number", "start")
    drawing.line(218, 150, 202, 150)
    drawing.text(222, 150, "case", "words", "start")
    drawing.arrow(110, 160, 110, 36)
    drawing.text(110, 182, "oil")


def _barrel_head(drawing: Drawing) -> None:
    drawing.path([(20, 20), (200, 20), (200, 96), (168, 96), (168, 66), (52, 66), (52, 96), (20, 96)], "part", True)
    drawing.rectangle(58, 74, 18, 96, "stud")
    drawing.rectangle(144, 74, 18, 96, "stud")
    drawing.line(54, 70, 78, 70, "contact")
    drawing.line(142, 70, 166, 70, "contact")
    drawing.line(218, 34, 202, 34)
    drawing.text(222, 34, "head", "words", "start")
    drawing.line(218, 70, 168, 70)
    drawing.text(222, 70, "seat: bare, or", "number", "start")
    drawing.text(222, 88, "its ring", "number", "start")
    drawing.line(218, 140, 164, 140)
    drawing.text(222, 140, "barrel", "words", "start")


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
