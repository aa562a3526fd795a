"""The narrowest place on the way in: port, throat or the curtain round the open valve."""

from __future__ import annotations

import math
from typing import Any

from calculators.bench import (
    GEOMETRY,
    Answer,
    FieldError,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    Source,
    Value,
    measure,
    number_in,
    optional,
    printed,
    quantity,
    shared,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, expanded_of
from calculators.bench.words import word
from calculators.formulas.port_flow import curtain_area, throat_area
from calculators.ports.valve_section import valve_section

HEYWOOD = Source("Heywood, Internal Combustion Engine Fundamentals, chapter 6", "memory")


class Narrowest(Question):
    """Areas only: a bend or a sharp edge can change which one chokes the flow first.

    The curtain is taken as a plain cylinder; at a 45° seat the gap at low lift is up to three tenths narrower.
    """

    asks = "Where is the inlet narrowest?"
    tells = "Narrowest place of the inlet"

    valve_head = shared.inlet_valve_head()
    valve_lift = optional(shared.valve_lift(example=None))
    throat = optional(
        card_entry(
            CardFacts.dimensions.inlet_throat,
            "Throat diameter",
            hint="Narrowest bore under the inlet seat.",
            shared_as="inlet_throat",
            said="throat {}",
        )
    )
    stem = optional(
        card_entry(
            CardFacts.dimensions.valve_stem,
            "Stem diameter",
            hint="Where it passes the throat. Empty: ignored.",
            said="stem {}",
        )
    )
    port_area = optional(
        measure(
            "Port area",
            "mm²",
            20,
            23000,
            why="ports of such engines",
            hint="Worked out from the port's width and height, or typed.",
            shared_as="port_area",
            said="port {}",
        )
    )

    def answer(self) -> Answer:
        areas = self._areas()
        ranked = sorted(areas, key=lambda place: best_of(areas[place]))
        least = ranked[0]
        place = f"{word(least)} or {word(ranked[1])}" if _alike(areas, ranked) else word(least)
        return Answer(
            headline=f"{place.capitalize()}: {figures(best_of(areas[least]), 0)} mm²",
            says=f"{_sentence(areas, ranked)} {self._lift_that_fills(areas)}".strip(),
            drawing=valve_section(
                best_of(number_in(self.valve_head, "mm")),
                None if self.valve_lift is None else best_of(number_in(self.valve_lift, "mm")),
                None if self.throat is None else best_of(number_in(self.throat, "mm")),
                None if self.stem is None else best_of(number_in(self.stem, "mm")),
                tuple((place, best_of(area)) for place, area in areas.items()),
                least,
            ),
            values=self._lines(areas),
            notes=(
                "The curtain is taken as a plain cylinder; at a 45° seat the gap at low lift is up to three tenths "
                "narrower.",
                "At part lift the curtain is narrower than at full lift.",
                "The engine maker's figures win over any figure here.",
            ),
        )

    def _areas(self) -> dict[str, Any]:
        """Return the area of each place that is known, mm², in the order of the flow."""
        areas: dict[str, Any] = {}
        if self.port_area is not None:
            areas["port"] = number_in(self.port_area, "mm²")
        if self.throat is not None:
            stem = 0.0 if self.stem is None else number_in(self.stem, "mm")
            areas["throat"] = throat_area(number_in(self.throat, "mm"), stem)
            if best_of(areas["throat"]) <= 0:
                raise InputErrors(FieldError("stem", "Stem diameter must be below the throat diameter"))
        if self.valve_lift is not None:
            areas["curtain"] = curtain_area(number_in(self.valve_head, "mm"), number_in(self.valve_lift, "mm"))
        if not areas:
            raise Lacking(FieldError("valve_lift", "Enter the valve lift, in millimetres"))
        return areas

    def _lift_that_fills(self, areas: dict[str, Any]) -> str:
        if "throat" not in areas:
            return ""
        return f"From {printed(self._full_lift(areas), 'mm')} of lift on, the throat is narrower than the curtain."

    def _full_lift(self, areas: dict[str, Any]) -> Quantity:
        found: Quantity = quantity(areas["throat"] / (math.pi * number_in(self.valve_head, "mm")), "mm")
        return found

    def _lines(self, areas: dict[str, Any]) -> tuple[Value, ...]:
        values = []
        if "curtain" in areas:
            values.append(
                Value(
                    key="curtain",
                    label="Curtain at full lift",
                    quantity=quantity(areas["curtain"], "mm²"),
                    units=("mm²", "in²"),
                    formula="π · valve head · lift",
                    source=HEYWOOD,
                    given=(("valve head", self.valve_head), ("lift", self.valve_lift)),
                )
            )
        if "throat" in areas:
            given = (("throat", self.throat), *((("stem", self.stem),) if self.stem is not None else ()))
            values += [
                Value(
                    key="throat",
                    label="Throat less stem",
                    quantity=quantity(areas["throat"], "mm²"),
                    units=("mm²", "in²"),
                    formula="π ÷ 4 · (throat² − stem²)",
                    source=HEYWOOD,
                    given=given,
                ),
                Value(
                    key="full_lift",
                    label="Lift at which curtain and throat are equal",
                    quantity=self._full_lift(areas),
                    units=("mm",),
                    formula="throat less stem ÷ (π · valve head)",
                    source=HEYWOOD,
                    given=(*given, ("valve head", self.valve_head)),
                ),
            ]
        if "port" in areas and len(areas) > 1:
            narrow = min((place for place in areas if place != "port"), key=lambda place: best_of(areas[place]))
            values.append(
                Value(
                    key="narrowest",
                    label=f"{word(narrow).capitalize()} against port",
                    quantity=quantity(100 * areas[narrow] / areas["port"], "%"),
                    places=0,
                    formula="the smaller of throat and curtain ÷ area of the port",
                    source=GEOMETRY,
                )
            )
        return tuple(values) or (
            Value(
                key="port",
                label="Port",
                quantity=quantity(areas["port"], "mm²"),
                units=("mm²", "in²"),
                formula="as given",
                source=GEOMETRY,
            ),
        )


def _alike(areas: dict[str, Any], ranked: list[str]) -> bool:
    """Return whether the two narrowest cannot be told apart with what they were measured with."""
    if len(ranked) == 1:
        return False
    apart = areas[ranked[1]] - areas[ranked[0]]
    return best_of(apart) < expanded_of(apart)


def _sentence(areas: dict[str, Any], ranked: list[str]) -> str:
    least = ranked[0]
    size = f"{figures(best_of(areas[least]), 0)} mm²"
    if len(ranked) == 1:
        return f"The {word(least)} has {size}."
    if _alike(areas, ranked):
        return f"Whether the {word(least)} or the {word(ranked[1])} is narrower, about {size}, is too close to call."
    share = figures(best_of(100 * areas[least] / areas[ranked[-1]]), 0)
    return f"The {word(least)} is the narrowest: {size}, {share}% of the {word(ranked[-1])}."
