"""A pushrod turned on vee blocks, under a dial."""

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


class Pushrods(Row):
    """The pushrods of one cylinder."""

    exhaust_pushrod_runout = _runout(
        "Exhaust pushrod run-out",
        "exhaust_pushrod_runout",
        hint="Whole swing of the dial, rod turned; the inlet alike.",
        example="0.12; 0.08; 0.42; 0.10",
    )
    inlet_pushrod_runout = _runout("Inlet pushrod run-out", "inlet_pushrod_runout")


class Pushrod(Question):
    """The whole swing of the dial, which is twice the bend. For its length, see the pushrod questions."""

    asks = "Is this pushrod straight?"
    tells = "Straightness of the pushrods"
    judges = True

    cylinders = gauges.cylinders()
    pushrods = Table(Pushrods, each="Cylinder {}", most=12, count="cylinders")
    pushrod_most = gauges.limit("Greatest pushrod run-out", CardFacts.limits.pushrod_runout)
    dial_error = gauges.dial_error()

    def answer(self) -> Answer:
        kind = Kind(
            key="pushrod", noun="pushrod run-out", high=gauges.in_mm(self.pushrod_most), limits=("pushrod_most",)
        )
        sides = {"exhaust": Pushrods.exhaust_pushrod_runout, "inlet": Pushrods.inlet_pushrod_runout}
        fits = as_read(sides, self.pushrods, "pushrod", kind, "dial", self.dial_error)
        figure = shown("A pushrod on vee blocks, seen from the side, turned under the dial", fits, _sketch, 112)
        return judged(fits, "Pushrods", figure, notes=(WHOLE_SWING,))


def _sketch(drawing: Drawing, said: str) -> None:
    drawing.path([(36, 66), (170, 58), (304, 66), (304, 74), (170, 66), (36, 74)], "part", closed=True)
    for x in (70, 270):
        drawing.path([(x - 16, 108), (x, 74), (x + 16, 108)], "spacer", closed=True)
    drawing.circle(170, 24, 15, "space")
    drawing.line(170, 39, 170, 57, "arrow")
    drawing.line(170, 24, 176, 14, "thin")
    drawing.text(194, 22, said, "number", anchor="start")
    drawing.arc(20, 70, 12, 200, 230, "edge")
    drawing.arrowhead(12, 80, 130, "arrow")
