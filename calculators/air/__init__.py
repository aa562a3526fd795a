"""The air that the engine draws, the jet and the throttles for it, and what exhaust gas and spark plug say of both."""

TITLE = "Air and mixture"
ORDER = ("air_worth", "main_jet", "balance", "exhaust_gas", "plug")
