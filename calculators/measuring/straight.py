"""Whether each barrel stands straight on its case."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from calculators.bench import (
    DECISION,
    Answer,
    Caution,
    Column,
    FieldError,
    Finding,
    FoundPart,
    InputErrors,
    Question,
    ResultTable,
    Source,
    TableRow,
    Value,
    expanded,
    magnitude_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.entries import length
from calculators.bench.instruments import Expanded
from calculators.bench.units import printed
from calculators.bench.verdict import verdict_on
from calculators.bench.words import listed as in_words
from calculators.formulas.decision_rule import Verdict
from calculators.measuring.crowns import FINGERS
from calculators.measuring.depths import FOLD, PLACES, PLANE, Barrel, Depths

_TILT = "2 a × bore ÷ circle, a = 2/n Σ depth cos θ along the pin; for the rock sin θ in place of cos θ; U = k u"
_STANDS = {"in": "straight", "out": "crooked", "too close to call": "too close to call"}


@dataclass(frozen=True, slots=True)
class Stands:
    """How one barrel stands, [mm]: its tilt across the bore along the pin, deeper at the first point is plus."""

    barrel: Barrel
    tilt: Expanded
    rock: float
    verdict: Verdict


class Straight(Depths, Question):
    """From the tilt along the gudgeon pin, with the same readings as the decks.

    A piston rocks about its pin but not along it, so a tilt along it comes from barrel, case or rod.
    """

    asks = "Is each barrel straight?"
    tells = "Tilt of the barrels"
    judges = True

    bore = shared.bore()
    tilt_allowed = card_entry(
        CardFacts.compression.barrel_tilt,
        "Allowed tilt",
        exact=True,
        hint="Of a barrel: across the bore, along the gudgeon pin.",
        usual="0.05 mm",
        shared_as="tilt_allowed",
        said="{} allowed",
    )
    circle = optional(
        length(
            "Diameter of the circle of points",
            10,
            200,
            why="within the bore",
            exact=True,
            hint="Empty: the points are close to the edge of the bore.",
            shared_as="points_circle",
            refines=FOLD,
            said="points on {}",
        )
    )

    def answer(self) -> Answer:
        if self.circle is not None and magnitude_in(self.circle, "mm") > magnitude_in(self.bore, "mm"):
            raise InputErrors(FieldError("circle", "Diameter of the circle of points must be at most the bore"))
        found = [self._stands(barrel) for barrel in self.barrels]
        headline = _headline(found)
        return Answer(
            headline=headline,
            says=f"{headline}.",
            drawing=self.seen([_STANDS[one.verdict] for one in found]),
            values=(self._worst(found),),
            warnings=(FINGERS, *self._warnings(found), *self.off_plane()),
            tables=(self._table(found),),
            findings=(
                Finding(
                    key="straight",
                    what="tilt of the barrels",
                    gloss="a barrel that does not stand straight",
                    parts=tuple(
                        FoundPart(f"barrel {one.barrel.number}", quantity(abs(one.tilt.best), "mm"), one.verdict)
                        for one in found
                    ),
                    units=("mm", "in"),
                    places=3,
                    high=self.tilt_allowed,
                    limits=("tilt_allowed",),
                ),
            ),
            notes=("The gauge's own error is the same at every point, so it does not affect a tilt.",),
        )

    def _stands(self, barrel: Barrel) -> Stands:
        circle = self.bore if self.circle is None else self.circle
        wider = 2 * magnitude_in(self.bore, "mm") / magnitude_in(circle, "mm")
        tilt = expanded(wider * (barrel.plane.along + self.doubt(len(barrel.depths), math.sqrt(2))))
        size = tilt.value if tilt.best >= 0 else -tilt.value
        verdict = verdict_on(size, high=magnitude_in(self.tilt_allowed, "mm"))
        return Stands(barrel, tilt, wider * barrel.plane.across, verdict)

    def _worst(self, found: list[Stands]) -> Value:
        worst = max(found, key=lambda one: abs(one.tilt.best))
        return Value(
            key="worst_tilt",
            label="Largest tilt along the pin",
            quantity=quantity(worst.tilt.value if worst.tilt.best >= 0 else -worst.tilt.value, "mm"),
            units=(self.symbol,),
            places=PLACES[self.symbol],
            formula=_TILT,
            source=PLANE,
            given=(
                ("barrel", worst.barrel.number),
                ("deeper at the", "pulley end" if worst.tilt.best >= 0 else "end away from the pulley"),
                ("a", f"{abs(worst.barrel.plane.along):.3g} mm"),
                ("bore", self.bore),
                ("circle", self.bore if self.circle is None else self.circle),
                ("allowed", self.tilt_allowed),
                *worst.tilt.certainty("mm"),
            ),
        )

    def _warnings(self, found: list[Stands]) -> Iterator[Caution]:
        if crooked := _which(found, "out"):
            it, its = ("them", "their") if len(crooked) > 1 else ("it", "its")
            yield Caution(
                "notice",
                f"{_barrels(crooked).capitalize()} {'stand' if len(crooked) > 1 else 'stands'} crooked, or {its} "
                f"connecting rod is bent. Clean under {it}, clamp {it} again and measure again. "
                "If it stays so, a machine shop must measure case and rod.",
            )
        if doubtful := _which(found, "too close to call"):
            allowed = printed(self.tilt_allowed, self.symbol, PLACES[self.symbol])
            yield Caution(
                "notice",
                f"The tilt of {_barrels(doubtful)} is too close to {allowed} to call. "
                "Take more points, or a finer gauge.",
            )

    def _table(self, found: list[Stands]) -> ResultTable:
        places = PLACES[self.symbol]
        return ResultTable(
            key="barrels",
            title="Each barrel",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                Column(key="tilt", label="Tilt along the pin", unit=self.symbol, places=places),
                Column(key="verdict", label="Stands", strong=True),
                Column(key="rock", label="Rock across the pin", unit=self.symbol, places=places),
                Column(key="points", label="Points"),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        str(one.barrel.number),
                        quantity(one.tilt.value, "mm"),
                        _STANDS[one.verdict],
                        quantity(one.rock, "mm"),
                        len(one.barrel.depths),
                    )
                )
                for one in found
            ),
            formula=f"{_TILT}. Plus is deeper at the first point, or a quarter turn on from it. "
            "Straight: |tilt| + U at most what is allowed; crooked: |tilt| − U above it",
            source=Source(f"{PLANE.name}; {DECISION}"),
            given=(("allowed", self.tilt_allowed), ("bore", self.bore)),
        )


def _which(found: list[Stands], verdict: Verdict) -> list[int]:
    return [one.barrel.number for one in found if one.verdict == verdict]


def _barrels(numbers: list[int]) -> str:
    return f"barrel{'s' if len(numbers) > 1 else ''} {in_words(numbers)}"


def _headline(found: list[Stands]) -> str:
    if crooked := _which(found, "out"):
        return f"{_barrels(crooked).capitalize()} {'stand' if len(crooked) > 1 else 'stands'} crooked"
    if doubtful := _which(found, "too close to call"):
        return f"{_barrels(doubtful).capitalize()}: too close to call"
    return "No barrel stands crooked" if len(found) > 1 else "The barrel stands straight"
