"""A valve turned on vee blocks, under a dial."""

from __future__ import annotations

from typing import Any

from calculators.bench import Answer, Drawing, Entry, Quantity, Question, Row, Table, length, optional
from calculators.bench.card_facts import CardFacts
from calculators.fits import gauges
from calculators.fits.answers import WHOLE_SWING, as_read, judged
from calculators.fits.drawing import shown
from calculators.fits.fit import Kind


def _runout(label: str, shared_as: str, **facts: Any) -> Entry[Quantity | None]:
    return optional(length(label, 0, 10, why=gauges.GAP, shared_as=shared_as, read_by="dial", **facts))


class Valves(Row):
    """The valves of one cylinder."""

    exhaust_stem_runout = _runout(
        "Exhaust stem run-out",
        "exhaust_stem_runout",
        hint="Whole swing of the dial, stem turned; the inlet alike.",
        example="0.01; 0.01; 0.04; 0.01",
    )
    inlet_stem_runout = _runout("Inlet stem run-out", "inlet_stem_runout")


class StemRunout(Question):
    """The whole swing of the dial, not half. The face must run as true: check it separately."""

    asks = "Does this valve run true?"
    tells = "Run-out of the valves"
    judges = True

    cylinders = gauges.cylinders()
    valves = Table(Valves, each="Cylinder {}", most=12, count="cylinders")
    runout_most = gauges.limit("Greatest stem run-out", CardFacts.limits.valve_stem_runout)
    dial_error = gauges.dial_error()

    def answer(self) -> Answer:
        kind = Kind(key="runout", noun="stem run-out", high=gauges.in_mm(self.runout_most), limits=("runout_most",))
        sides = {"exhaust": Valves.exhaust_stem_runout, "inlet": Valves.inlet_stem_runout}
        fits = as_read(sides, self.valves, "valve", kind, "dial", self.dial_error)
        figure = shown("A valve on vee blocks, seen from the side, turned under the dial", fits, _sketch, 112)
        return judged(fits, "Stem run-out", figure, notes=(WHOLE_SWING,))


def _sketch(drawing: Drawing, said: str) -> None:
    drawing.path([(30, 58), (250, 58), (276, 30), (284, 30), (284, 94), (276, 94), (250, 66), (30, 66)], "part", True)
    for x in (66, 200):
        drawing.path([(x - 16, 106), (x, 68), (x + 16, 106)], "spacer", closed=True)
    drawing.circle(132, 24, 15, "space")
    drawing.line(132, 39, 132, 57, "arrow")
    drawing.line(132, 24, 138, 14, "thin")
    drawing.text(156, 22, said, "number", anchor="start")
    drawing.arc(16, 62, 12, 200, 230, "edge")
    drawing.arrowhead(8, 72, 130, "arrow")
