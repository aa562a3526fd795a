"""The face of a tappet, under a straight edge."""

from __future__ import annotations

from typing import Any

from calculators.bench import Answer, Drawing, Entry, Quantity, Question, Row, Table, length, optional
from calculators.bench.card_facts import CardFacts
from calculators.fits import gauges
from calculators.fits.answers import as_read, judged
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import Kind

CROWNED = (
    "A face is made slightly crowned, so that the tappet turns on its lobe (US Army TM 9-8000, figure 3-57): a hollow "
    "is wear. How much of it is allowed was found in no published manual; the engine maker's figure decides."
)


def _hollow(label: str, shared_as: str, **facts: Any) -> Entry[Quantity | None]:
    return optional(length(label, 0, 10, why=gauges.GAP, shared_as=shared_as, read_by="feelers", **facts))


class Tappets(Row):
    """The tappets of one cylinder."""

    exhaust_tappet_gap = _hollow(
        "Exhaust tappet hollow",
        "exhaust_tappet_gap",
        hint="Gap under a straight edge across the face; the inlet alike.",
        example="0; 0; 0.05; 0",
    )
    inlet_tappet_gap = _hollow("Inlet tappet hollow", "inlet_tappet_gap")


class TappetFace(Question):
    """From the hollow alone; a pitted face, or one with a single line worn across it, is out whatever this says."""

    asks = "Is this tappet's face worn hollow?"
    tells = "Faces of the tappets"
    judges = True

    cylinders = gauges.cylinders()
    tappets = Table(Tappets, each="Cylinder {}", most=12, count="cylinders")
    hollow_most = gauges.limit("Greatest tappet face hollow", CardFacts.limits.tappet_face_hollow)
    feeler_error = gauges.feeler_error()

    def answer(self) -> Answer:
        kind = Kind(
            key="hollow", noun="tappet face hollow", high=gauges.in_mm(self.hollow_most), limits=("hollow_most",)
        )
        sides = {"exhaust": Tappets.exhaust_tappet_gap, "inlet": Tappets.inlet_tappet_gap}
        fits = as_read(sides, self.tappets, "tappet", kind, "feelers", self.feeler_error)
        figure = shown("A tappet on its head, its face upwards, the straight edge across it", fits, _sketch, 112)
        return judged(fits, "Tappet faces", figure, notes=(CROWNED,))


def _sketch(drawing: Drawing, said: str) -> None:
    hollow = [(84, 40), (112, 46), (148, 50), (184, 46), (212, 40)]
    drawing.path([*hollow, (212, 56), (192, 56), (192, 106), (104, 106), (104, 56), (84, 56)], "part", closed=True)
    drawing.rectangle(50, 18, 196, 21, "spacer")
    drawing.text(58, 29, "straight edge", anchor="start")
    dimension(drawing, (160, 40), (160, 50), 12)
    drawing.line(162, 45, 248, 62, "thin")
    drawing.text(252, 64, said, "number", anchor="start")
