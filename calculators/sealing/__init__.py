"""Sealers and seals: what goes on a joint, how long one has, and whether a seal is crushed as it should be."""

TITLE = "Sealers, seals and cure"
ORDER = ("what_goes_on", "closing", "order", "crush", "seals")
