"""Torque stages: wrenches, passes, order, drawings."""
