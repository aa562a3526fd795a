"""The kinds of instrument that read what a form asks for; the job names the one that lies on the bench."""

from __future__ import annotations

INSTRUMENTS = {
    "burette": "Burette",
    "depth_gauge": "Depth gauge",
    "bore_gauge": "Bore gauge",
    "small_bore_gauge": "Small-bore gauge",
    "micrometer": "Micrometer",
    "calliper": "Calliper",
    "dial": "Dial gauge",
    "feelers": "Feeler blades",
    "spring_tester": "Spring tester",
    "torque_wrench": "Torque wrench",
    "small_wrench": "Small torque wrench",
    "compression_gauge": "Compression gauge",
    "leakage_tester": "Leakage tester",
    "degree_wheel": "Degree wheel",
    "timing_light": "Timing light",
    "dwell_meter": "Dwell meter",
    "balance_gauge": "Balance gauge",
    "gas_analyser": "Exhaust gas analyser",
    "oil_gauge": "Oil pressure gauge",
    "thermometer": "Thermometer",
    "barometer": "Barometer",
}
"""By name, in the order of a job; a field says by ``instrument`` which kind reads it."""

PREFIX = "instrument."
"""Of the reading that holds which one is on the bench: ``instrument.burette``."""
