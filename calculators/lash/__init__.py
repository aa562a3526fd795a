"""Valve lash: where to set it, how far to turn, what proves it, and what it tells of the engine."""

TITLE = "Valve lash"
ORDER = ("plan", "marks", "found", "screw", "lock_nut", "blades", "left", "record", "heat")
