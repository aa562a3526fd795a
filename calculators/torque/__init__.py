"""Nuts and the wrench: what to set, in which order, and what is on the nut."""

TITLE = "Torque and order"
ORDER = ("wrench", "rocker_posts", "stud_order", "extension")
