"""Studs and threads: what a torque does to them, which they are, what drill they want; and figures in other units."""

TITLE = "Studs, threads and units"
ORDER = ("stud_pull", "screwed_in", "which_thread", "drill", "fallback", "convert")
