"""Case faces and studs: straightedge, stand-out, and a thread that is drawn."""

from __future__ import annotations

from calculators.drawings.kit import parts, tools
from calculators.drawings.kit.path import box, closed, line
from calculators.drawings.kit.plate import ON_THE_BENCH, Plate


def draw() -> Plate:
    plate = Plate(
        "Barrel faces, studs, threads",
        "A side of the case, its barrel faces up. A straightedge on edge passes between the studs over both "
        "mouths; a blade is tried in the gap below it. Then a stud's stand-out is measured from the face to its "
        "end: right, both of a kind stand equally far out; wrong, one stands further. Then two stud holes cut: "
        "right, the face is flat; wrong, a rim is raised round the stud, its thread is drawn.",
        536,
        ON_THE_BENCH,
    )
    _face(plate, 148)
    _stand_out(plate, 312)
    _threads(plate, 462)
    return plate


def _face(plate: Plate, y: float) -> None:
    face = [
        (4, y),
        (36, y),
        (36, y + 20),
        (130, y + 20),
        (130, y),
        (190, y),
        (190, y + 20),
        (284, y + 20),
        (284, y),
        (316, y),
        (316, y + 34),
        (4, y + 34),
    ]
    plate.draw(closed(*((float(a), float(b)) for a, b in face)), "outline", "aluminium", "case")
    for x in (20, 146, 174, 300):
        plate.put(parts.stud(96, 9).turned(-90), x, y + 6)
    plate.put(tools.straightedge(300, 22).in_hand(), 10, y)
    for x in (20, 174):
        plate.put(parts.stud(96, 9).turned(-90), x, y + 6)
    plate.tag(84, y - 114, "straightedge", [(92, y - 12)], "straightedge")
    plate.draw(closed((226, y + 0.5), (262, y - 1.5), (262, y + 2.5)), "held-solid", name="blade")
    plate.tag(236, y - 114, "blade", [(250, y)], "blade", ("straightedge",))


def _stand_out(plate: Plate, y: float) -> None:
    for x, good in ((0.0, True), (166.0, False)):
        plate.draw(box(x + 4, y, 146, 24), "outline", "aluminium", "case")
        for place, tall in ((34.0, 84.0), (100.0, 84.0 if good else 98.0)):
            stud = parts.stud(tall + 10, 10).turned(-90)
            plate.put(stud if good or place < 50 else stud.in_hand(), x + place, y + 10)
        plate.draw(line((x + 14, y - 84), (x + 150, y - 84)), "fine")
        plate.arrow((x + 66, y - 44), (x + 66, y - 84), look="held-open", head=7)
        plate.arrow((x + 66, y - 40), (x + 66, y), look="held-open", head=7)
    plate.right(12, y + 44, "alike")
    plate.wrong(178, y + 44, "one higher")


def _threads(plate: Plate, y: float) -> None:
    for x, good in ((0.0, True), (166.0, False)):
        rise = 0 if good else 9
        for side in (-1, 1):
            cx = x + 74
            top = [
                (cx + 70 * side, y),
                (cx + 22 * side, y),
                (cx + 9 * side, y - rise),
                (cx + 9 * side, y + 44),
                (cx + 70 * side, y + 44),
            ]
            plate.draw(closed(*top), "outline" if good else "held", "aluminium", "case")
        plate.put(parts.stud(84, 16).turned(-90), x + 74, y + 40)
    plate.right(12, y + 60, "face flat")
    plate.wrong(178, y + 60, "rim raised")
