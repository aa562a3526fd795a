"""The faces of a head, under a straight edge."""

from __future__ import annotations

from calculators.bench import Answer, Drawing, Lacking, Question, Row, Table, length, listed, optional
from calculators.bench.card_facts import CardFacts
from calculators.bench.verdict import best_of
from calculators.fits import gauges
from calculators.fits.answers import enter, judged, several
from calculators.fits.drawing import shown
from calculators.fits.fit import Kind, Part, found


class Heads(Row):
    """One head."""

    face_gaps = optional(
        listed(
            length(
                "Gaps under the straight edge",
                0,
                10,
                why=gauges.GAP,
                hint="Along, across and over both diagonals; 0 where no blade goes in.",
                example="0 0.03 0.02 0; 0 0.02 0.02 0.07",
                shared_as="face_gaps",
                read_by="feelers",
            ),
            1,
            6,
            like="0 0.03 0.04 0",
        )
    )


class HeadFace(Question):
    """From the widest gap found; a straight edge does not show a face that its barrel has worn in one place."""

    asks = "Is this head's face flat?"
    tells = "Flatness of the head's face"
    judges = True

    heads = Table(Heads, each="Head {}", most=6)
    flatness_most = gauges.limit("Greatest gap under the straight edge", CardFacts.limits.head_flatness)
    feeler_error = gauges.feeler_error()

    def answer(self) -> Answer:
        kind = Kind(
            key="flatness",
            noun="head face flatness",
            formula="widest gap found under the straight edge",
            high=gauges.in_mm(self.flatness_most),
            limits=("flatness_most",),
        )
        fits = [
            found(kind, Part("head", row), max(several(head.face_gaps, "feelers", self.feeler_error), key=best_of))
            for row, head in enumerate(self.heads, 1)
            if head.face_gaps is not None
        ]
        if not fits:
            raise Lacking(enter(Heads.face_gaps, "head 1", 1))
        figure = shown(
            "A head's face from the barrels' side: lay the edge along, across, over corners", fits, _sketch, 124
        )
        return judged(fits, "Head faces", figure)


def _sketch(drawing: Drawing, said: str) -> None:
    drawing.rectangle(20, 8, 220, 108, "part", round=8)
    for x in (78, 182):
        drawing.circle(x, 62, 38, "space")
    for ends in ((20, 62, 240, 62), (130, 8, 130, 116), (24, 12, 236, 112), (24, 112, 236, 12)):
        drawing.line(*ends, "route")
    drawing.text(250, 20, "widest", anchor="start")
    drawing.text(250, 40, said, "number", anchor="start")
