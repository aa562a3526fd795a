"""Volumes, the ratio, and the spacers under the barrels."""

TITLE = "Compression and spacers"
ORDER = ("ratio", "spacers", "made", "levers", "head_shift", "cranking")
