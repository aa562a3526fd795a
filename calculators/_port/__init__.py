"""What the calculator of ports and chambers is made of: its openings, its report, its drawings."""
