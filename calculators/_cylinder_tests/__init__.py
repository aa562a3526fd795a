"""What the calculator of cylinder tests is made of: its readings, what they point to, its report, its drawings."""
