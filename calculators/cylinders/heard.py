"""Where a leak is heard, what that tells of, and where to look then (common practice, no source)."""

from __future__ import annotations

HEARD = {
    "nowhere": "Nowhere, or not listened",
    "oil": "Oil filler or breather",
    "exhaust": "Exhaust",
    "inlet": "Carburettor",
    "neighbour": "Neighbour's plug hole",
    "outside": "Bubbles at barrel or head",
}
TELLS = {
    "oil": "rings or bore",
    "exhaust": "exhaust valve",
    "inlet": "inlet valve",
    "neighbour": "joint between neighbours",
    "outside": "joint of barrel and head, plug seat or crack",
}
THEN = {
    "oil": "rings, bore, piston",
    "exhaust": "lash, then the exhaust valve and its seat",
    "inlet": "lash, then the inlet valve and its seat",
    "neighbour": "head joint and head face between the two",
    "outside": "soapy water: head joint, plug seat, cracks",
}
"""Where it is heard → where to look then."""
