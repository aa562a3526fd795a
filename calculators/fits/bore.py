"""The bores of the barrels: worn, tapered, out of round."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    Answer,
    Entry,
    FieldError,
    Figure,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    Row,
    Source,
    Table,
    Value,
    Worked,
    length,
    listed,
    optional,
    quantity,
    read_by_instrument,
    shared,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.verdict import best_of
from calculators.fits import gauges
from calculators.fits.answers import ONE_TEMPERATURE, enter, judged
from calculators.fits.bores_drawing import bores_figure
from calculators.fits.drawing import strips
from calculators.fits.fit import Fit, Kind, Part, found
from calculators.formulas.worn_fit import gap_of_wear, out_of_round_pair, taper_pair

RING = Source("plane geometry: a circle's circumference", "identity")
THREE_LOBES = (
    "A two-point gauge cannot see a three-lobed bore. Turn it round the whole bore; the worst place may lie between "
    "your two axes."
)

AS_DIAMETERS = "Taper and out-of-round are differences in diameter; roundness to ISO 1101 is in radius, half as much."
GOES_ON = "Once every barrel is measured, volumes use the mean of all readings."


def across_the_thrust() -> Entry[tuple[Quantity, ...] | None]:
    """Ask for the bore square to the gudgeon pin."""
    return _axis(
        "Bore across the thrust",
        hint=f"Square to the gudgeon pin. {gauges.TRAVEL}.",
        example="80.06 80.04 80.02; 80.05 80.04 80.02; 80.11 80.07 80.04; 80.06 80.05 80.03",
        shared_as="bore_across",
    )


def _axis(label: str, **facts: Any) -> Entry[tuple[Quantity, ...] | None]:
    of = length(label, 30, 200, why=shared.ENGINES, read_by="bore_gauge", **facts)
    return optional(listed(of, 1, 6, like="80.06 80.04 80.02"))


class Barrel(Row):
    """What the bore gauge read of one barrel."""

    bore_across = across_the_thrust()
    bore_along = _axis(
        "Bore along the pin",
        hint="At the same depths.",
        example="80.04 80.03 80.02; 80.04 80.03 80.02; 80.08 80.05 80.03; 80.03 80.03 80.02",
        shared_as="bore_along",
    )


Axes = tuple[tuple[Any, ...], tuple[Any, ...]]
"""Across the thrust and along the pin, the top first, in mm."""


class Bore(Question):
    """From diameters on two axes at the same depths; does not see scores, cracks or a three-lobed bore.

    Taper and out-of-round are differences in diameter; roundness to ISO 1101 is in radius, half as much.
    """

    asks = "Is this bore worn out?"
    tells = "Wear of the bores"
    judges = True
    works_out = ("bore",)

    cylinders = gauges.cylinders()
    bore_new = optional(
        card_entry(
            CardFacts.dimensions.bore,
            "Bore when new",
            exact=True,
            hint="The size to which the barrels were last finished, not the one that is measured now.",
            stands_in=True,
            said="{} when new",
        )
    )
    barrels = Table(Barrel, each="Cylinder {}", most=12, count="cylinders")
    wear_most = gauges.limit("Greatest bore wear", CardFacts.limits.bore_wear)
    taper_most = gauges.limit("Greatest bore taper", CardFacts.limits.bore_taper, hint="A difference in diameter.")
    round_most = gauges.limit(
        "Greatest out-of-round", CardFacts.limits.bore_out_of_round, hint="A difference in diameter."
    )
    bore_error = gauges.bore_gauge_error()
    bore_scatter = gauges.bore_gauge_scatter()

    def answer(self) -> Answer:
        bores, missing = self._bores()
        new = gauges.in_mm(self.bore_new)
        fits = [fit for row, axes in bores.items() for fit in self._fits(row, axes, new)]
        return judged(
            fits,
            "Bores",
            _cut_open(bores, new),
            missing=missing,
            values=_gap_that_wear_opens(fits),
            figures=(strips(fits),),
            notes=(ONE_TEMPERATURE, THREE_LOBES, AS_DIAMETERS, GOES_ON),
            worked=self._mean(bores),
        )

    def _bores(self) -> tuple[dict[int, Axes], list[FieldError]]:
        bores, missing, errors = {}, [], []
        for row, barrel in enumerate(self.barrels, 1):
            across, along = barrel.bore_across, barrel.bore_along
            if across is None or along is None:
                if across is not None or along is not None:
                    empty = Barrel.bore_across if across is None else Barrel.bore_along
                    missing.append(enter(empty, f"cylinder {row}", row))
            elif len(across) != len(along):
                words = f"Bore along the pin of cylinder {row} must have {len(across)} entries, as across the thrust"
                errors.append(FieldError(f"bore_along.{row}", words))
            else:
                bores[row] = self._read(across), self._read(along)
        if errors:
            raise InputErrors(*errors)
        if not bores:
            raise Lacking(*(missing or [enter(Barrel.bore_across, "cylinder 1", 1)]))
        return bores, missing

    def _read(self, readings: tuple[Quantity, ...]) -> tuple[Any, ...]:
        return read_by_instrument(
            readings, "mm", instrument="bore gauge", limit=self.bore_error, read_to=self.bore_scatter
        )

    def _fits(self, row: int, axes: Axes, new: float | None) -> list[Fit]:
        part, (across, along), fits = Part("cylinder", row), axes, []
        if new is not None:
            widest = max(across + along, key=best_of)
            given = ("greatest reading", widest), ("bore when new", new)
            fits.append(found(self._wear, part, widest - new, *given))
        if len(across) > 1:  # one depth says nothing of another
            more, less = taper_pair(across, along, best_of)
            fits.append(found(self._taper, part, more - less, ("greater reading", more), ("lesser reading", less)))
        more, less = out_of_round_pair(across, along, best_of)
        fits.append(found(self._round, part, more - less, ("greater reading", more), ("lesser reading", less)))
        return fits

    @property
    def _wear(self) -> Kind:
        formula = "greatest reading of the bore less bore when new"
        return Kind(
            key="wear", noun="bore wear", formula=formula, high=gauges.in_mm(self.wear_most), limits=("wear_most",)
        )

    @property
    def _taper(self) -> Kind:
        formula = "greatest less least reading on one axis; the axis with more of it"
        return Kind(
            key="taper", noun="bore taper", formula=formula, high=gauges.in_mm(self.taper_most), limits=("taper_most",)
        )

    @property
    def _round(self) -> Kind:
        formula = "difference of the two axes at one depth; the depth with most of it"
        return Kind(
            key="out_of_round",
            noun="bore out-of-round",
            formula=formula,
            high=gauges.in_mm(self.round_most),
            limits=("round_most",),
        )

    def _mean(self, bores: dict[int, Axes]) -> tuple[Worked, ...]:
        """Return the mean bore once every barrel is measured: what volumes are worked out with."""
        if len(bores) < self.cylinders:
            return ()
        readings = [reading for axes in bores.values() for axis in axes for reading in axis]
        return (Worked(name="bore", value=quantity(sum(readings) / len(readings), "mm")),)


def _gap_that_wear_opens(fits: list[Fit]) -> tuple[Value, ...]:
    wears = [fit for fit in fits if fit.kind.key == "wear"]
    if not wears:
        return ()
    most = max(wears, key=lambda fit: fit.best)
    return (
        Value(
            key="gap_of_wear",
            label=f"Wear opens the ring end gap of {most.part.name} by",
            quantity=quantity(gap_of_wear(most.number), "mm"),
            places=3,
            formula="π · bore wear: how much wider the gap is at the top of the travel than in the unworn bore",
            source=RING,
            given=(("bore wear", quantity(most.number, "mm")),),
        ),
    )


def _cut_open(bores: dict[int, Axes], new: float | None) -> Figure:
    best = tuple(
        (row, tuple(map(best_of, across)), tuple(map(best_of, along))) for row, (across, along) in bores.items()
    )
    least = min(reading for _, across, along in best for reading in across + along)
    return bores_figure(best, least if new is None else new, new is not None)
