"""Volumes, the ratio, and the spacers under the barrels."""

TITLE = "Compression and spacers"
