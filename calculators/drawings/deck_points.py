"""Deck height: barrels clamped, the gauge's zero, and the points over the pin."""

from __future__ import annotations

from calculators.drawings.kit import parts, tools
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import around, box, disc, line
from calculators.drawings.kit.plate import FACE_ON, Plate


def draw(engine: Engine) -> Plate:
    banks = engine.banks[:2]
    # the first bank is seen from the engine's other side: its pulley end lies to the right
    faces = [(bank[0], "right" if len(banks) > 1 and not place else "left") for place, bank in enumerate(banks)]
    places = {"left": "1 left, 2 at the top, 3 right, 4 below", "right": "1 right, 2 below, 3 left, 4 at the top"}
    told = "; ".join(f"cylinder {number}, pulley end to the {pulley}: {places[pulley]}" for number, pulley in faces)
    plate = Plate(
        "Deck height: zero, clamps, points",
        f"Above, {'a barrel of each bank' if len(faces) > 1 else 'a barrel'} face on, as the head would see it, up at "
        "the top. It is clamped at two studs opposite each other. Four points lie on each crown a quarter turn apart, "
        "counted clockwise, 1 and 3 over the ends of the gudgeon pin, 1 at the pulley end. "
        f"{told[0].upper()}{told[1:]}. Below, in section: the gauge's zero is set with foot and tip both on the "
        "barrel's top; then the foot stands on the barrel and the tip goes down to the crown's edge, by the deck "
        "height.",
        426,
        FACE_ON,
    )
    radius = 54.0
    clamp = (radius + 12) * 0.84
    for place, (number, pulley) in enumerate(faces):
        x, y = (80.0 + 160 * place if len(faces) > 1 else 160.0), 96.0
        plate.draw(disc(x, y, radius + 13), name="barrel")
        plate.draw(disc(x, y, radius), name="crown")
        pin = radius * 0.42
        plate.draw(line((x - pin, y - 11), (x + pin, y - 11)) + line((x - pin, y + 11), (x + pin, y + 11)), "fine")
        plate.words(x, y, "pin")
        for dx, dy in ((-1, -1), (1, 1), (1, -1), (-1, 1)):
            cx, cy = x + dx * clamp, y + dy * clamp
            if dx * dy > 0:
                plate.draw(disc(cx, cy, 12), name="clamp")
                plate.put(parts.nut_end_on(13, 7), cx, cy)
            else:
                plate.draw(disc(cx, cy, 4.5), name="stud")
        first = 270 if pulley == "left" else 90
        for point in range(4):
            px, py = around(x, y, radius - 7, first + 90 * point)
            plate.draw(disc(px, py, 4), "held-solid", name="point")
            tx, ty = around(x, y, radius - 22, first + 90 * point)
            plate.words(tx, ty, str(point + 1))
        plate.words(x - 8, y + radius + 24, f"cylinder {number}")
        plate.up(x + (16 if pulley == "left" else -50), 226, pulley)
    x = 80.0 if len(faces) > 1 else 160.0
    plate.tag(x + 82, 202, "clamp", [(x + clamp - 1, 96 + clamp + 8)], "clamp")
    _gauge(plate, 4, 340, 0)
    _gauge(plate, 168, 340, 22)
    plate.words(74, 412, "zero")
    plate.words(240, 412, "reading")
    return plate


def _gauge(plate: Plate, x: float, y: float, deep: float) -> None:
    """Draw barrel and piston cut upright, with the bridge and the gauge on them."""
    plate.draw(box(x, y, 30, 58), "outline", "iron", "barrel")
    plate.draw(box(x + 32, y + 22, 112, 36), "outline", "aluminium", "piston")
    spot = x + (40 if deep else 18)
    foot = x + (6 if deep else 0)
    plate.put(tools.bridge(64).in_hand(), foot - (4 if deep else -2), y)
    plate.put(tools.depth_gauge(deep), spot, y)
    if deep:
        plate.draw(line((x + 96, y), (x + 146, y)), "fine")
        plate.arrow((x + 120, y - 18), (x + 120, y), look="held-open", head=7)
        plate.arrow((x + 120, y + 40), (x + 120, y + 22), look="held-open", head=7)
