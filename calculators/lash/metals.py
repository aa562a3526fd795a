"""The metals of engine parts, and how much longer each gets with heat."""

COEFFICIENTS = {
    "cast aluminium": 21.5,
    "wrought aluminium": 23.6,
    "cast magnesium": 26.0,
    "grey iron": 11.4,
    "ductile iron": 11.2,
    "carbon steel": 11.7,
    "alloy steel": 12.3,
    "martensitic steel": 10.2,
    "austenitic steel": 17.2,
    "titanium": 8.6,
}
"""Linear, near room temperature, in 10⁻⁶/K: alloys 356.0, 6061, AZ91D, G3000, 60-40-18, 1020, 4140,
440A, 304 and Ti-6Al-4V of Callister, Table B.6."""

MATERIALS = {
    "cast aluminium": "Cast aluminium",
    "wrought aluminium": "Wrought aluminium, as tube and bar",
    "cast magnesium": "Cast magnesium",
    "grey iron": "Grey cast iron",
    "ductile iron": "Ductile cast iron",
    "carbon steel": "Carbon steel",
    "alloy steel": "Alloy steel, chromium-molybdenum",
    "martensitic steel": "Martensitic valve steel, magnetic",
    "austenitic steel": "Austenitic valve steel, hardly magnetic",
    "titanium": "Titanium alloy",
}
