"""What can hurt whoever tests cylinders, and what is overlooked before one is taken apart."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import Caution
from calculators.bench.words import listed

SPARK = Caution(
    "warning",
    "With the plugs out the coil still fires and mixture sprays from the holes: you can be shocked and burned. "
    "Disconnect "
    "the coil, close the fuel, keep flames and faces away from the plug holes. Out of gear, brake on; keep clear of "
    "fan and belt while the starter turns: they can take off fingers.",
)
SPARK_OFF = Caution(
    "warning",
    "The coil still fires when the crank is turned: it can shock you and light fuel at the plug holes. Disconnect it, "
    "close the fuel, no flame near the holes.",
)
CRANK = Caution(
    "warning",
    "Air in a cylinder can throw the crank round, and a bar on it can break an arm. Battery lead off, out of gear, "
    "wheels "
    "chocked, exactly at firing top dead centre; no arm inside the circle of fan, pulley or bar. Very low pressure "
    "first, 1.4 bar (20 psi) at most; for more, lock the ring gear in both directions and take the bar off the nut. "
    "Turn the air off before a bar touches the crank.",
)
TOO_CLOSE = Caution("notice", "Too close to call is not a pass. Test again, with a finer gauge if you can.")
ABOVE = Caution(
    "notice",
    "A reading above what the ratio gives means carbon, oil or a higher ratio. Find out which before you load the "
    "engine: it may knock.",
)


def lash_first(cylinders: Sequence[int]) -> tuple[Caution, ...]:
    """Send to the lash before anything is taken off; nothing where no valve is suspected."""
    if not cylinders:
        return ()
    return (
        Caution(
            "notice",
            f"Check the lash of cylinder{'s' if len(cylinders) > 1 else ''} {listed(cylinders)} before you take "
            "anything apart: a valve without lash does not shut.",
        ),
    )
