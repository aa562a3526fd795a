"""Openings that the gas flows through, the inlet valve behind them, and chambers made alike."""

TITLE = "Ports and chambers"
ORDER = ("steps", "gas_speed", "narrowest", "filling", "chambers")
