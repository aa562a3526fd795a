"""The parts of a top end, drawn from their measures in millimetres.

Unless a part says otherwise it lies as in the engine, seen from the pulley end with the case to the left: x runs
along the cylinder from case to head, y across it, and the origin is where the part is seated.
"""

from __future__ import annotations

import math

from calculators.drawings.kit.path import (
    Path,
    Point,
    arc,
    bar,
    blob,
    box,
    closed,
    disc,
    line,
    outline,
    rounded,
    sector,
    symmetric,
)
from calculators.drawings.kit.plate import Part, Piece


def _part(name: str, *pieces: Piece) -> Part:
    return Part(name, pieces)


def barrel(
    bore: float, length: float, fins: int = 9, spigot: float = 12, wall: float = 5, fin: float = 14, shoulder: float = 5
) -> Part:
    """Return a barrel cut in half: both walls, each with its fins, shoulder at the origin."""
    inner, outer = bore / 2, bore / 2 + wall
    tip = outer + fin
    pitch = (length - 18) / fins
    walls = []
    for side in (-1, 1):
        outline: list[Point] = [(-spigot, inner * side), (-spigot, outer * side), (0, outer * side)]
        outline += [(0, (outer + shoulder) * side), (6, (outer + shoulder) * side), (6, outer * side)]
        for number in range(fins):
            at = 10 + number * pitch
            reach = tip * side
            outline += [(at, outer * side), (at, reach), (at + pitch * 0.36, reach), (at + pitch * 0.36, outer * side)]
        outline += [(length, outer * side), (length, inner * side)]
        walls.append(Piece(closed(*outline), "outline", "iron"))
    far = line((-spigot, -inner), (-spigot, inner)) + line((length, -inner), (length, inner))
    return _part("barrel", *walls, Piece(far, "open"))


def barrel_outside(bore: float, length: float, fins: int = 9, spigot: float = 12, fin: float = 14) -> Part:
    """Return a barrel from outside: fins as plates, the spigot that goes into the case."""
    outer = bore / 2 + 5
    tip = outer + fin
    pitch = (length - 18) / fins
    plates = Path(())
    for number in range(fins):
        plates += box(10 + number * pitch, -tip, pitch * 0.4, tip * 2)
    return _part(
        "barrel",
        Piece(box(-spigot, -outer, length + spigot, outer * 2)),
        Piece(box(0, -outer - 5, 6, outer * 2 + 10)),
        Piece(plates),
    )


def piston(bore: float, rings: bool = True) -> Part:
    """Return a piston from outside, crown to the right: origin at the pin, the pin's end seen clear of the grooves."""
    r, height, below, k = bore / 2 - 0.7, bore * 0.46, bore * 0.4, bore / 80
    pieces = [Piece(rounded([(-below, -r), (height, -r), (height, r), (-below, r)], [4, 2, 2, 4]))]
    over = 1.6 if rings else 0
    for down, wide in ((6, 3), (12.5, 3), (19, 4.2)):
        pieces.append(Piece(box(height - (down + wide) * k, -r - over, wide * k, (r + over) * 2)))
    pieces += [Piece(disc(0, 0, 11.5 * k), "open"), Piece(disc(0, 0, 8 * k))]
    return _part("piston", *pieces)


def rod(length: float, pin: float = 22) -> Part:
    """Return a connecting rod to the left of its small end, which is the origin."""
    eye, wide = pin / 2 + 6, 15.0
    shank = closed((-length, -wide / 2 - 3), (-eye + 2, -wide / 2), (-eye + 2, wide / 2), (-length, wide / 2 + 3))
    return _part("rod", Piece(shank), Piece(disc(0, 0, eye)), Piece(disc(0, 0, pin / 2)))


def valve(head: float, stem: float, length: float, margin: float = 1.5) -> Part:
    """Return a valve with its head at the origin's left face and its stem along x; the face is cut at 45°."""
    r, s, face = head / 2, stem / 2, 3.0
    neck = margin + face + min(r * 0.9, 14)
    fillet = neck - margin - face
    body = symmetric(
        0,
        (r, 0),
        (r, -margin),
        (r - face, -margin - face),
        ((s + 1, -margin - face - fillet * 0.35), (s, -margin - face - fillet * 0.7), (s, -neck)),
        (s, 11 - length),
        (s - 1, 11 - length),
        (s - 1, 7 - length),
        (s, 7 - length),
        (s, -length),
    )
    lines = line((margin, -r), (margin, r)) + line((margin + face, -r + face), (margin + face, r - face))
    return _part("valve", Piece(body.turned(90)), Piece(lines, "fine"))


