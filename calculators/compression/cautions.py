"""What to beware of with a ratio and with spacers under the barrels."""

from __future__ import annotations

from calculators.bench import Caution
from calculators.bench.units import figures

_FUELS = (
    (7.3, "usually ran on the lowest grade of petrol"),
    (8.3, "usually ran on regular petrol"),
    (9.3, "usually ran on premium petrol only"),
    (99.0, "usually knock on any pump petrol unless chambers, cooling and ignition are built for it"),
)
"""Up to which ratio, and what is said about air-cooled engines there (common practice, no source)."""

KNOCK = Caution(
    "warning",
    "A ratio too high for the fuel makes the engine knock. Knock breaks pistons, and an engine that fails on the road "
    "can kill. Keep to the engine maker's ratio for the fuel you can get (common practice, no source).",
)
CLOSE = Caution(
    "notice",
    "Under about 1 mm of deck clearance, carbon and worn bearings can let the piston strike the head "
    "(common practice, no source). The engine maker's figure wins.",
)
DOMED = Caution(
    "notice",
    "A dome can meet the head or a valve before its edge does. Once rings and circlips are in, lay plasticine on it "
    "and bolt the head on. Battery lead off, plugs out, turn the crank over by hand once, stop if it drags, and "
    "measure the gap over the dome and at the valves (common practice, no source).",
)
LEVEL = Caution(
    "notice",
    "Barrels under one head must stand level. A head pulled down on uneven barrels leaks and cracks.",
)
MEASURE_AGAIN = Caution(
    "notice",
    "Deck height is measured at top dead centre with the barrel clamped down. Fit the spacers, clamp, and measure "
    "again.",
)


def fuel(highest: float) -> Caution:
    """Say what air-cooled engines of a ratio were built for."""
    built_for = next(words for up_to, words in _FUELS if highest <= up_to or up_to == _FUELS[-1][0])
    return Caution(
        "notice",
        f"Air-cooled engines at {figures(highest, 1)} : 1 {built_for}. They knock sooner than water-cooled ones at "
        "the same ratio, most of all uphill in hot weather, and a figure from the days of leaded petrol may rely on "
        "the lead. Listen on the first drive; at the first rattle retard the ignition or stop. Common practice, no "
        "source, and no promise.",
    )
