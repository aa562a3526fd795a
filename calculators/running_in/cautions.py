"""What can hurt whoever runs a rebuilt engine in, on rollers, on the road and at the re-checks."""

from __future__ import annotations

from calculators.bench import Caution

CARBON_MONOXIDE = Caution(
    "danger",
    "Carbon monoxide has no smell and kills indoors. Run it in the open, or with the exhaust led outside and "
    "the doors wide open.",
)
ROLLERS = Caution(
    "danger",
    "A vehicle that climbs off the rollers runs people over and kills; a tyre that bursts throws pieces. Trained "
    "operator, vehicle strapped down as the machine's rules say, nobody in front of, behind or beside the wheels.",
)
JACK = Caution(
    "danger",
    "A vehicle that comes off a jack kills whoever is under it. Rated stands on hard, level ground, wheels chocked, "
    "never a jack alone; down on its wheels before it runs.",
)
BRAKES = Caution(
    "warning",
    "Brakes that were worked on may fail at the first bend, which can kill. Test them at walking pace first. Local law "
    "says what a vehicle must have before a trial run.",
)
FUEL_MIST = Caution(
    "warning",
    "Spun with its plugs out, the engine blows fuel mist from the holes; a spark can light it and burn face and hands. "
    "Fuel off, coil lead off, plug leads capped, extinguisher in reach.",
)
CRANK = Caution(
    "warning",
    "An engine that fires while you turn it for the lash crushes the hand on the spanner. Key out, battery lead off, "
    "plugs out; the spanner comes off before the lead goes on.",
)
FAN = Caution(
    "warning",
    "Fan, belt and high voltage: guards on, hair and sleeves tied, no hand on leads or near the fan while it runs. "
    "Under a timing light they seem to stand still.",
)
BURNS = Caution("caution", "Oil, heads and exhaust burn the skin for an hour after a run.")
HOT_OIL = Caution(
    "caution",
    "Hot oil and heads burn the skin. Drain the oil warm, not hot, with gloves; check the lash with the engine stone "
    "cold.",
)
