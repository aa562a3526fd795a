"""From the first turn on the starter to the highest speed: oil, minutes, ceilings, and what falls due."""

TITLE = "Running in"
ORDER = ("oil_pressure", "first_run", "first_drive", "speed_limit", "rechecks")
