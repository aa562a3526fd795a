"""A valve's stem and guide, as measured."""

from __future__ import annotations

from calculators.bench import Answer, Drawing, Question, Row, Table, length, listed, optional
from calculators.fits import gauges
from calculators.fits.answers import ANOTHER_FIT, Pairs, judged, play
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import Kind

NEED_NOT_MEET = "The worn part of the stem may not meet the worn part of the guide, so this errs on the safe side."


_STEM = length(
    "Stem readings",
    3,
    25,
    why=gauges.VALVES,
    hint="Along the part that runs in the guide, one box for each.",
    read_by="micrometer",
)
_STEMS = optional(listed(_STEM, 1, 6, like="7.95 7.94 7.95"))
_GUIDE = length(
    "Guide readings",
    3,
    25,
    why=gauges.VALVES,
    hint="Both ends and the middle, one box for each.",
    read_by="small_bore_gauge",
)
_GUIDES = optional(listed(_GUIDE, 1, 6, like="8.02 8.01 8.03"))


class Exhaust(Row):
    """One exhaust valve."""

    exhaust_stem = _STEMS(
        shared_as="exhaust_stem", example="7.93 7.92 7.93; 7.93 7.93 7.92; 7.92 7.91 7.92; 7.93 7.92 7.93"
    )
    exhaust_guide = _GUIDES(
        shared_as="exhaust_guide", example="8.04 8.02 8.05; 8.04 8.02 8.05; 8.06 8.03 8.10; 8.05 8.02 8.06"
    )


class Inlet(Row):
    """One inlet valve."""

    inlet_stem = _STEMS(shared_as="inlet_stem")
    inlet_guide = _GUIDES(shared_as="inlet_guide")


class Guide(Question):
    """The guide's widest place less the stem's narrowest.

    The worn parts may not meet, so this errs on the safe side.
    """

    asks = "Is this valve guide worn, going by stem and guide?"
    tells = "Valve guide clearance"
    judges = True

    cylinders = gauges.cylinders()
    exhaust_valves = Table(Exhaust, each="Exhaust valve {}", most=12, count="cylinders")
    inlet_valves = Table(Inlet, each="Inlet valve {}", most=12, count="cylinders", refines="Inlet valves")
    guide_clearance_most = gauges.guide_limit()
    guide_error = gauges.small_bore_error()
    micrometer_error = gauges.micrometer_error()

    def answer(self) -> Answer:
        kind = Kind(
            key="guide_clearance",
            noun="guide clearance",
            formula="widest reading of the guide less narrowest reading of the stem",
            high=gauges.in_mm(self.guide_clearance_most),
            limits=("guide_clearance_most",),
        )
        fits, missing = play(
            (
                Pairs("exhaust", Exhaust.exhaust_guide, Exhaust.exhaust_stem, self.exhaust_valves),
                Pairs("inlet", Inlet.inlet_guide, Inlet.inlet_stem, self.inlet_valves),
            ),
            "valve",
            kind,
            ("guide", "stem"),
            (self.guide_error, self.micrometer_error),
        )
        figure = shown("Stem in its guide, cut open, the valve's head downwards", fits, _sketch, 112)
        return judged(fits, "Guides", figure, missing=missing, notes=(NEED_NOT_MEET, ANOTHER_FIT))


def _sketch(drawing: Drawing, said: str) -> None:
    for x in (100, 196):
        drawing.cut_box(x, 16, 34, 80)
    drawing.rectangle(134, 4, 48, 106, "spacer")
    drawing.text(158, 56, "stem")
    drawing.text(84, 56, "guide", anchor="end")
    dimension(drawing, (182, 86), (196, 86), 18)
    drawing.text(244, 86, said, "number", anchor="start")