def spring(outside: float, wire: float, length: float, coils: float = 6.0) -> Part:
    """Return a coil spring from the origin along x, its near half-turns as bars, its far ones behind."""
    r = outside / 2 - wire / 2
    turns = max(3, round(coils - 1))
    pitch = (length - 2 * wire) / turns
    far, near = [], []
    for number in range(turns):
        at = wire + number * pitch
        far.append(Piece(bar((at + pitch / 2, r), (at + pitch, -r), wire, True)))
        near.append(Piece(bar((at, -r), (at + pitch / 2, r), wire, True)))
    ends = [
        Piece(bar((wire / 2, -r), (wire / 2, r), wire, True)),
        Piece(bar((length - wire / 2, -r), (length - wire / 2, r), wire, True)),
    ]
    near.append(Piece(bar((length - wire, -r), (length - wire / 2, r), wire, True)))
    return _part("spring", *far, *ends[:1], *near, *ends[1:])


def cap(outside: float, stem: float) -> Part:
    """Return a spring cap in section on its two sides, spring to the left, its cone open to the right."""
    r, s = outside / 2, stem / 2
    halves = []
    for side in (-1, 1):
        points = [
            (0, r),
            (3.5, r),
            (6, r * 0.62),
            (10, r * 0.58),
            (10, s + 4.2),
            (-3, s + 2),
            (-3, r * 0.6),
            (0, r * 0.62),
        ]
        halves.append(Piece(closed(*((x, y * side) for x, y in points)), "outline", "iron"))
    return _part("cap", *halves)


def collets(stem: float, gap: float = 1.0) -> Part:
    """Return both halves in section, small end to the left, each with its rib in the stem's groove."""
    s = stem / 2
    halves = []
    for side in (-1, 1):
        points = [(-2.5, s), (-2.5, s + 1.9), (10, s + 4), (10, s)]
        halves.append(Piece(closed(*((x, (y + gap * 0) * side) for x, y in points)), "solid"))
    return _part("collets", *halves)


def rocker(valve_arm: float, rod_arm: float, screw: bool = True) -> Part:
    """Return a rocker from its end of the shaft: shaft at the origin, valve end up the page, rod end down it.

    It presses to the left. The adjuster stands at the rod end.
    """
    v, p = valve_arm, rod_arm
    body = blob(
        (-4, -v - 5),
        (4, -v - 8),
        (9, -v - 2),
        (9, -v * 0.55),
        (13, -6),
        (13, 6),
        (11, p * 0.55),
        (8, p - 7),
        (8, p + 7),
        (-5, p + 7),
        (-6, p - 6),
        (-5, p * 0.5),
        (-11, 8),
        (-11, -8),
        (-4, -v * 0.55),
        (-8, -v),
    )
    pieces = [Piece(body), Piece(disc(0, 0, 7), "outline", "iron")]
    if screw:
        pieces = [
            Piece(box(-15, p - 3.4, 36, 6.8, 1.5)),
            *pieces,
            Piece(box(8, p - 7, 7, 14, 1)),
            Piece(disc(-15, p, 4.6)),
        ]
    return _part("rocker", *pieces)


def pushrod(length: float, wide: float = 9) -> Part:
    """Return a pushrod from the origin along x, ball ends on."""
    return _part(
        "pushrod",
        Piece(bar((2, 0), (length - 2, 0), wide, False)),
        Piece(rounded([(-3, -3.5), (7, -3.5), (7, 3.5), (-3, 3.5)], [3.5, 0, 0, 3.5])),
        Piece(
            rounded([(length - 7, -3.5), (length + 3, -3.5), (length + 3, 3.5), (length - 7, 3.5)], [0, 3.5, 3.5, 0])
        ),
    )


def tappet(face: float = 30, stem: float = 20, length: float = 44, cut: bool = False) -> Part:
    """Return a mushroom tappet: cam side at the origin, its cup at the far end."""
    r, s = face / 2, stem / 2
    body = rounded(
        [(0, -r), (6, -r), (6, -s), (length, -s), (length, s), (6, s), (6, r), (0, r)], [2, 2, 0, 1, 1, 0, 2, 2]
    )
    cup = arc(length, 0, 5, 180, 180)
    pieces = [Piece(body, "outline", "iron" if cut else "")]
    if cut:
        hollow = outline(
            (length, -s * 0.6),
            (length - 16, -s * 0.6),
            ((length - 24, -4), (length - 24, 4), (length - 16, s * 0.6)),
            (length, s * 0.6),
        )
        pieces.append(Piece(hollow))
    else:
        pieces.append(Piece(cup, "open"))
    return _part("tappet", *pieces)


def cam(base: float = 15, lift: float = 8) -> Part:
    """Return a cam lobe about its axis, its peak to the right."""
    peak = base + lift
    lobe = Path(
        (
            *arc(0, 0, base, 150, 240).steps,
            ("C", ((base * 0.95, -base * 0.62), (peak - 1, -7), (peak, 0))),
            ("C", ((peak - 1, 7), (base * 0.95, base * 0.62), arc(0, 0, base, 150, 1).steps[0][1][0])),
            ("Z", ()),
        )
    )
    return _part("cam", Piece(lobe), Piece(disc(0, 0, 3.5)))


