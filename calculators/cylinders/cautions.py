"""What can hurt whoever tests cylinders, and what is overlooked before one is taken apart."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import Caution
from calculators.bench.words import listed

SPARK = Caution(
    "warning",
    "With the plugs out the coil still fires and mixture sprays from the holes: it shocks and it burns. Disconnect "
    "the coil, close the fuel, keep flames and faces away from the plug holes. Out of gear, brake on; keep clear "
    "of fan and belt while the starter turns: they take off fingers.",
)
SPARK_OFF = Caution(
    "warning",
    "The coil still fires when the crank is turned: it shocks, and lights fuel at the plug holes. Disconnect it, "
    "close the fuel, no flame near the holes.",
)
CRANK = Caution(
    "warning",
    "Air in a cylinder throws the crank round, and a bar on it breaks arms. Battery lead off, out of gear, wheels "
    "chocked, exactly at firing top dead centre; no arm inside the circle of fan, pulley or bar. Very low pressure "
    "first, 1.4 bar (20 psi) at the most; for more, a lock in the ring gear that stops both ways, and the bar off the "
    "nut. Air off first, before a bar touches the crank.",
)
TOO_CLOSE = Caution("notice", "Too close to call is not a pass. Test again, with a finer gauge if you can.")
ABOVE = Caution(
    "notice",
    "A reading above what its ratio gives means carbon, oil or another ratio. Find out which before the engine is "
    "loaded: it may knock.",
)


def lash_first(cylinders: Sequence[int]) -> tuple[Caution, ...]:
    """Send to the lash before anything is taken off; nothing where no valve is suspected."""
    if not cylinders:
        return ()
    return (
        Caution(
            "notice",
            f"Check the lash of cylinder{'s' if len(cylinders) > 1 else ''} {listed(cylinders)} before anything is "
            "taken off: a valve without lash does not shut.",
        ),
    )
