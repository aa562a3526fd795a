"""What can hurt whoever lets an engine run, or opens its carburettors."""

from __future__ import annotations

from calculators.bench import Caution

MONOXIDE = Caution(
    "danger",
    "Exhaust holds carbon monoxide: it has no smell and kills. Run the engine in the open, or lead the exhaust "
    "outside and keep the doors open.",
)
FUEL = Caution(
    "warning",
    "Fuel from an open carburettor catches fire. Engine cold and off, no flame, extinguisher at hand when you "
    "change a jet.",
)
BELT = Caution(
    "warning",
    "Belt, fan and pulley beside the throttles catch fingers, sleeves and hair: keep them and every hose away. A "
    "vehicle in gear runs people down: wheels on the ground and chocked, neutral, parking brake on.",
)
COASTING = Caution(
    "warning",
    "With the engine switched off the brakes lose their servo, and a key turned too far locks the steering: either can "
    "kill. "
    "Cut it on a clear, straight road, out of gear, and leave the key where the steering still turns. Plug and head "
    "burn the "
    "skin: gloves.",
)
