"""The oblique pose: the front true, depth at 45° and half as long, away from the reader up and to the right.

Turned parts stand on end, the case below; their origin is the middle of the foot.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from calculators.drawings.kit.path import Path, Point, arc, around, box, closed, disc, line, sector
from calculators.drawings.kit.plate import Part, Piece

DEPTH = 0.5 * math.cos(math.radians(45))
"""How far a unit of depth reaches to the right, and up the page."""
_SIDE = math.degrees(math.atan(1 / DEPTH))
"""Where the right side of a standing drum is seen, in degrees from its far point, clockwise from above."""


def seen(x: float, y: float, away: float) -> Point:
    """Return where a place is seen that lies ``away`` behind (x, y) of the page.

    Examples
    --------
    >>> x, y = seen(0, 0, 100)
    >>> round(x, 1), round(y, 1)
    (35.4, -35.4)
    """
    return x + DEPTH * away, y - DEPTH * away


def lying(path: Path, y: float = 0) -> Path:
    """Return what is drawn from above, far side up, as it is seen lying flat at the height ``y``."""
    return path.changed(lambda point: (point[0] - DEPTH * point[1], y + DEPTH * point[1]))


def drum(radius: float, foot: float, top: float, upper: float | None = None) -> tuple[Piece, Piece]:
    """Return a drum standing on end: its outline and its top; ``upper`` is the radius of the top where it tapers."""
    above = radius if upper is None else upper
    near, far = lying(arc(0, 0, radius, _SIDE, 180), foot), lying(arc(0, 0, above, _SIDE + 180, 180), top)
    body = Path((*near.steps, ("L", far.steps[0][1]), *far.steps[1:], ("Z", ())))
    return Piece(body), Piece(lying(disc(0, 0, above), top))


def swept(outline: Path, depth: float) -> list[Piece]:
    """Return a shape seen from its front, so deep: the faces that look up or right, the nearest last, and its front."""
    front = _thinned(outline.lines()[0])[:-1]
    if sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in _pairs(front)) < 0:
        front.reverse()
    faces: list[list[Point]] = []
    for index, (a, b) in enumerate(_pairs(front)):
        if b[0] - a[0] + b[1] - a[1] <= 1e-9:
            continue
        if faces and faces[-1][-1] == a and _bend(front, index) <= 30:
            faces[-1].append(b)
        else:
            faces.append([a, b])
    if len(faces) > 1 and faces[-1][-1] == faces[0][0] and _bend(front, 0) <= 30:
        faces[0] = [*faces.pop()[:-1], *faces[0]]
    faces.sort(key=lambda face: sum(x - y for x, y in face) / len(face))
    sides = [closed(*face, *(seen(x, y, depth) for x, y in reversed(face))) for face in faces]
    return [*map(Piece, sides), Piece(outline)]


def _thinned(points: Sequence[Point]) -> list[Point]:
    """Return a stroke without places that lie too close together to be told apart."""
    kept = [points[0]]
    for point in points[1:-1]:
        if math.dist(point, kept[-1]) > 2.1:
            kept.append(point)
    return [*kept, points[-1]]


def block(width: float, foot: float, top: float, depth: float) -> list[Piece]:
    """Return a block about x = 0, its front on the page."""
    return swept(box(-width / 2, top, width, foot - top), depth)


def _pairs(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(zip(points, [*points[1:], points[0]], strict=True))


def _bend(points: Sequence[Point], index: int) -> float:
    """Return by how many degrees an outline turns at a corner."""
    (x0, y0), (x1, y1), (x2, y2) = points[index - 1], points[index], points[(index + 1) % len(points)]
    turn = math.degrees(math.atan2(y2 - y1, x2 - x1) - math.atan2(y1 - y0, x1 - x0))
    return abs((turn + 180) % 360 - 180)


def hole(radius: float, y: float) -> Piece:
    """Return a round hole in a level face."""
    return Piece(lying(disc(0, 0, radius), y))


def barrel(bore: float, length: float, fins: int = 7, spigot: float = 9) -> Part:
    """Return a barrel: spigot below, fins round it, its bore open above."""
    wall = bore / 2 * 1.14
    pieces = list(drum(wall, 0, -spigot))
    at, pitch = -spigot, (length - spigot - bore * 0.1) / fins
    for _ in range(fins):
        pieces += drum(bore * 0.72, at, at - pitch * 0.34)
        pieces.append(drum(wall, at - pitch * 0.34, at - pitch)[0])  # the next fin hides its top
        at -= pitch
    pieces += drum(wall, at, -length)
    pieces.append(hole(bore / 2, -length))
    lines = Path(())
    for x in (-0.3, -0.16, 0.0, 0.16, 0.3):
        deep = (0.25 - x * x) ** 0.5 * bore * DEPTH
        start = (x * bore + deep, -length - deep)
        lines += line(start, (start[0], start[1] + deep * 1.1))
    return Part("barrel", (*pieces, Piece(lines, "fine")))


def piston(bore: float, pin: float) -> Part:
    """Return a piston, crown up: three grooves, skirt, the hole of its pin to the front."""
    r, tall = bore / 2 * 0.985, bore * 0.82
    pieces = list(drum(r, 0, -tall * 0.62))
    pieces += [Piece(disc(0, -tall * 0.28, pin / 2 + 3), "open"), Piece(disc(0, -tall * 0.28, pin / 2))]
    at = -tall * 0.62
    for _ in range(3):
        pieces.append(drum(r * 0.93, at, at - tall * 0.05)[0])
        pieces += drum(r, at - tall * 0.05, at - tall * 0.12)
        at -= tall * 0.12
    return Part("piston", (*pieces, *drum(r, at, -tall)))


def piston_ring(radius: float, wide: float, gap_at: float) -> Part:
    """Return a piston ring lying flat, its gap at so many degrees from its far side, clockwise from above."""
    return Part("ring", (Piece(lying(sector(0, 0, radius - wide, radius, gap_at + 6, 348))),))


def ring(radius: float, wide: float, thick: float) -> Part:
    """Return a flat ring that is closed."""
    within = Piece(_inside(radius - wide, thick), "open")
    return Part("ring", (*drum(radius, 0, -thick), hole(radius - wide, -thick), within))


def _inside(radius: float, thick: float) -> Path:
    """Return the far foot of a hole, as far as it is seen through it."""
    hidden = math.degrees(math.asin(min(1.0, thick / 2 / (radius * DEPTH))))
    return lying(arc(0, 0, radius, -90 + hidden + 10, 180 - 2 * hidden - 10), 0)


def spring(outside: float, wire: float, length: float, coils: float) -> Part:
    """Return a coil spring: far half-turns first, near ones over them."""
    turns, steps = _turns(coils), 8 if outside > 30 else 4
    far: list[Piece] = []
    near: list[Piece] = []
    for number in range(turns * 2 + 1):
        places = [_on_coil(outside, wire, length, turns, number + step / steps) for step in range(steps + 1)]
        (far if number % 2 else near).append(Piece(_band(places, wire)))
    return Part("spring", (*far, *near))


def front_of_spring(outside: float, wire: float, length: float, coils: float) -> Point:
    """Return a place on the wire of a spring, half way up, where it is nearest."""
    turns = _turns(coils)
    return _on_coil(outside, wire, length, turns, 2 * (turns // 2) + 0.5)


def _turns(coils: float) -> int:
    return max(3, round(coils - 1))


def _on_coil(outside: float, wire: float, length: float, turns: int, halves: float) -> Point:
    """Return where the middle of the wire is seen so many half-turns from the foot, where it comes to the front."""
    x, y = around(0, 0, outside / 2 - wire / 2, _SIDE + 180 * halves)
    height = -wire / 2 - min((length - wire) / turns * halves / 2, length - wire)
    return x - DEPTH * y, height + DEPTH * y


def _band(points: Sequence[Point], wide: float) -> Path:
    """Return a bent wire, so thick."""
    left, right = [], []
    for index, (x, y) in enumerate(points):
        (x1, y1), (x2, y2) = points[max(index - 1, 0)], points[min(index + 1, len(points) - 1)]
        far = math.dist((x1, y1), (x2, y2)) or 1
        dx, dy = (y2 - y1) / far * wide / 2, (x1 - x2) / far * wide / 2
        left.append((x + dx, y + dy))
        right.append((x - dx, y - dy))
    return closed(*left, *reversed(right))


def valve(head: float, stem: float, length: float) -> Part:
    """Return a valve, its head below: margin, face, neck, stem with the groove for its collets."""
    r, s = head / 2, stem / 2
    pieces = [*drum(r, 0, -1.6), *drum(r, -1.6, -4.4, r * 0.78), *drum(r * 0.78, -4.4, -9, s + 2.4)]
    pieces += drum(s + 2.4, -9, -15, s)
    pieces += drum(s, -13, -length + 9)
    pieces += [*drum(s * 0.7, -length + 9, -length + 6), *drum(s, -length + 6, -length)]
    return Part("valve", tuple(pieces))


def cap(outside: float, hole_: float) -> Part:
    """Return a spring cap, its cone open above."""
    r = outside / 2
    pieces = [*drum(r * 0.62, 0, -4), *drum(r, -4, -7.5), *drum(r * 0.62, -7.5, -10)]
    return Part("cap", (*pieces, hole(hole_ / 2, -10)))


def pushrod(length: float, wide: float) -> Part:
    """Return a pushrod, a ball at each end."""
    r = wide / 2
    balls = [Piece(disc(0, -r * 0.9, r * 0.9)), Piece(disc(0, -length + r * 0.9, r * 0.9))]
    return Part("pushrod", (*balls, *drum(r, -r * 1.6, -length + r * 1.6)))


def tube(length: float, wide: float, folds: int = 3) -> Part:
    """Return a pushrod tube: folds near both ends, a rubber seal on each end."""
    r = wide / 2
    pieces: list[Piece] = list(drum(r, 0, -length))
    for start in (-12.0, -length + 12 + folds * 5):
        for number in range(folds):
            at = start - number * 5
            pieces += [drum(r, at, at - 2.5, r + 3)[0], drum(r + 3, at - 2.5, at - 5, r)[0]]
    for at in (-2.0, -length + 7):
        pieces.append(Piece(drum(r + 3, at, at - 5)[0].path, "solid"))
    return Part("tube", (*pieces, Piece(lying(disc(0, 0, r), -length)), hole(r * 0.72, -length)))


def nut(radius: float, thick: float, bore: float) -> Part:
    """Return a nut lying flat: a corner to each side, three of its flats seen."""
    corners = [around(0, 0, radius, angle) for angle in range(30, 390, 60)]
    top = lying(closed(*corners), -thick)
    near = [lying(line(corner), 0).steps[0][1][0] for corner in corners[1:5]]
    body = closed(*near, *((x, y - thick) for x, y in reversed(near)))
    flats = [line((x, y), (x, y - thick)) for x, y in near[1:3]]
    edges = Path(tuple(step for flat in flats for step in flat.steps))
    return Part("nut", (Piece(body), Piece(edges, "fine"), Piece(top), hole(bore, -thick)))


def collets(radius: float, stem: float, tall: float, apart: float) -> Part:
    """Return both halves, the wide end above, each so far from the middle."""
    pieces: list[Piece] = []
    for side in (-1, 1):
        start = 180 if side < 0 else 0
        end = _SIDE + 180 if side < 0 else _SIDE
        near, above = arc(0, 0, radius * 0.72, 180, end - 180), arc(0, 0, radius, end, 180 - end)
        wall = [*lying(near, 0).lines()[0], *lying(above, -tall).lines()[0]]
        half = [Piece(closed(*wall)), Piece(lying(sector(0, 0, stem, radius, start, 180), -tall))]
        if side < 0:
            ends = [seen(0, y, -r) for r, y in ((stem, 0), (radius * 0.72, 0), (radius, -tall), (stem, -tall))]
            half.append(Piece(closed(*ends)))
        pieces += [piece.shaped(piece.path.moved(side * apart, 0)) for piece in half]
    return Part("collets", tuple(pieces))
