"""Three heights in the barrel, two directions at each."""

from __future__ import annotations

from calculators.drawings.kit import parts
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.path import disc
from calculators.drawings.kit.plate import Plate


def draw(engine: Engine) -> Plate:
    plate = Plate(
        "Six readings in each bore",
        "A barrel cut along its middle, standing on its foot. The bore is measured at three heights: where the "
        "top ring turns, in the middle, and a finger's breadth from the foot. Below, the barrel from its top: at "
        "each height once across the crank and once along it. The piston is measured low on the skirt, square to "
        "its pin.",
        486,
        "on the bench, head end at the top",
    )
    scale = min(196 / (engine.barrel + 12), 130 / engine.bore)
    x, foot = 104.0, 236.0
    plate.put(parts.barrel(engine.bore, engine.barrel, 9, 12, 6, 10).scaled(scale).turned(-90), x, foot)
    half = engine.bore / 2 * scale
    tall = engine.barrel * scale
    for number, level in enumerate((foot - tall + 0.13 * tall, foot - tall * 0.5, foot - 0.07 * tall), 1):
        plate.arrow((x, level), (x + half, level), look="held-open", head=8)
        plate.arrow((x, level), (x - half, level), look="held-open", head=8)
        plate.words(x, level + (14 if number == 1 else -14), str(number))
        words = ("top ring", "middle", "foot")[number - 1]
        plate.words(x + half + 16 * scale + 9, level, f"{number}  {words}", "start")
    plate.draw(disc(82, 376, 74), name="barrel")
    plate.draw(disc(82, 376, 60), name="bore")
    plate.arrow((82, 376), (82, 318), look="held-open", head=8)
    plate.arrow((82, 376), (82, 434), look="held-open", head=8)
    plate.arrow((82, 376), (24, 376), look="held-open", head=8)
    plate.arrow((82, 376), (140, 376), look="held-open", head=8)
    plate.words(82, 468, "across and along")
    plate.put(parts.piston(98).turned(-90), 248, 376)
    plate.arrow((178, 408), (199, 408), look="held-open", head=8)
    plate.arrow((318, 408), (297, 408), look="held-open", head=8)
    plate.words(248, 468, "square to the pin")
    return plate
