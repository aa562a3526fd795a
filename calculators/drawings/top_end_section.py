"""A section through one cylinder from the cam to the rocker cover, its parts by name."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import Point, box, closed, outline, rounded
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


class _Frame:
    """Where things lie: ``bore`` is how wide a bore is drawn, ``k`` an eightieth of it."""

    def __init__(self, engine: Engine) -> None:
        self.bore = 312 / (3.35 + engine.barrel / engine.bore)
        self.k = self.bore / 80
        self.scale = self.bore / engine.bore
        self.axis = 130 + 0.84 * self.bore
        self.rod = self.axis + 1.2 * self.bore
        self.cam = 4 + 24 * self.k
        self.base = self.cam + 78 * self.k
        self.face = self.base + 4 * self.k + engine.barrel * self.scale
        self.back = self.face + 68 * self.k
        self.foot = self.rod + 40 * self.k


def draw(engine: Engine) -> Plate:
    at = _Frame(engine)
    k, axis, rod = at.k, at.axis, at.rod
    plate = Plate(
        "Section through the top end",
        "A cylinder lying on its side, cut along its middle. From left to right: the crankcase; the barrel with its "
        "fins, a spacer between its shoulder and the case, the piston inside on its rod; the head with its port, "
        "valve guide and valve; the valve's spring, cap and collets; the rocker on its shaft, under its cover. A stud "
        "ties the head to the case, its nut on the head. Below the barrel the cam pushes the tappet, the tappet the "
        "pushrod, which runs in a tube with a seal at each end; the pushrod turns the rocker, and the rocker opens "
        f"the valve. The adjuster is at the {engine.adjuster} end of the rocker.",
        at.foot + 118,
        IN_THE_ENGINE,
        named=True,
    )
    _case(plate, at)
    _cover(plate, at)
    _cylinder(plate, at)
    _head(plate, engine, at)
    _valve_gear(plate, engine, at)
    above, below = at.axis - 0.84 * at.bore, at.foot
    middle = at.base + 20 * k
    plate.tag(at.base - 24, above - 30, "spacer", [(at.base + 2 * k, axis - 0.6 * at.bore)], "spacer")
    plate.tag(at.face - 75, above - 84, "piston", [(at.face - 40 * k, axis - 26 * k)], "piston", ["barrel"])
    plate.tag(at.face + 2, above - 84, "head", [(at.face + 10 * k, axis - 0.65 * at.bore)], "head")
    plate.tag(at.face + 14 * k + 38, above - 30, "valve", [(at.face + 22 * k, axis)], "valve", ["head", "seat"])
    plate.tag(277, above - 84, "spring", [(291, above - 8), _on_spring(engine, at)], "spring", ["cover"])
    plate.tag(28, below + 30, "cam", [(at.cam, rod + 6 * k)], "cam", ["case"])
    plate.tag(62, below + 84, "tappet", [(at.cam + 48 * k, rod + 7 * k)], "tappet", ["case"])
    plate.tag(middle, below + 30, "seal", [(at.base - 5.5 * k, rod + 13.5 * k)], "tube", ["case"])
    end = rod if engine.adjuster == "pushrod" else axis
    plate.tag(266, below + 30, "adjuster", [(_shaft(engine, at)[0] + 17 * k, end)], "rocker", ["cover"])
    return plate


def _shaft(engine: Engine, at: _Frame) -> tuple[float, float]:
    """Return where the rocker's shaft is: farther out where the screw is between rocker and valve."""
    return at.face + (125 if engine.adjuster == "pushrod" else 135) * at.k, at.axis + 46 * at.k


def _on_spring(engine: Engine, at: _Frame) -> Point:
    """Return a place on the second of the turns that are seen in front."""
    outside, wire, length = _spring(engine, at)
    pitch = (length - 2 * wire) / max(3, round(engine.coils - 1))
    r = outside / 2 - wire / 2
    return at.back + (1 + wire + pitch * 1.07) * at.k, at.axis - 0.72 * r * at.k


def _spring(engine: Engine, at: _Frame) -> tuple[float, float, float]:
    """Return outside diameter, wire and length of the spring, in eightieths of a bore."""
    return engine.spring * at.scale / at.k, engine.wire * at.scale / at.k, 36.0


def _case(plate: Plate, at: _Frame) -> None:
    k, axis, rod, base, cam = at.k, at.axis, at.rod, at.base, at.cam
    hole, top = axis - 0.565 * at.bore, axis - 0.84 * at.bore
    upper = closed(
        (2, top), (base, top), (base, hole), (base - 22 * k, hole), (base - 22 * k, hole - 10 * k), (2, hole - 10 * k)
    )
    lower = axis + 0.565 * at.bore
    web = closed(
        (base - 22 * k, lower), (base, lower), (base, rod - 13 * k), (base - 12 * k, rod - 13 * k),
        (base - 12 * k, rod - 20 * k), (cam + 54 * k, rod - 20 * k), (cam + 54 * k, rod - 10.4 * k),
        (cam + 28 * k, rod - 10.4 * k), (cam + 28 * k, rod - 30 * k), (base - 22 * k, rod - 30 * k),
    )  # fmt: skip
    floor = closed(
        (base, rod + 13 * k), (base - 12 * k, rod + 13 * k), (base - 12 * k, rod + 20 * k),
        (cam + 54 * k, rod + 20 * k), (cam + 54 * k, rod + 10.4 * k), (cam + 28 * k, rod + 10.4 * k),
        (cam + 28 * k, rod + 30 * k), (2, rod + 30 * k),
        (2, at.foot), (base, at.foot),
    )  # fmt: skip
    for metal in (upper, web, floor):
        plate.draw(metal, "outline", "aluminium", "case")


