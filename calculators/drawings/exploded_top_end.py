"""The top end of one bank pulled apart along its cylinders, seen at an angle."""

from __future__ import annotations

from calculators.drawings.kit import oblique
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.oblique import block, drum, hole, seen, swept
from calculators.drawings.kit.path import Path, Point, blob, box, closed, disc, line
from calculators.drawings.kit.plate import Part, Piece, Plate

_BORE = 54.0
"""How wide a bore is drawn; all else in proportion."""
_PITCH = 1.4 * _BORE
"""From one cylinder of a bank to the next."""
_FRONT = -0.65 * _BORE
"""How far before the nearest cylinder's axis head, cover and case begin."""
_AXIS = 140.0
_VALVES = 13.0
"""How far each valve of a cylinder stands before or behind its axis."""


def draw(engine: Engine) -> Plate:
    bank = engine.banks[-1]
    shown = min(len(bank), 3)
    barrel = engine.barrel / engine.bore * _BORE + 8
    deep = _PITCH * (shown - 1) - 2 * _FRONT
    back = (deep + _FRONT) * oblique.DEPTH
    cover = 64 + back
    rocker = cover + 46 + 0.55 * back
    head = rocker + 126 + 0.45 * back
    foot = head + 28 + barrel
    rings = foot + 20
    piston = rings + 82
    spacer = piston + 58
    case = spacer + max(68, back + 18)
    plate = Plate(
        "The top end, pulled apart",
        f"The top end of cylinders {', '.join(map(str, bank))}, pulled apart along its cylinders, the case below. "
        "From the top: rocker cover; rockers on their shaft; the head with its springs; then, for the nearest "
        "cylinder, its barrel, the rings, the piston with its gudgeon pin drawn out to the front, and a spacer; the "
        "case with the connecting rod. To the left a pushrod and its tube; to the right a stud with its nut.",
        case + 80,
        "at an angle, the case below",
        named=True,
    )
    _case(plate, shown, deep, case)
    _at(plate, oblique.ring(0.66 * _BORE, 0.11 * _BORE, 2.5).pieces, "spacer", 0, spacer, 0)
    pin = _piston(plate, piston)
    for number, turn in enumerate((215.0, 120.0, 150.0)):
        _at(plate, oblique.piston_ring(_BORE * 0.5, 5, turn).pieces, "rings", 0, rings + 26 - number * 13, 0)
    _at(plate, oblique.barrel(_BORE, barrel).pieces, "barrel", 0, foot, 0)
    _head(plate, engine, shown, deep, head)
    _rockers(plate, engine, shown, rocker)
    _cover(plate, deep, cover)
    _beside(plate, head + 34, pin - 55)
    plate.tag(43, rocker + 42, "rocker", [(_AXIS - 38, rocker + 6)], "rocker")
    level = head + 92
    for words, reach, wanted in (
        ("barrel", 0.6, foot - barrel * 0.45),
        ("rings", 0.44, rings + 26),
        ("piston", 0.4, piston - 10),
        ("spacer", 0.62, spacer - 1),
    ):
        level = max(level, wanted)
        plate.tag(246, level, words, [(_AXIS + reach * _BORE, wanted)], words)
        level += 55
    return plate


def _at(plate: Plate, pieces: list[Piece] | tuple[Piece, ...], name: str, x: float, y: float, away: float) -> None:
    plate.put(Part(name, tuple(pieces)), *seen(_AXIS + x, y, away))


def _cover(plate: Plate, deep: float, foot: float) -> None:
    lid = closed((-42, -5), (-34, -38), (-26, -44), (26, -44), (34, -38), (42, -5))
    _at(plate, swept(box(-48, -5, 96, 5), deep), "cover", 0, foot, _FRONT)
    _at(plate, swept(lid, deep - 8), "cover", 0, foot, _FRONT + 4)
    x, y = seen(_AXIS, foot, _FRONT + 4)
    plate.tag(x, y - 22, "cover", [], "cover")


def _rockers(plate: Plate, engine: Engine, shown: int, y: float) -> None:
    at_rod = engine.adjuster == "pushrod"
    stations = [number * _PITCH + side * _VALVES for number in range(shown) for side in (-1, 1)]
    _at(plate, swept(disc(0, 0, 4.5), 14), "shaft", -14, y, stations[-1] + 8)
    for before, station in reversed(list(zip([stations[0] - 24, *stations], stations, strict=False))):
        x = -32 if at_rod else 30
        if at_rod:
            _at(plate, [Piece(disc(0, 15, 4.2))], "rocker", -14 + x, y, station)
        _at(plate, [Piece(box(-3, -17, 6, 32, 1)), Piece(box(-6, -12, 12, 6, 1))], "rocker", -14 + x, y, station)
        body = blob((-38, -4), (-24, -6), (-10, -10), (0, -12), (10, -10), (24, -6), (34, -4), (38, 3), (34, 10),
                    (27, 6), (12, 7), (0, 11), (-12, 8), (-26, 5), (-38, 5))  # fmt: skip
        _at(plate, swept(body, 11), "rocker", -14, y, station - 5)
        _at(plate, [Piece(disc(0, 0, 4.5))], "shaft", -14, y, station - 5)
        _at(plate, swept(disc(0, 0, 4.5), station - before - 12), "shaft", -14, y, before + 7)


