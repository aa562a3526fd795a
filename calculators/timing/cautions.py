"""What can hurt whoever turns the engine or reads it running, and what ruins it."""

from __future__ import annotations

from calculators.bench import Caution

IT_FIRES = Caution(
    "warning",
    "An engine that fires while you turn it crushes the hand. Ignition off, coil lead off and earthed (grounded), "
    "plugs out, and turn it by hand.",
)
NO_STARTER = Caution(
    "warning",
    "With a stop in the plug hole never use the starter: it breaks the piston or shoots the stop into hand or face. "
    "Turn by hand, slowly, valves clear of the stop, and take it out straight after.",
)
UNDER_THE_LIGHT = Caution(
    "warning",
    "Under a timing light, fan, belt and pulley seem to stand still but can take off fingers. Keep hands, sleeves "
    "and leads away; stop the engine before you reach in. Exhaust gas kills indoors: lead it outside.",
)
OUT_OF_TIME = Caution(
    "notice",
    "A cam that is out of time can bend valves against pistons. Do not run it. Check lash, the lift of the "
    "readings and the marks of the gears first, and turn the engine by hand.",
)
MAKER_WINS = "The engine maker's angles win. If you can get only poor fuel, ask what advance is safe."
ARRIVE = (
    "Always approach a mark in the engine's own direction, so that the play in gears and chain is taken up as in "
    "running "
    "(common practice, no source)."
)
