"""The piston in its bore."""

from __future__ import annotations

from calculators.bench import (
    Answer,
    Caution,
    Drawing,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    Row,
    Table,
    length,
    optional,
    read_by_instrument,
    shared,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.verdict import best_of
from calculators.fits import gauges
from calculators.fits.answers import ANOTHER_FIT, ONE_TEMPERATURE, enter, judged, not_crossed, one
from calculators.fits.bore import across_the_thrust
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import Fit, Kind, Part, found
from calculators.fits.verdicts import names_of

ONE_DEPTH = "If the engine maker says at which depth to measure the bore, type only that reading."


class Pair(Row):
    """One barrel and its piston."""

    bore_across = across_the_thrust()
    piston = optional(
        length(
            "Piston diameter",
            30,
            200,
            why=shared.ENGINES,
            hint="At the engine maker's gauge point: usually low on the skirt, square to the gudgeon pin.",
            example="79.93; 79.94; 79.90; 79.92",
            shared_as="piston",
            read_by="micrometer",
        )
    )


class Piston(Question):
    """From the mean bore across the thrust. If the maker names one depth, type only that reading."""

    asks = "What clearance has this piston in its bore?"
    tells = "Piston clearance"
    judges = True

    cylinders = gauges.cylinders()
    pairs = Table(Pair, each="Cylinder {}", most=12, count="cylinders")
    clearance_least = gauges.limit("Least piston clearance", CardFacts.limits.piston_clearance_least)
    clearance_most = gauges.limit("Greatest piston clearance", CardFacts.limits.piston_clearance)
    bore_error = gauges.bore_gauge_error()
    bore_scatter = gauges.bore_gauge_scatter()
    micrometer_error = gauges.micrometer_error()

    def answer(self) -> Answer:
        kind = Kind(
            key="piston_clearance",
            noun="piston clearance",
            formula="mean of the readings across the thrust less piston diameter",
            low=gauges.in_mm(self.clearance_least),
            high=gauges.in_mm(self.clearance_most),
            limits=("clearance_least", "clearance_most"),
        )
        not_crossed("clearance_least", "piston clearance", kind.low, kind.high)
        fits, missing = self._fits(kind)
        tight = [fit for fit in fits if fit.verdict == "out" and kind.low is not None and fit.best < kind.low]
        return judged(
            fits,
            "Pistons",
            shown("Piston and barrel cut open, seen along the gudgeon pin, the top upwards", fits, _sketch, 118),
            told=tight,
            warnings=(_seizes(tight),) if tight else (),
            missing=missing,
            notes=(ONE_TEMPERATURE, ONE_DEPTH, ANOTHER_FIT),
        )

    def _fits(self, kind: Kind) -> tuple[list[Fit], list[FieldError]]:
        fits, missing, errors = [], [], []
        for row, pair in enumerate(self.pairs, 1):
            if pair.piston is None:
                continue  # the bore was read for its own sake
            part = Part("cylinder", row)
            if pair.bore_across is None:
                missing.append(enter(Pair.bore_across, part.name, row))
                continue
            across = read_by_instrument(
                pair.bore_across, "mm", instrument="bore gauge", limit=self.bore_error, read_to=self.bore_scatter
            )
            mean = sum(across) / len(across)
            piston = one(pair.piston, "micrometer", self.micrometer_error)
            if best_of(piston) > best_of(mean):
                errors.append(FieldError(f"piston.{row}", f"Piston diameter of {part.name} must be at most its bore"))
                continue
            given = ("mean bore across the thrust", mean), ("piston", piston)
            fits.append(found(kind, part, mean - piston, *given))
        if errors:
            raise InputErrors(*errors)
        if not fits:
            raise Lacking(*(missing or [enter(Pair.piston, "cylinder 1", 1)]))
        return fits, missing


def _seizes(tight: list[Fit]) -> Caution:
    return Caution(
        "warning",
        f"{names_of(tight)}: a piston with too little clearance seizes when hot, and an engine that seizes on the road "
        "can kill. Do not fit it.",
    )


def _sketch(drawing: Drawing, said: str) -> None:
    for x in (44, 216):
        drawing.cut_box(x, 6, 20, 106)
    drawing.rectangle(64, 14, 140, 86, "part", round=4)
    for y in (22, 30, 38):
        drawing.line(64, y, 204, y, "thin")
    drawing.circle(134, 64, 11, "space")
    drawing.text(134, 88, "piston")
    dimension(drawing, (204, 84), (216, 84))
    drawing.text(242, 76, said, "number", anchor="start")
    drawing.text(242, 94, "both sides", anchor="start")
