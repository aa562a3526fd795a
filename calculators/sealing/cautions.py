"""What can hurt whoever seals a joint, and what ruins the engine that was sealed."""

from __future__ import annotations

from calculators.bench import Caution

VAPOUR = Caution(
    "warning",
    "Cleaner and sealer give off vapour that catches fire and makes you drowsy; both hurt eyes and skin. Open the "
    "doors; no flame, heater or grinder; wear glasses and gloves. Read the product's sheet before you open the tube.",
)
CHLORINE = Caution(
    "warning",
    "Heat, a flame, a welding arc or an ultraviolet lamp turns the vapour of a chlorinated cleaner into phosgene, "
    "which can kill hours later. Do not use such a cleaner.",
)
OLD_GASKET = Caution(
    "warning",
    "Dust from old jointing may hold asbestos and cause cancer years later. Keep it wet, lift it off with a plastic "
    "scraper, bag it, and follow your local code. Never sand or blow it.",
)
INWARDS = Caution(
    "notice",
    "A bead squeezed inwards can break off and block an oilway. Use little, and none within 5 mm of an oil hole.",
)
UNCURED = Caution(
    "notice",
    "Oil or heat lifts a sealer that has not cured. No oil and no starter before the time given.",
)
COLD = Caution(
    "notice",
    "This cold, some sealers do not cure at all. Look up the lowest temperature on the product's sheet, or warm the "
    "parts.",
)
NOTES = (
    "The product maker's sheet wins over every time here, and the engine maker over both. The sheet also says when the "
    "engine may be turned by hand.",
    "Whenever you use a sealer, lay a bead of it on a spare plate too. At the end it shows what has cured.",
    "Silicone cures with moisture from the air: in dry frost and between wide faces it takes longer than its sheet "
    "says. Anaerobic sealers are slow on aluminium, plating and zinc.",
)
COLD_FROM = 4.0
"""So many times the sheet's times that the cold is warned of."""


def warm(shorter: float) -> Caution:
    """Warn of a bead that skins sooner, by the share of its open time that is left."""
    return Caution(
        "notice",
        f"This warm, a bead skins sooner: open times here are {100 * shorter:.0f}% of the sheet's. A joint closed over "
        "a "
        "skin leaks. Lay everything ready before the first bead, or work where it is cooler.",
    )
