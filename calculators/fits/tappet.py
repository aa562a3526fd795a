"""A tappet in its bore."""

from __future__ import annotations

from calculators.bench import Answer, Drawing, Question, Row, Table, length, optional
from calculators.bench.card_facts import CardFacts
from calculators.fits import gauges
from calculators.fits.answers import ANOTHER_FIT, Pairs, judged, play
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import Kind

_BORE = optional(length("Tappet bore", 5, 80, why=gauges.GEAR, read_by="small_bore_gauge"))
_TAPPET = optional(length("Tappet diameter", 5, 80, why=gauges.GEAR, read_by="micrometer"))


class Exhaust(Row):
    """One exhaust tappet."""

    exhaust_tappet_bore = _BORE(shared_as="exhaust_tappet_bore", example="22.02; 22.02; 22.03; 22.02")
    exhaust_tappet = _TAPPET(shared_as="exhaust_tappet", example="21.96; 21.97; 21.91; 21.96")


class Inlet(Row):
    """One inlet tappet."""

    inlet_tappet_bore = _BORE(shared_as="inlet_tappet_bore")
    inlet_tappet = _TAPPET(shared_as="inlet_tappet")


class Tappet(Question):
    """The bore less the tappet. Both wear oval, so measure across the wear."""

    asks = "Is this tappet loose in its bore?"
    tells = "Tappet clearance"
    judges = True

    cylinders = gauges.cylinders()
    exhaust_tappets = Table(Exhaust, each="Exhaust tappet {}", most=12, count="cylinders")
    inlet_tappets = Table(Inlet, each="Inlet tappet {}", most=12, count="cylinders", refines="Inlet tappets")
    tappet_most = gauges.limit("Greatest tappet clearance", CardFacts.limits.tappet_clearance)
    guide_error = gauges.small_bore_error()
    micrometer_error = gauges.micrometer_error()

    def answer(self) -> Answer:
        kind = Kind(
            key="tappet",
            noun="tappet clearance",
            formula="tappet bore less tappet diameter",
            high=gauges.in_mm(self.tappet_most),
            limits=("tappet_most",),
        )
        fits, missing = play(
            (
                Pairs("exhaust", Exhaust.exhaust_tappet_bore, Exhaust.exhaust_tappet, self.exhaust_tappets),
                Pairs("inlet", Inlet.inlet_tappet_bore, Inlet.inlet_tappet, self.inlet_tappets),
            ),
            "tappet",
            kind,
            ("tappet bore", "tappet"),
            (self.guide_error, self.micrometer_error),
        )
        figure = shown("A tappet in its bore, cut open, the cam below", fits, _sketch, 134)
        return judged(fits, "Tappets", figure, missing=missing, notes=(ANOTHER_FIT,))


def _sketch(drawing: Drawing, said: str) -> None:
    for x in (76, 192):
        drawing.cut_box(x, 14, 34, 62, "aluminium")
    drawing.rectangle(110, 4, 68, 78, "spacer")
    drawing.rectangle(100, 82, 88, 8, "spacer")
    drawing.circle(140, 108, 18, "part")
    drawing.text(144, 44, "tappet")
    dimension(drawing, (178, 62), (192, 62), 16)
    drawing.text(236, 62, said, "number", anchor="start")
