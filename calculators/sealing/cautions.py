"""What can hurt whoever seals a joint, and what ruins the engine that was sealed."""

from __future__ import annotations

from calculators.bench import Caution

VAPOUR = Caution(
    "warning",
    "Vapour of cleaner and sealer catches fire and makes you drowsy; both hurt eyes and skin. Open the doors; no "
    "flame, no heater, no grinder; glasses and gloves. Read the product's sheet before you open it.",
)
CHLORINE = Caution(
    "warning",
    "No cleaner with chlorine near heat, a flame, a welding arc or an ultraviolet lamp: its vapour turns into a gas "
    "that destroys the lungs.",
)
OLD_GASKET = Caution(
    "warning",
    "Dust from old jointing may hold asbestos and cause cancer years later. Keep it wet, lift it off with a plastic "
    "scraper, bag it, and follow your local code. Never sand or blow it.",
)
INWARDS = Caution(
    "caution",
    "A bead squeezed inwards breaks off and blocks an oilway. Use little, and none within 5 mm of an oil hole.",
)
UNCURED = Caution(
    "caution",
    "Oil or heat on a sealer that has not cured lifts it. No oil, no turning by the starter, before the time.",
)
COLD = Caution(
    "caution",
    "So cold, some sealers do not cure at all. Look on the product's sheet for its least temperature, or warm the "
    "parts.",
)
NOTES = (
    "The product maker's sheet wins over every time here, and the engine maker over both. When the engine may be "
    "turned by hand is the sheet's to say.",
    "Lay a bead of each sealer on a spare plate when you use it. It shows at the end what has cured.",
    "Silicone cures by the damp of the air: in dry frost and between wide faces it takes longer than its sheet says. "
    "Sealers without air are slow on aluminium, plating and zinc.",
)
COLD_FROM = 4.0
"""So many times the sheet's times that the cold is warned of."""


def warm(shorter: float) -> Caution:
    """Warn of a bead that skins sooner, by the share of its open time that is left."""
    return Caution(
        "caution",
        f"So warm, a bead skins sooner: open times here are {100 * shorter:.0f}% of the sheet's. A joint closed over a "
        "skin leaks. Lay everything ready before the first bead, or work where it is cooler.",
    )
