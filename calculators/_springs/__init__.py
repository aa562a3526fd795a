"""Valve springs: springs as measured, report, drawing."""
