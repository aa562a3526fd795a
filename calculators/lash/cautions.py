"""What can hurt whoever sets the lash, and what burns a valve."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import Caution

FIRES = Caution(
    "warning",
    "An engine that fires while you turn it crushes hands. Ignition off, battery lead off, plugs out.",
)
TOO_CLOSE = Caution(
    "notice",
    "Too close a gap holds the valve off its seat when hot, and an exhaust valve burns. Between two gaps, take the "
    "wider.",
)
MAKER_WINS = Caution("notice", "The maker's gap, set cold or hot as the maker says, wins over any figure here.")


def far_cautions(names: Sequence[str]) -> tuple[Caution, ...]:
    """Return what to look at first where a screw would go more than one whole turn."""
    if not names:
        return ()
    text = (
        f"More than one whole turn at {', '.join(names)}. First check that the pushrod sits in its tappet and that the "
        "tappet is on the base circle of its cam (common practice, no source)."
    )
    return (Caution("notice", text),)
