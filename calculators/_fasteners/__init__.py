"""Stud clamp, units and fasteners: the stud as tightened, reports, drawings."""