def _head(plate: Plate, engine: Engine, shown: int, deep: float, foot: float) -> None:
    right: list[Point] = [(40, 0)]
    for number in range(5):
        right += [(40, -7 - number * 10), (50, -7 - number * 10), (50, -11 - number * 10), (40, -11 - number * 10)]
    right += [(40, -56), (46, -60), (46, -74)]
    left = [(-x, y) for x, y in reversed(right)][:-3]
    outline = closed(*left, (-40, -18), (-76, -18), (-76, 0), *right)
    _at(plate, swept(outline, deep), "head", 0, foot, _FRONT)
    port = [Piece(disc(0, -16, 12)), Piece(disc(0, -16, 8)), Piece(disc(-20, -16, 4)), Piece(disc(20, -16, 4))]
    _at(plate, port, "head", 0, foot, _FRONT)
    wide = engine.spring / engine.bore * _BORE
    for number in reversed(range(shown)):
        for side in (1, -1):
            away = number * _PITCH + side * _VALVES
            coil = oblique.spring(wide * 0.9, max(2.4, engine.wire / engine.bore * _BORE), 22, 4)
            _at(plate, coil.pieces, "spring", 4, foot - 74, away)
            _at(plate, [*drum(wide * 0.48, 0, -5), hole(4, -5)], "cap", 4, foot - 96, away)
    x, y = seen(_AXIS, foot, _FRONT)
    plate.tag(x, y - 44, "head", [], "head")


def _piston(plate: Plate, foot: float) -> float:
    """Draw the piston with its pin drawn out, and return at which height that lies."""
    level, out = foot - 0.82 * _BORE * 0.28, -134.0
    plate.draw(line(seen(_AXIS, level, -_BORE / 2), seen(_AXIS, level, out + 44)), "fine")
    _at(plate, oblique.piston(_BORE, 13).pieces, "piston", 0, foot, 0)
    _at(plate, [*swept(disc(0, 0, 6.5), 44), Piece(disc(0, 0, 3.6))], "pin", 0, level, out)
    x, y = seen(_AXIS, level, out)
    plate.tag(32, y, "pin", [(x - 5, y)], "pin")
    return y


def _case(plate: Plate, shown: int, deep: float, top: float) -> None:
    _at(plate, block(168, 64, 0, deep), "crankcase", 0, top, _FRONT)
    for number in reversed(range(shown)):
        for side, away in ((-44.0, 24.0), (44.0, 24.0), (-44.0, -24.0), (44.0, -24.0)):
            _at(plate, [hole(4, 0)], "crankcase", side, top, number * _PITCH + away)
        for away in (_VALVES, -_VALVES):
            _at(plate, [hole(6, 0)], "crankcase", -68, top, number * _PITCH + away)
        _at(plate, [hole(0.6 * _BORE, 0)], "crankcase", 0, top, number * _PITCH)
    reach = 0.6 * _BORE * oblique.DEPTH
    _at(plate, swept(closed((-6, -34), (6, -34), (7, reach - 1), (-8, reach - 1)), 8), "rod", 0, top, 0)
    _at(plate, [*swept(disc(0, -44, 12), 10), Piece(disc(0, -44, 6.5))], "rod", 0, top, 0)
    x, y = seen(_AXIS, top, _FRONT)
    plate.tag(x, y + 32, "crankcase", [], "crankcase")


def _beside(plate: Plate, top: float, foot: float) -> None:
    """Draw what stands beside the barrel: pushrod and tube to the left, a stud with its nut to the right."""
    tube, rod, stud = 74.0, 20.0, 300.0
    long = min(foot - top - 34, 110)
    plate.put(oblique.tube(long, 16), tube, top + 14 + long)
    plate.tag(40, top, "tube", [(50, top + 14 + long / 2), (tube, top + 14 + long / 2)], "tube")
    plate.put(oblique.pushrod(foot - top - 40, 8), rod, foot - 22)
    plate.tag(47, foot, "pushrod", [(rod, foot - 44)], "pushrod")
    threads = Path(())
    for first in (-4.0, -108.0):
        for number in range(7):
            threads += line((-4, first - number * 3), (4, first - number * 3 + 1.5))
    plate.put(Part("stud", (*drum(4, 0, -134), Piece(threads, "fine"))), stud, top + 156)
    plate.put(oblique.nut(9, 10, 4), stud, top + 8)
    plate.tag(246, top + 2, "stud", [(stud, top + 60)], "stud")
