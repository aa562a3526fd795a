"""The gap between a ring's ends, cold as measured and hot as it will run."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from calculators.bench import (
    GEOMETRY,
    Answer,
    Caution,
    Drawing,
    Lacking,
    Question,
    Row,
    Table,
    Value,
    length,
    listed,
    number_in,
    optional,
    quantity,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.drawing import around
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, expanded_of, verdict_on
from calculators.fits import gauges
from calculators.fits.answers import enter, judged, not_crossed, several
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import WORSE, Fit, Kind, Part, found
from calculators.fits.verdicts import names_of

BELOW_THE_WEAR = "At the worn top of the barrel a ring's gap is wider by π times the wear; measure it below."


class Rings(Row):
    """The rings of one piston, in their barrel."""

    end_gap = optional(
        listed(
            length(
                "Ring end gaps",
                0,
                10,
                why=gauges.GAP,
                hint="All rings of a piston, the top one first; square in its barrel, below the wear.",
                example="0.48 0.44 0.40; 0.46 0.45 0.41; 0.62 0.55 0.48; 0.50 0.46 0.31",
                shared_as="end_gap",
                read_by="feelers",
            ),
            1,
            6,
            like="0.42 0.40 0.38",
        )
    )


class RingGap(Question):
    """Compares the gap with the maker's limits and with what heat closes.

    What heat closes is only as sure as the temperatures guessed.
    """

    asks = "Is this ring's end gap right, cold and hot?"
    tells = "Ring end gaps"
    judges = True

    cylinders = gauges.cylinders()
    closed = optional(
        length(
            "End gap that heat closes",
            0,
            10,
            why=gauges.GAP,
            hint="Empty if not known: then only the maker's limits count.",
            shared_as="closed_by_heat",
            said="heat closes {}",
        )
    )
    rings = Table(Rings, each="Cylinder {}", most=12, count="cylinders")
    gap_least = gauges.limit("Least ring end gap", CardFacts.rings.end_gap_least)
    gap_most = gauges.limit("Greatest ring end gap", CardFacts.limits.ring_end_gap)
    feeler_error = gauges.feeler_error()

    def answer(self) -> Answer:
        least, most = gauges.in_mm(self.gap_least), gauges.in_mm(self.gap_most)
        not_crossed("gap_least", "ring end gap", least, most)
        closed = None if self.closed is None else number_in(self.closed, "mm")
        fits = self._fits(least, most, closed)
        butting = [fit for fit in fits if fit.kind.key == "narrow_gap" and fit.verdict == "out"]
        by_heat = [fit for fit in fits if fit.verdict == "too close to call" and _kept_if_heat_were_known(fit)]
        narrowest = min((fit.number for fit in fits), key=best_of)
        return judged(
            fits,
            "Ring end gaps",
            shown("A ring in its barrel, seen from the top, and its ends", fits, _sketch, 118),
            told=(*butting, *by_heat),
            warnings=(
                *((_butts(butting),) if butting else ()),
                *((_known_too_badly(by_heat, closed),) if by_heat else ()),
            ),
            notes=(BELOW_THE_WEAR,),
            values=() if closed is None else (_hot_gap(narrowest, closed),),
        )

    def _fits(self, least: float | None, most: float | None, closed: Any) -> list[Fit]:
        narrow = Kind(
            key="narrow_gap",
            noun="narrowest end gap",
            formula="narrowest of the barrel's rings, against the least end gap or what heat closes, if that is wider",
            low=least,
            limits=("gap_least", "closed"),
        )
        wide = Kind(
            key="wide_gap",
            noun="widest end gap",
            formula="widest of the barrel's rings",
            high=most,
            limits=("gap_most",),
        )
        fits = []
        for row, rings in enumerate(self.rings, 1):
            if rings.end_gap is None:
                continue
            gaps, part = several(rings.end_gap, "feelers", self.feeler_error), Part("cylinder", row)
            fit = found(narrow, part, min(gaps, key=best_of))
            fits += [fit if closed is None else _held_against_heat(fit, closed)]
            fits += [found(wide, part, max(gaps, key=best_of))]
        if not fits:
            raise Lacking(enter(Rings.end_gap, "cylinder 1", 1))
        return fits


def _held_against_heat(fit: Fit, closed: Any) -> Fit:
    """Return a ring's narrowest gap with what heat closes for a limit too, which is itself not known exactly."""
    by_heat = verdict_on(fit.number - closed, low=0.0)
    heat = best_of(closed)
    least = heat if fit.kind.low is None else max(heat, fit.kind.low)
    return replace(
        fit,
        kind=replace(fit.kind, low=least),
        given=(("closed by heat", quantity(closed, "mm")),),
        verdict=max(fit.verdict, by_heat, key=WORSE.index),
    )


def _kept_if_heat_were_known(fit: Fit) -> bool:
    return verdict_on(fit.number, fit.kind.low, fit.kind.high) == "in"


def _hot_gap(narrowest: Any, closed: Any) -> Value:
    return Value(
        key="hot_gap",
        label="Narrowest gap left when hot",
        quantity=quantity(narrowest - closed, "mm"),
        places=3,
        formula="narrowest end gap less what heat closes; below zero the ends meet",
        source=GEOMETRY,
        given=(("narrowest end gap", quantity(narrowest, "mm")), ("closed by heat", quantity(closed, "mm"))),
    )


def _butts(butting: list[Fit]) -> Caution:
    return Caution(
        "warning",
        f"{names_of(butting)}: a ring whose ends meet when hot scores the barrel and can seize the engine, which can "
        "kill on the road. Open its gap, or find out why it is so narrow.",
    )


def _known_too_badly(by_heat: list[Fit], closed: Any) -> Caution:
    return Caution(
        "notice",
        f"{names_of(by_heat)}: too close to call, which is not a pass. Limit heat closes the gap is known to ± "
        f"{figures(expanded_of(closed), 3)} mm only. A finer gauge does not help: work out again what heat closes, "
        "with better temperatures, or ask the ring maker.",
    )


def _sketch(drawing: Drawing, said: str) -> None:
    drawing.cut([around(64, 60, 54, 10 * step) for step in range(36)])
    drawing.circle(64, 60, 44, "space")
    drawing.arc(64, 60, 40, 100, 340, "blade")
    drawing.line(106, 50, 172, 40, "thin")
    drawing.line(106, 70, 172, 80, "thin")
    drawing.rectangle(172, 44, 62, 32, "part")
    drawing.rectangle(264, 44, 62, 32, "part")
    dimension(drawing, (234, 92), (264, 92), 22)
    drawing.text(249, 26, said, "number")
    drawing.text(203, 60, "ring")
    drawing.text(295, 60, "ring")
