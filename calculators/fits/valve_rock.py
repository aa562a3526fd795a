"""A valve rocked in its guide, under a dial."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    GEOMETRY,
    Answer,
    Drawing,
    Entry,
    Quantity,
    Question,
    Row,
    Table,
    length,
    magnitude_in,
    optional,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.fits import gauges
from calculators.fits.answers import as_read, judged
from calculators.fits.drawing import shown
from calculators.fits.fit import Fit, Kind, found
from calculators.formulas.worn_fit import rocked_clearance

TRUMPET = "A bell-mouthed guide reads as more."


def _rock(label: str, shared_as: str, **facts: Any) -> Entry[Quantity | None]:
    return optional(length(label, 0, 10, why=gauges.GAP, shared_as=shared_as, read_by="dial", **facts))


class Valves(Row):
    """The valves of one cylinder."""

    exhaust_rock = _rock(
        "Exhaust valve rock",
        "exhaust_rock",
        hint="Whole swing of the dial at the valve's head, side to side; the inlet alike.",
        example="0.31; 0.30; 0.46; 0.34",
    )
    inlet_rock = _rock("Inlet valve rock", "inlet_rock")


class ValveRock(Question):
    """Compares the rock read with its limit; with guide length and dial place, gives the clearance too.

    A bell-mouthed guide reads as more.
    """

    asks = "Is this valve guide worn, by rocking the valve?"
    tells = "Valve guide clearance, by rocking"
    judges = True

    cylinders = gauges.cylinders()
    guide_length = optional(
        card_entry(CardFacts.valve_gear.guide_length, "Guide length", exact=True, said="guide {} long")
    )
    overhang = optional(
        length(
            "Guide's end to dial",
            0,
            150,
            why=gauges.VALVES,
            exact=True,
            hint="Along the stem, valve held off its seat as for the rock.",
            example="34 mm",
            shared_as="guide_to_dial",
            said="dial {} from it",
        )
    )
    valves = Table(Valves, each="Cylinder {}", most=12, count="cylinders")
    rock_most = gauges.limit("Greatest valve rock", CardFacts.limits.valve_rock)
    guide_clearance_most = gauges.guide_limit()
    dial_error = gauges.dial_error()

    def answer(self) -> Answer:
        rock = Kind(key="rock", noun="valve rock", high=gauges.in_mm(self.rock_most), limits=("rock_most",))
        sides = {"exhaust": Valves.exhaust_rock, "inlet": Valves.inlet_rock}
        fits = as_read(sides, self.valves, "valve", rock, "dial", self.dial_error)
        fits += [clearance for fit in fits if (clearance := self._clearance(fit))]
        figure = shown("A valve rocked in its guide, side to side, its head downwards", fits, _sketch, 122)
        return judged(fits, "Valve rock", figure, notes=(TRUMPET,))

    def _clearance(self, rock: Fit) -> Fit | None:
        if self.guide_length is None or self.overhang is None:
            return None
        guide, overhang = magnitude_in(self.guide_length, "mm"), magnitude_in(self.overhang, "mm")
        kind = Kind(
            key="rocked_clearance",
            noun="clearance by rock",
            formula="rock · guide length ÷ (guide length + 2 · guide's end to dial)",
            source=GEOMETRY,
            high=gauges.in_mm(self.guide_clearance_most),
            limits=("guide_clearance_most",),
        )
        given = ("rock", rock.number), ("guide length", guide), ("guide's end to dial", overhang)
        return found(kind, rock.part, rocked_clearance(rock.number, guide, overhang), *given)


def _sketch(drawing: Drawing, said: str) -> None:
    for x in (132, 174):
        drawing.cut_box(x, 6, 16, 54)
    leaning: list[tuple[float, float]] = [
        (158, 2),
        (164, 2),
        (176, 96),
        (204, 104),
        (203, 110),
        (137, 118),
        (136, 112),
        (164, 98),
    ]
    drawing.path(leaning, "spacer", closed=True)
    drawing.path([(322 - x, y) for x, y in leaning], "route", closed=True)
    drawing.circle(252, 106, 13, "space")
    drawing.line(239, 106, 208, 106, "arrow")
    drawing.line(252, 106, 252, 97, "thin")
    drawing.text(272, 106, "dial", anchor="start")
    drawing.arrow(118, 96, 98, 96)
    drawing.arrow(208, 84, 228, 84)
    drawing.text(90, 96, said, "number", anchor="end")
    drawing.text(118, 33, "guide", anchor="end")
