"""A tappet that comes out, and one that stays."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.path import box, line, rounded
from calculators.drawings.kit.plate import IN_THE_ENGINE, Plate


def draw() -> Plate:
    plate = Plate(
        "A tappet that comes out, and one that stays",
        "Two tappets cut in their bores in the case, cam to the left. Above, a tappet no wider than its bore: a "
        "magnet draws it out to the right. Below, a tappet with a foot wider than its bore: it cannot come out "
        "this way, but it could slide inwards. A spring clip grips its body and lies against the outside of the "
        "case, so that it cannot fall in.",
        386,
        IN_THE_ENGINE,
    )
    for y in (100.0, 276.0):
        plate.draw(box(84, y - 66, 74, 40), "outline", "aluminium", "case")
        plate.draw(box(84, y + 26, 74, 40), "outline", "aluminium", "case")
        plate.put(parts.cam(24, 9).turned(180), 38, y)
    y = 100.0
    plate.draw(box(92, y - 25, 88, 50, 2), name="tappet")
    plate.draw(rounded([(182, y - 9), (200, y - 9), (200, y + 9), (182, y + 9)], 2), "held", name="magnet")
    plate.draw(box(200, y - 3, 96, 6), "held", name="magnet")
    plate.arrow((218, y + 24), (268, y + 24), look="held-open")
    plate.tag(262, 56, "magnet", [(250, y)], "magnet")
    y = 276.0
    body = [(63, -44), (78, -44), (78, -25), (210, -25), (210, 25), (78, 25), (78, 44), (63, 44)]
    plate.draw(rounded([(float(a), y + b) for a, b in body], 2), name="tappet")
    _clip(plate, 160, y)
    plate.arrow((276, y), (222, y))
    plate.wrong(294, y)
    plate.tag(262, 222, "spring clip", [(168, y - 22)], "clip", ("tappet",))
    plate.words(0, 190, "no wider than its bore: drawn out", "start")
    plate.words(0, 368, "wider foot: gripped, cannot fall in", "start")
    return plate


def _clip(plate: Plate, x: float, y: float) -> None:
    """Draw a spring band round the tappet's body, both ears squeezed out above it, and the squeeze of the band."""
    for lean in (-1, 1):
        ear = [(10 + lean * 1, -29), (13 + lean * 6, -46), (13 + lean * 11, -44), (10 + lean * 6, -29)]
        plate.draw(rounded([(x + a, y + b) for a, b in ear], 1), "held", name="clip")
    plate.draw(rounded([(x, y - 31), (x + 16, y - 31), (x + 16, y + 31), (x, y + 31)], 4), "held", name="clip")
    plate.draw(line((x + 8, y - 12), (x + 8, y + 26)), "fine")
    plate.arrow((x + 8, y + 60), (x + 8, y + 36), look="held-open", head=8)
