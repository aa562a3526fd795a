"""What a drawing takes from an engine card; where the card is silent, proportions that look like an engine."""

from __future__ import annotations

from typing import NamedTuple

import pint

from calculators.bench.card import EngineCard
from calculators.bench.units import NotANumber, UnknownUnit, magnitude_in, quantity, read_number
from calculators.formulas.tightening_order import square_order


class Engine(NamedTuple):
    """Measures in millimetres, each kept within what can be drawn to be recognised.

    Parameters
    ----------
    bore, stroke, barrel : float
        Of a barrel: its bore, the stroke, its length from shoulder to top.
    inlet, exhaust, stem : float
        Diameters of the valves.
    spring, wire, coils : float
        Outside diameter, wire and coils of a valve spring.
    banks : tuple of tuple of int
        The cylinders of each bank, counted from the pulley end.
    studs, screws : mapping of str to (float, float)
        Of one head seen from outside it, y upwards.
    order : tuple of str
        The studs as they are tightened: the card's order, else the squarest; none where the card has no studs.
    adjuster : str
        The end of the rocker that carries the screw: ``pushrod`` or ``valve``.
    face, contact : float
        How wide an exhaust valve's face is, and the seat that touches it.
    """

    bore: float
    stroke: float
    barrel: float
    inlet: float
    exhaust: float
    stem: float
    spring: float
    wire: float
    coils: float
    banks: tuple[tuple[int, ...], ...]
    studs: dict[str, tuple[float, float]]
    screws: dict[str, tuple[float, float]]
    order: tuple[str, ...]
    adjuster: str
    face: float
    contact: float

    @classmethod
    def of(cls, card: EngineCard) -> Engine:
        bore = _length(card, "dimensions.bore", 80, 40, 140)

        def near(path: str, usual: float, least: float, most: float) -> float:
            """Return a length in bores where it is within reason, else the usual one."""
            return _length(card, path, usual * bore, least * bore, most * bore)

        cylinders = int(card.fact("layout.cylinders") or 4)
        banks = card.fact("layout.banks") or [list(range(1, cylinders + 1))]
        studs = card.studs("studs.cylinder_head")
        told = card.fact("studs.cylinder_head.order") or ()
        if len(studs) > 1 and sorted(told) != sorted(studs):
            told = [list(studs)[index] for index in square_order(tuple(studs.values())).order]
        seat = near("seats.exhaust_width_least", 0.02, 0.008, 0.05) / 2
        seat += near("seats.exhaust_width_greatest", 0.024, 0.008, 0.06) / 2
        return cls(
            bore=bore,
            stroke=near("dimensions.stroke", 0.92, 0.6, 1.3),
            barrel=near("dimensions.barrel_length", 1.3, 1.0, 1.7),
            inlet=near("dimensions.inlet_valve_head", 0.42, 0.3, 0.5),
            exhaust=near("dimensions.exhaust_valve_head", 0.37, 0.28, 0.46),
            stem=near("dimensions.valve_stem", 0.1, 0.07, 0.13),
            spring=near("springs.outside_diameter", 0.41, 0.3, 0.5),
            wire=near("springs.wire_diameter", 0.052, 0.03, 0.07),
            coils=max(4.0, min(float(card.fact("springs.total_coils") or 6.5), 9.0)),
            banks=tuple(tuple(int(number) for number in bank) for bank in banks),
            studs=studs,
            order=tuple(told) if studs else (),
            screws=card.studs("studs.head_screws"),
            face=(face := near("seats.exhaust_face_width", 0.036, 0.02, 0.06)),
            contact=max(0.3 * face, min(seat, 0.6 * face)),
            adjuster=str(card.fact("valve_gear.adjuster_end") or "pushrod"),
        )


def _length(card: EngineCard, path: str, usual: float, least: float, most: float) -> float:
    text = card.text(path)
    if text is None:
        return usual
    try:
        typed = read_number(text)
        length = magnitude_in(quantity(typed.number, typed.unit.symbol if typed.unit else "mm"), "mm")
    except (NotANumber, UnknownUnit, pint.DimensionalityError):
        return usual
    return max(least, min(length, most))
