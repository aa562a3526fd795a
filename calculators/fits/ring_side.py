"""A ring in its groove."""

from __future__ import annotations

from calculators.bench import Answer, Drawing, Lacking, Question, Row, Table, length, listed, optional
from calculators.bench.card_facts import CardFacts
from calculators.bench.verdict import best_of
from calculators.fits import gauges
from calculators.fits.answers import ANOTHER_FIT, enter, judged, several
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import Kind, Part, found


class Grooves(Row):
    """The grooves of one piston, each with its ring."""

    side_gap = optional(
        listed(
            length(
                "Ring side clearances",
                0,
                10,
                why=gauges.GAP,
                hint="All rings of a piston, the top one first; clean ring in its clean groove.",
                example="0.07 0.06 0.05; 0.07 0.05 0.05; 0.13 0.08 0.06; 0.08 0.06 0.05",
                shared_as="side_gap",
                read_by="feelers",
            ),
            1,
            6,
            like="0.06 0.05 0.05",
        )
    )


class RingSide(Question):
    """From the blade that goes in beside the ring; it does not see a groove hammered wide only at its mouth."""

    asks = "Has this ring too much side play in its groove?"
    tells = "Ring side clearance"
    judges = True

    cylinders = gauges.cylinders()
    pistons = Table(Grooves, each="Cylinder {}", most=12, count="cylinders")
    side_most = gauges.limit("Greatest ring side clearance", CardFacts.limits.ring_side_clearance)
    feeler_error = gauges.feeler_error()

    def answer(self) -> Answer:
        kind = Kind(
            key="side_clearance",
            noun="ring side clearance",
            formula="widest of the piston's grooves, ring in it",
            high=gauges.in_mm(self.side_most),
            limits=("side_most",),
        )
        fits = [
            found(kind, Part("cylinder", row), max(several(of.side_gap, "feelers", self.feeler_error), key=best_of))
            for row, of in enumerate(self.pistons, 1)
            if of.side_gap is not None
        ]
        if not fits:
            raise Lacking(enter(Grooves.side_gap, "cylinder 1", 1))
        figure = shown("A ring in its groove, piston cut open, its crown upwards", fits, _sketch, 112)
        return judged(fits, "Ring side clearances", figure, notes=(ANOTHER_FIT,))


def _sketch(drawing: Drawing, said: str) -> None:
    drawing.cut([(66, 8), (190, 8), (190, 38), (110, 38), (110, 78), (190, 78), (190, 106), (66, 106)], "aluminium")
    drawing.rectangle(124, 52, 86, 26, "spacer")
    drawing.cut_box(210, 4, 16, 104)
    drawing.text(167, 65, "ring")
    dimension(drawing, (150, 38), (150, 52), 14)
    drawing.line(150, 45, 240, 45, "thin")
    drawing.text(244, 45, said, "number", anchor="start")
    drawing.text(60, 58, "piston", anchor="end")