def _cover(plate: Plate, at: _Frame) -> None:
    k, right = at.k, at.face + 159 * at.k
    lid = rounded(
        [(at.back, at.axis - 46 * k), (right, at.axis - 46 * k), (right, at.rod + 24 * k), (at.back, at.rod + 24 * k)],
        [0, 16 * k, 16 * k, 0],
    )
    plate.draw(lid, name="cover")


def _cylinder(plate: Plate, at: _Frame) -> None:
    k, axis = at.k, at.axis
    shoulder = at.base + 4 * k
    pin = at.face - 8 * k - 0.46 * at.bore
    plate.put(parts.barrel(80, (at.face - shoulder) / k, 8, 14).scaled(k), shoulder, axis)
    plate.put(parts.rod((pin - 2) / k).scaled(k), pin, axis)
    plate.put(parts.piston(80).scaled(k), pin, axis)
    for side in (-1, 1):
        y = axis + side * 0.5625 * at.bore
        plate.draw(box(at.base, min(y, y + side * 8 * k), 4 * k, 8 * k), "solid", name="spacer")


def _head(plate: Plate, engine: Engine, at: _Frame) -> None:
    k, axis, rod, x = at.k, at.axis, at.rod, at.face
    valve, stem = engine.inlet * at.scale / 2, engine.stem * at.scale / 2
    inside = 0.3 * _spring(engine, at)[0] * k  # of the spring, where its tag points
    guide, throat, edge = stem + min(5 * k, max(1.5 * k, inside - stem)), valve - 3 * k, 0.84 * at.bore

    def metal(*stations: Point | tuple[Point, Point, Point]) -> None:
        plate.draw(outline(*stations).scaled(k, 1).moved(x, axis), "outline", "aluminium", "head")

    below = rod - axis
    metal(
        (0, -edge),
        (30, -edge),
        ((30, -0.5 * edge), (26, -throat), (17, -throat)),
        (10, -valve - 2 * k),
        (0, -0.5 * at.bore),
    )
    metal((58, -edge), (68, -edge), (68, -guide), (42, -guide), ((50, -0.3 * edge), (58, -0.6 * edge), (58, -edge)))
    metal(
        (0, 0.5 * at.bore), (10, valve + 2 * k), (17, throat), ((26, throat), (36, guide + 6 * k), (42, guide)),
        (68, guide), (68, below - 10 * k), (12, below - 10 * k), (12, below - 13 * k), (0, below - 13 * k),
    )  # fmt: skip
    metal(
        (0, below + 13 * k),
        (12, below + 13 * k),
        (12, below + 10 * k),
        (68, below + 10 * k),
        (68, below + 32 * k),
        (0, below + 32 * k),
    )
    for side in (-1, 1):
        sleeve = closed(
            *((x + dx * k, axis + side * dy) for dx, dy in ((38, stem), (38, guide), (76, guide), (76, stem)))
        )
        plate.draw(sleeve, "outline", "iron", "guide")
        ring = closed(
            *(
                (x + dx * k, axis + side * dy)
                for dx, dy in ((9, valve), (9, valve + 4 * k), (17, valve + 4 * k), (17, throat))
            )
        )
        plate.draw(ring, "outline", "iron", "seat")
    plate.put(parts.valve(2 * valve / k, 2 * stem / k, 105).scaled(k), x + 10 * k, axis)


def _valve_gear(plate: Plate, engine: Engine, at: _Frame) -> None:
    k, axis, rod = at.k, at.axis, at.rod
    tip, stem = at.face + 115 * k, engine.stem * at.scale / k
    spring, wire, length = _spring(engine, at)
    shaft_x, shaft_y = _shaft(engine, at)
    plate.put(
        parts.stud((at.back + 14 * k - at.base + 22 * k) / k, 8).scaled(k), at.base - 22 * k, axis + 0.89 * at.bore
    )
    plate.put(parts.nut(19, 9).scaled(k), at.back, axis + 0.89 * at.bore)
    plate.put(parts.spring(spring, wire, length, engine.coils).scaled(k), at.back + 1 * k, axis)
    plate.draw(box(at.back + 1 * k, axis - stem * k / 2, tip - at.back - k, stem * k), name="valve")
    plate.put(parts.cap(spring, stem).scaled(k), at.back + 37 * k, axis)
    plate.put(parts.collets(stem).scaled(k), at.back + 37 * k, axis)
    plate.draw(box(at.back, shaft_y - 5 * k, shaft_x - at.back, 10 * k), name="post")
    plate.put(parts.tube((at.face + 10 * k - at.base + 10 * k) / k, 22, 2).scaled(k), at.base - 10 * k, rod)
    plate.put(parts.cam(15, 8).turned(180).scaled(k), at.cam, rod)
    plate.put(parts.tappet(30, 20, 40).scaled(k), at.cam + 15 * k, rod)
    end = shaft_x - (19 if engine.adjuster == "pushrod" else 9) * k
    start = at.cam + 53 * k
    plate.put(parts.pushrod((end - start) / k, 9).scaled(k), start, rod)
    rocker = parts.rocker(46, 50)
    if engine.adjuster == "valve":
        rocker = parts.rocker(50, 46).scaled(1, -1)
    plate.put(rocker.scaled(k), shaft_x, shaft_y)