def nut(size: float = 17, thick: float = 9) -> Part:
    """Return a nut from its side, seated at the origin, facing right."""
    half = size * 0.577
    return _part(
        "nut",
        Piece(rounded([(0, -half), (thick, -half), (thick, half), (0, half)], [0, 2.5, 2.5, 0])),
        Piece(line((0.5, -half / 2), (thick, -half / 2)) + line((0.5, half / 2), (thick, half / 2)), "fine"),
    )


def nut_end_on(size: float = 17, bore: float = 10) -> Part:
    """Return a nut on its stud, end on."""
    r = size * 0.577
    corners = [(r * math.cos(math.radians(a)), r * math.sin(math.radians(a))) for a in range(0, 360, 60)]
    return _part("nut", Piece(closed(*corners)), Piece(disc(0, 0, bore / 2)))


def stud(length: float, wide: float = 10) -> Part:
    """Return a stud from the origin to the right, threaded at both ends."""
    threads = Path(())
    for first, count in ((2.0, 7), (length - 24.0, 8)):
        for number in range(count):
            at = first + number * 3
            threads += line((at, -wide / 2), (at + 1.5, wide / 2))
    return _part("stud", Piece(box(0, -wide / 2, length, wide, 1)), Piece(threads, "fine"))


def tube(length: float, wide: float = 24, folds: int = 3) -> Part:
    """Return a pushrod tube with folds at both ends and a rubber seal on each."""
    r = wide / 2
    upper: list[Point] = [(0, -r)]
    for at in (14.0, length - 14 - folds * 7):
        for number in range(folds):
            upper += [(at + number * 7, -r), (at + number * 7 + 3.5, -r - 4), (at + number * 7 + 7, -r)]
    upper.append((length, -r))
    outline = closed(*upper, *((x, -y) for x, y in reversed(upper)))
    seals = [Piece(box(x, side * (r + 2.5) - 3, 7, 6, 2.5), "solid") for x in (1, length - 8) for side in (-1, 1)]
    return _part("tube", Piece(outline), *seals)


def pulley(diameter: float, wide: float = 20) -> Part:
    """Return a pulley face on, its hub and bolt, about its middle."""
    r = diameter / 2
    return _part(
        "pulley", Piece(disc(0, 0, r)), Piece(disc(0, 0, r - wide / 4), "fine"), Piece(disc(0, 0, r * 0.28)),
        *(Piece(p.path) for p in nut_end_on(r * 0.24, r * 0.1).pieces[:1]),
    )  # fmt: skip


def ring(radius: float, wide: float, gap_at: float, gap: float = 8) -> Part:
    """Return a piston ring face on, its gap at so many degrees from the top."""
    share = math.degrees(gap / radius)
    return _part("ring", Piece(sector(0, 0, radius - wide, radius, gap_at + share / 2, 360 - share)))


def circlip(radius: float, opening: float = 90, gap: float = 50, wide: float = 4) -> Part:
    """Return a wire circlip face on, open at so many degrees from the top."""
    return _part("circlip", Piece(sector(0, 0, radius - wide, radius, opening + gap / 2, 360 - gap)))


def socket_screw(radius: float = 8) -> Part:
    """Return a screw with an internal hexagon, end on."""
    r = radius * 0.55
    corners = [(r * math.cos(math.radians(a)), r * math.sin(math.radians(a))) for a in range(0, 360, 60)]
    return _part("screw", Piece(disc(0, 0, radius)), Piece(closed(*corners), "solid"))


def adjuster(at_rod: bool) -> Part:
    """Return the adjusting screw through a rocker that presses to the left, its locknut on the right of it."""
    ball = disc(-26, 0, 8) if at_rod else box(-20, -8, 10, 16, 2)
    return _part(
        "screw",
        Piece(box(-22, -6.5, 40, 13)),
        Piece(ball),
        Piece(box(14, -6.5, 34, 13, 1.5)),
        Piece(
            line((20, -6), (24, 6)) + line((26, -6), (30, 6)) + line((32, -6), (36, 6)) + line((38, -6), (42, 6)),
            "fine",
        ),
        Piece(box(19, -13, 14, 26, 2)),
    )


def head_outside(bore: float, fins: int = 6, boss: bool = True) -> Part:
    """Return a head from the pulley end, barrel to its left: fins above and below, and a boss at its foot."""
    r = bore / 2 + 5
    plates = Path(())
    for number in range(fins):
        plates += line((10 + number * 9, -r - 13), (10 + number * 9, r + 13))
    top = [
        (0.0, -r - 15),
        (64.0, -r - 15),
        (64.0, -r + 2),
        (92.0, -r + 10),
        (92.0, r - 10),
        (64.0, r - 2),
        (64.0, r + 15),
    ]
    foot = [(36.0, r + 15), (36.0, r + 62), (12.0, r + 62), (12.0, r + 15)] if boss else []
    outline = rounded([*top, *foot, (0.0, r + 15)], 3)
    return _part("head", Piece(outline), Piece(plates, "fine"), Piece(line((64, -r + 2), (64, r - 2)), "open"))
