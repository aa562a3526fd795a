"""What the calculator of fits and wear is made of: its limits, its findings, its report, its drawings."""
