"""Valve springs: their loads, what touches, the shims under them, old ones against new, stress and speed."""

TITLE = "Valve springs"
ORDER = ("loads", "bind", "shims", "old", "stress", "speed")
