"""A rocker's bush on its shaft."""

from __future__ import annotations

from calculators.bench import Answer, Drawing, Question, Row, Table, length, optional
from calculators.bench.card_facts import CardFacts
from calculators.bench.drawing import around
from calculators.fits import gauges
from calculators.fits.answers import ANOTHER_FIT, Pairs, judged, play
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import Kind

_BUSH = optional(
    length("Rocker bush", 5, 80, why=gauges.GEAR, hint="Its bore, where it is widest.", read_by="small_bore_gauge")
)
_SHAFT = optional(
    length(
        "Rocker shaft", 5, 80, why=gauges.GEAR, hint="Under this rocker, where it is thinnest.", read_by="micrometer"
    )
)


class Exhaust(Row):
    """One exhaust rocker."""

    exhaust_rocker_bush = _BUSH(shared_as="exhaust_rocker_bush", example="18.04; 18.03; 18.10; 18.04")
    exhaust_rocker_shaft = _SHAFT(shared_as="exhaust_rocker_shaft", example="17.98; 17.98; 17.96; 17.98")


class Inlet(Row):
    """One inlet rocker."""

    inlet_rocker_bush = _BUSH(shared_as="inlet_rocker_bush")
    inlet_rocker_shaft = _SHAFT(shared_as="inlet_rocker_shaft")


class RockerBush(Question):
    """The bush less the shaft. If the shaft is worn on its loaded side only, measure it there."""

    asks = "Are rocker bush and shaft worn?"
    tells = "Rocker bush clearance"
    judges = True

    cylinders = gauges.cylinders()
    exhaust_rockers = Table(Exhaust, each="Exhaust rocker {}", most=12, count="cylinders")
    inlet_rockers = Table(Inlet, each="Inlet rocker {}", most=12, count="cylinders", refines="Inlet rockers")
    bush_most = gauges.limit("Greatest rocker bush clearance", CardFacts.limits.rocker_bush_clearance)
    guide_error = gauges.small_bore_error()
    micrometer_error = gauges.micrometer_error()

    def answer(self) -> Answer:
        kind = Kind(
            key="bush",
            noun="rocker bush clearance",
            formula="rocker bush less rocker shaft",
            high=gauges.in_mm(self.bush_most),
            limits=("bush_most",),
        )
        fits, missing = play(
            (
                Pairs("exhaust", Exhaust.exhaust_rocker_bush, Exhaust.exhaust_rocker_shaft, self.exhaust_rockers),
                Pairs("inlet", Inlet.inlet_rocker_bush, Inlet.inlet_rocker_shaft, self.inlet_rockers),
            ),
            "rocker",
            kind,
            ("rocker bush", "rocker shaft"),
            (self.guide_error, self.micrometer_error),
        )
        figure = shown("A rocker on its shaft, cut across, seen along the shaft", fits, _sketch, 116)
        return judged(fits, "Rockers", figure, missing=missing, notes=(ANOTHER_FIT,))


def _sketch(drawing: Drawing, said: str) -> None:
    drawing.path([(40, 44), (300, 36), (300, 56), (40, 68)], "part", closed=True)
    drawing.cut([around(160, 60, 52, 10 * step) for step in range(36)])
    drawing.circle(160, 60, 38, "space")
    drawing.circle(160, 68, 30, "spacer")
    drawing.text(160, 72, "shaft")
    dimension(drawing, (160, 22), (160, 38), 14)
    drawing.line(160, 30, 226, 18, "thin")
    drawing.text(230, 16, said, "number", anchor="start")
