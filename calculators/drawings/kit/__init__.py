"""The drawing kit: lines, plates, the parts of a top end, hands and tools. Pure functions of numbers."""
