"""Compression and spacers: the engine as measured, what could be fitted, report, drawing."""
