"""Bores, pistons, rings, valves and valve gear: worn out, or good for another life."""

TITLE = "Fits and wear"
ORDER = (
    "bore",
    "piston",
    "ring_gap",
    "ring_heat",
    "ring_side",
    "guide",
    "valve_rock",
    "stem_runout",
    "valve_margin",
    "valve_clearance",
    "seat",
    "head_face",
    "rocker_bush",
    "tappet",
    "tappet_face",
    "pushrod",
)
