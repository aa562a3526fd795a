"""The gap between a ring's ends, cold as measured and hot as it will run."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from calculators._kinds import Measure, Number
from calculators._units import figures, magnitude_in, plain, reading
from calculators._verdict import best_of, expanded_of, verdict_on
from calculators.bench import (
    Answer,
    Caution,
    Drawing,
    Entry,
    Lacking,
    Quantity,
    Question,
    Row,
    Source,
    Table,
    Value,
    length,
    listed,
    measure,
    number,
    optional,
    quantity,
    shared,
)
from calculators.bench.entries import Facts
from calculators.fits import gauges
from calculators.fits.answers import enter, judged, not_crossed, several
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import WORSE, Fit, Kind, Part, found, names_of
from calculators.formulas.worn_fit import closing_gap

HOT = "Ring and barrel when hot"
CLOSED_RING = Source(
    "plane geometry of a closed ring; growth with heat as Callister, 3rd edition, Table B.6", "identity"
)
CLOSED_BY = "π · bore · (ring expansion · ring rise − barrel expansion · barrel rise)"

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
                hint="All rings of a piston in one line, the top one first; square in its barrel, below the wear.",
                example="0.48 0.44 0.40; 0.46 0.45 0.41; 0.62 0.55 0.48; 0.50 0.46 0.31",
                shared_as="end_gap",
                read_by="feelers",
            ),
            1,
            6,
            like="0.42 0.40 0.38",
        )
    )


def _temperature(label: str, low: float, high: float, why: str, usual: str, hint: str = "") -> Entry[Quantity]:
    return measure(label, "°C", low, high, why=why, exact=True, hint=hint, usual=usual, refines=HOT)


def _expansion(label: str, hint: str) -> Entry[float]:
    return number(label, 1, 40, why="metals", hint=hint, usual="11.4", refines=HOT)


class RingGap(Question):
    """Each ring and its barrel at one temperature all round; ring ends must not meet when hot.

    The temperatures are guesses, and what heat closes is known no better than they are.
    """

    asks = "Is this ring's end gap right, cold and hot?"

    cylinders = gauges.cylinders()
    bore = optional(shared.bore())
    rings = Table(Rings, each="Cylinder {}", most=12, count="cylinders")
    gap_least = gauges.limit("Least ring end gap", "rings.end_gap_least")
    gap_most = gauges.limit("Greatest ring end gap", "limits.ring_end_gap")
    ring_temperature = _temperature(
        "Temperature of the hottest ring",
        0,
        500,
        "rings that still spring",
        "250 °C",
        "Common practice: 250 °C for an air-cooled engine under load.",
    )
    barrel_temperature = _temperature(
        "Temperature of the barrel then",
        0,
        400,
        "barrels that still hold oil",
        "150 °C",
        "The cooler it is, the more the gap closes.",
    )
    cold_temperature = _temperature("Temperature when measured", -20, 60, "workshops", "20 °C")
    ring_expansion = _expansion("Expansion of the ring in millionths per K", "Grey iron 11.4, steel 11.7.")
    barrel_expansion = _expansion("Expansion of the barrel in millionths per K", "Grey iron 11.4, aluminium 23.6.")
    temperature_error: Entry[float] = Entry(
        "Error limit of either temperature",
        Number(low=0, high=200, why="a wider guess says nothing", whole=False, plus_minus=True),
        Facts(
            hint="Plus or minus, in degrees Celsius; 20 is common practice.",
            usual="20",
            refines=HOT,
            said="temperatures ± {} K",
        ),
    )
    expansion_error: Entry[Quantity] = Entry(
        "Error limit of either expansion",
        Measure(own="%", low=0, high=50, why="a wider guess says nothing", exact=True, plus_minus=True),
        Facts(
            hint="Plus or minus, of its figure; 5 % is common practice.",
            usual="5 %",
            refines=HOT,
            said="expansions ± {}",
        ),
    )
    feeler_error = gauges.feeler_error()

    def answer(self) -> Answer:
        least, most = gauges.in_mm(self.gap_least), gauges.in_mm(self.gap_most)
        not_crossed("gap_least", "ring end gap", least, most)
        closed = self._closed()
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
            values=() if closed is None else (self._closed_value(closed), _hot_gap(narrowest, closed)),
        )

    def _fits(self, least: float | None, most: float | None, closed: Any) -> list[Fit]:
        narrow = Kind(
            key="narrow_gap",
            noun="narrowest end gap",
            formula="narrowest of the barrel's rings, against the least end gap or what heat closes, whichever is "
            f"wider: {CLOSED_BY}",
            source=CLOSED_RING,
            low=least,
        )
        wide = Kind(key="wide_gap", noun="widest end gap", formula="widest of the barrel's rings", high=most)
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

    def _closed(self) -> Any:
        """Return what heat closes, with what temperatures and expansions leave uncertain; None without a bore."""
        if self.bore is None:
            return None
        ring = self._growth(
            self.ring_expansion, self.ring_temperature, "Expansion of the ring", "Temperature of the ring"
        )
        barrel = self._growth(
            self.barrel_expansion, self.barrel_temperature, "Expansion of the barrel", "Temperature of the barrel"
        )
        closed = closing_gap(magnitude_in(self.bore, "mm"), ring, barrel)
        return closed if best_of(closed) > 0 else 0.0

    def _growth(self, millionths: float, temperature: Quantity, expands: str, heats: str) -> tuple[Any, Any]:
        rise = magnitude_in(temperature, "°C") - magnitude_in(self.cold_temperature, "°C")
        share = magnitude_in(self.expansion_error, "%") / 100
        return (
            reading(millionths * 1e-6, share * millionths * 1e-6, expands),
            reading(rise, self.temperature_error, heats),
        )

    def _closed_value(self, closed: Any) -> Value:
        return Value(
            key="closed",
            label="End gap that heat closes",
            quantity=quantity(closed, "mm"),
            units=("mm",),
            places=3,
            formula=f"{CLOSED_BY}; not below nought",
            source=Source("Callister, 3rd edition, Table B.6; the temperatures are common practice, no source"),
            given=(
                ("bore", self.bore),
                ("ring", self.ring_temperature),
                ("barrel", self.barrel_temperature),
                ("measured at", self.cold_temperature),
                ("expansion of the ring", f"{self.ring_expansion:g} millionths per K"),
                ("expansion of the barrel", f"{self.barrel_expansion:g} millionths per K"),
                ("temperatures within", f"±{plain(self.temperature_error)} K"),
                ("expansions within", f"±{plain(magnitude_in(self.expansion_error, '%'))}%"),
            ),
        )


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
        label="Left of the narrowest gap when hot",
        quantity=quantity(narrowest - closed, "mm"),
        units=("mm",),
        places=3,
        formula="narrowest end gap less what heat closes; below nought the ends meet",
        source=CLOSED_RING,
        given=(("narrowest end gap", quantity(narrowest, "mm")), ("closed by heat", quantity(closed, "mm"))),
    )


def _butts(butting: list[Fit]) -> Caution:
    return Caution(
        "warning",
        f"{names_of(butting)}: a ring whose ends meet when hot scores the barrel and can seize the engine. Open its "
        "gap, or find out why it is so narrow.",
    )


def _known_too_badly(by_heat: list[Fit], closed: Any) -> Caution:
    return Caution(
        "notice",
        f"{names_of(by_heat)}: too close to call, and no pass. How far heat closes the gap is known to ± "
        f"{figures(expanded_of(closed), 3)} mm only. A finer gauge does not help: type temperatures that you know "
        "better, or ask the ring maker.",
    )


def _sketch(drawing: Drawing, said: str) -> None:
    drawing.circle(64, 60, 52, "part")
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
