"""One valve pulled out of its head, which is cut through the valve's guide."""

from __future__ import annotations

from calculators.drawings.kit import oblique
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.oblique import lying, swept
from calculators.drawings.kit.path import Path, arc, box, closed, line, outline
from calculators.drawings.kit.plate import Part, Plate

_BORE = 124.0
"""How wide a bore would be drawn; all else in proportion."""
_AXIS = 148.0
_TALL, _WIDE, _DEEP = 88.0, 92.0, 90.0
"""Of the piece of the head: its height, half its width, its depth behind the cut."""


def draw(engine: Engine) -> Plate:
    scale = _BORE / engine.bore
    spring, stem, head = engine.spring * scale, engine.stem * scale, engine.inlet * scale
    plate = Plate(
        "One valve, pulled apart",
        "An inlet valve and what belongs to it, pulled apart along its stem. From the top: the two collets; the "
        "spring cap, whose cone takes them; the valve spring; a piece of the head, cut through, with the valve guide "
        "above and the seat below, and the port between them; the valve, which enters from below.",
        616,
        "at an angle, the head cut",
        named=True,
    )
    collets, cap, coil, block, foot = 66.0, 118.0, 222.0, 374.0, 596.0
    plate.put(oblique.valve(head, stem, 1.42 * _BORE), _AXIS, foot)
    _head(plate, head / 2, stem / 2, spring / 2, block)
    measures = spring, engine.wire * scale, 64, engine.coils
    plate.put(oblique.spring(*measures), _AXIS, coil)
    wire_x, wire_y = oblique.front_of_spring(*measures)
    plate.put(oblique.cap(spring, stem + 10), _AXIS, cap)
    plate.put(oblique.collets(stem / 2 + 7, stem / 2, 20, 14), _AXIS, collets)
    plate.tag(262, collets - 6, "collets", [(_AXIS + 14 + stem / 2 + 3, collets - 8)], "collets")
    plate.tag(44, cap - 6, "cap", [(_AXIS - spring / 2 + 5, cap - 6)], "cap")
    plate.tag(262, coil - 34, "spring", [(_AXIS + wire_x, coil + wire_y)], "spring")
    plate.tag(34, block - _TALL - 28, "guide", [(_AXIS - stem / 2 - 3, block - _TALL - 9)], "guide", ["head"])
    plate.tag(262, block + 38, "seat", [(_AXIS + head / 2 + 2, block - 12)], "seat", ["head"])
    plate.tag(262, foot - 100, "valve", [(_AXIS + stem / 4, foot - 92)], "valve")
    plate.tag(_AXIS - 60, block - 40, "head", [], "head")
    return plate


def _head(plate: Plate, valve: float, stem: float, spring: float, foot: float) -> None:
    """Draw a piece of the head, cut at the valve's axis: behind the cut its top, before it the metal hatched."""
    guide = stem + 7
    plate.put(Part("head", tuple(swept(box(-_WIDE, -_TALL, 2 * _WIDE, _TALL), _DEEP))), _AXIS, foot)
    behind = Path(())
    for radius in (spring + 3, guide):
        behind += lying(arc(0, 0, radius, -90, 180), -_TALL)
    plate.draw(behind.moved(_AXIS, foot), "open", name="head")
    seat, throat = valve + 5, valve - 4
    left = outline(
        (-_WIDE, -_TALL), (-guide, -_TALL), (-guide, -54), ((-guide - 4, -50), (-throat, -44), (-throat, -28)),
        (-throat, -18), (-seat, -18), (-seat, -6), (-seat - 4, 0), (-_WIDE, 0),
    )  # fmt: skip
    upper = outline(
        (guide, -_TALL), (_WIDE, -_TALL), (_WIDE, -64), ((_WIDE - 20, -64), (guide + 10, -60), (guide, -54))
    )
    lower = outline(
        (throat, -18), ((throat, -26), (throat + 8, -36), (_WIDE, -34)), (_WIDE, 0), (seat + 4, 0), (seat, -6),
        (seat, -18),
    )  # fmt: skip
    for metal in (left, upper, lower):
        plate.draw(metal.moved(_AXIS, foot), "outline", "aluminium", "head")
    for side in (-1, 1):
        sleeve = closed(
            (side * stem, -_TALL - 16), (side * guide, -_TALL - 16), (side * guide, -42), (side * stem, -38)
        )
        plate.draw(sleeve.moved(_AXIS, foot), "outline", "iron", "guide")
        ring = closed(
            (side * throat, -18), (side * seat, -18), (side * seat, -6), (side * (valve + 1), -6), (side * throat, -12)
        )
        plate.draw(ring.moved(_AXIS, foot), "outline", "iron", "seat")
    back = lying(arc(0, 0, throat, -90, 180), -12) + lying(arc(0, 0, guide, -90, 180), -_TALL - 16)
    plate.draw(back.moved(_AXIS, foot), "open", name="head")
    plate.draw(line((_AXIS, foot - _TALL - 62), (_AXIS, foot + 18)), "fine")
