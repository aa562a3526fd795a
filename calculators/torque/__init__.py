"""Nuts and the wrench: what to set, in which order, and what is on the nut."""

TITLE = "Torque and order"
