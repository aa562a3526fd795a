"""What compression gauge and leakage tester say of each cylinder, before the job and after it."""

TITLE = "Cylinder tests"
ORDER = ("compression", "leakage", "points_to", "expected")
