"""How dwell and gap are told: in a few words, in a sentence, as values, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.bench import DECISION, Caution, Quantity, Source, Value, printed, quantity
from calculators.bench.units import figures
from calculators.bench.verdict import best_of
from calculators.bench.words import word
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.ignition_timing import dwell_share, spark_later

_DWELL = Source("definition of dwell; a symmetrical lobe", "identity")
_BETWEEN = Source("linear interpolation between two readings", "identity")
_THEN = {"out": ": set the gap before the timing", "in": ": leave the gap as it is"}


@dataclass(frozen=True, kw_only=True, slots=True)
class Dwell:
    """Dwell wanted and read, in degrees of the distributor; None where it was not typed.

    Parameters
    ----------
    lobes : int
    wanted : float, optional, [°]
    read : float or ufloat, optional, [°]
    tolerance : Quantity, [angle]
    verdict : str, optional
    gap : float or ufloat, optional, [mm]
        That gives the dwell wanted.
    tries : tuple of (str, str)
        The gaps tried and the dwell at the second, by name, as they are told.
    """

    lobes: int
    wanted: float | None
    read: Any | None
    tolerance: Quantity
    verdict: Verdict | None
    gap: Any | None = None
    tries: tuple[tuple[str, str], ...] = ()

    def share(self, dwell: Any) -> str:
        """Return for how much of the time the points are closed."""
        return f"{figures(best_of(dwell_share(dwell, self.lobes)), 1)}%"


def headline(dwell: Dwell) -> str:
    """Return the gap to set, else the verdict, else the share of the time."""
    if dwell.gap is not None:
        return f"Set the gap to {figures(best_of(dwell.gap), 2)} mm"
    known = dwell.wanted if dwell.read is None else dwell.read
    told = f"Dwell {figures(best_of(known), 1)}°"
    return f"{told} is {dwell.share(known)}" if dwell.verdict is None else f"{told}: {word(dwell.verdict)}"


def says(dwell: Dwell) -> str:
    """Return the same as a sentence or two."""
    known = dwell.wanted if dwell.read is None else dwell.read
    degrees = f"{figures(best_of(known), 1)}°"
    if dwell.verdict is not None:
        told = f"Dwell of {degrees} is {word(dwell.verdict)}{_THEN.get(dwell.verdict, '')}."
    else:
        are = "are to be" if dwell.read is None else "are"
        told = f"The points {are} closed for {degrees}, {dwell.share(known)} of the time."
    if dwell.gap is None:
        return told
    return f"{told} A gap of {figures(best_of(dwell.gap), 2)} mm gives the {figures(best_of(dwell.wanted), 1)}° wanted."


def values(dwell: Dwell) -> Iterator[Value]:
    """Yield shares, verdict, what it does to the spark, and the gap, as far as they are known."""
    for key, label, known in (("dwell_share", "Dwell wanted", dwell.wanted), ("dwell_read", "Dwell read", dwell.read)):
        if known is not None:
            yield Value(
                key=key,
                label=f"{label}, points closed",
                quantity=quantity(dwell_share(known, dwell.lobes), "%"),
                formula="100 × dwell × lobes ÷ 360",
                source=_DWELL,
                given=(("dwell", quantity(known, "°")), ("lobes", dwell.lobes)),
            )
    if dwell.verdict is not None and dwell.wanted is not None and dwell.read is not None:
        yield Value(
            key="dwell_verdict",
            label="Dwell",
            quantity=dwell.verdict,
            formula="in: all of the reading, ± included, is within the tolerance",
            source=DECISION,
            given=(("read", quantity(dwell.read, "°")), ("tolerance", dwell.tolerance)),
        )
        yield Value(
            key="spark_later",
            label="Correcting the dwell makes the spark later by, crank",
            quantity=quantity(spark_later(dwell.wanted - dwell.read), "°"),
            places=1,
            formula="(dwell wanted − dwell read) ÷ 2 × 2: half of it on the opening side, doubled at the crank; minus "
            "is earlier",
            source=_DWELL,
            given=(("dwell wanted", quantity(dwell.wanted, "°")), ("dwell read", quantity(dwell.read, "°"))),
        )
    if dwell.gap is not None:
        yield Value(
            key="gap_to_set",
            label="Gap for the dwell wanted",
            quantity=quantity(dwell.gap, "mm"),
            units=("mm", "thou"),
            formula="first gap + (second − first gap) × (dwell wanted − first dwell) ÷ (second − first dwell)",
            source=_BETWEEN,
            given=dwell.tries,
        )


def tries_told(first: Any, second: Any, dwell: Any) -> tuple[tuple[str, str], ...]:
    """Return the two gaps tried, and the dwell at the second, by name."""
    return (
        ("first", printed(first, "mm", 2)),
        ("second", printed(second, "mm", 2)),
        ("second dwell", printed(dwell, "°", 1)),
    )


def cautions(verdict: Verdict | None) -> Iterator[Caution]:
    """Yield what to beware of at the coil, and where the dwell is not sure to be in."""
    yield Caution(
        "warning",
        "A shock from the coil's lead can throw you into belt and fan. Engine off and ignition off before you "
        "touch points, cap or coil; read the meter with hands and sleeves clear.",
    )
    if verdict == "too close to call":
        yield Caution("notice", "This meter cannot tell whether the dwell is within its tolerance.")
    if verdict not in (None, "in"):
        yield Caution("notice", "Dwell first, then timing: each degree of dwell moves the spark by about one.")
