"""What each chamber holds, from what the burette read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    Row,
    Source,
    Table,
    Value,
    Worked,
    expanded,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.entries import volume
from calculators.bench.units import figures, magnitude_in, spread_alone
from calculators.bench.words import listed as in_words
from calculators.measuring.filled import LIQUID_BURNS, Held, far_apart, in_words_of, volumes_table
from calculators.measuring.filling import (
    BY_BURETTE,
    EXPANSION_NOTE,
    PLACES,
    POURED,
    REPEATS,
    Filling,
    fills_of,
    readings,
    scatter_of,
    unit_of,
)
from calculators.measuring.fills_drawing import fills_chart

FEW = 10
"""Effective degrees of freedom below which the ± is mostly due to too few fills."""
_ALIKE = "least and most fill are corrected in the same way"
BY_SHAPE = Source("its dimensions: solid geometry", "identity")


class Chamber(Row):
    """What the burette read of one chamber."""

    fill = readings(
        "Burette readings",
        "At the end of each fill, one box for each.",
        example="49.2 49.1 49.0; 49.5 49.5 49.6; 48.2 48.3 48.1; 48.6 48.6 48.7",
    )
    fill_start = readings("Starting marks", "Empty: each fill starts at 0. Otherwise one for all, or one for each.")


class Chambers(Filling, Question):
    """With valves and plug fitted, the plate flat on the sealing face and no bubble left.

    A chamber that was not filled is taken from its dimensions if known, else left out.
    """

    asks = "What does each chamber hold?"
    tells = "Chamber volumes"
    works_out = ("chamber",)

    cylinders = shared.cylinders()
    fills = Table(
        Chamber,
        each="Cylinder {}",
        most=12,
        count="cylinders",
        hint="Chamber up, plug and valves fitted, plate greased on. Fill each chamber three times or more.",
    )
    shape = optional(
        volume(
            "Chamber volume by its dimensions",
            1,
            2000,
            why="engines of this kind",
            hint="For a chamber that was not filled. Empty: not known.",
            shared_as="chamber_by_shape",
            refines="A chamber without a fill",
        )
    )

    def answer(self) -> Answer:
        fills = fills_of(((of.fill, of.fill_start) for of in self.fills), "fill")
        scatter, pool = scatter_of(fills)
        found = self._held(fills, scatter, pool)
        symbol = unit_of(of.fill for of in self.fills)
        best = [in_words_of(held.judged.best, symbol).removesuffix(f" {symbol}") for held in found]
        widest = magnitude_in(quantity(max(held.judged.spread for held in found), "cm³"), symbol)
        worst = f"± {spread_alone(widest, PLACES[symbol])} {symbol}"
        headline = f"{' · '.join(best)} {symbol}"
        if len(headline) > 60:
            headline = f"{min(best, key=float)} to {max(best, key=float)} {symbol}"
        numbers = [held.number for held in found]
        whose = f"The chamber{'s' if len(found) > 1 else ''} of cylinder{'s' if len(found) > 1 else ''}"
        return Answer(
            headline=headline,
            says=f"{whose} {in_words(numbers)} {'hold' if len(found) > 1 else 'holds'} {in_words(best)} {symbol}, "
            f"{f'each {worst} or less' if len(found) > 1 else worst}.",
            drawing=self._chart(found, symbol),
            values=(*self._volumes(found, symbol), *_scatter(scatter, pool.degrees, symbol)),
            warnings=tuple(self._warnings(found, pool.degrees, symbol)),
            tables=(
                volumes_table("volumes", "Each chamber", found, symbol, "from dimensions", f"{BY_BURETTE}; {_ALIKE}"),
            ),
            notes=tuple(self._notes(found, pool.degrees)),
            worked=tuple(Worked(name=f"chamber.{held.number}", value=quantity(held.value, "cm³")) for held in found),
        )

    def _held(self, fills: tuple[tuple[float, ...], ...], scatter: float, pool: Any) -> list[Held]:
        found, errors = [], []
        for number, read in enumerate(fills, 1):
            if not read and self.shape is None:
                continue
            poured = self.poured(read, scatter, pool) if read else None
            value = poured.value if poured else number_in(self.shape, "cm³")
            held = Held(number, value, expanded(value), poured)
            if held.judged.best <= 0:
                message = f"Burette readings of cylinder {number} must be more than the hole in the plate holds"
                errors.append(FieldError(f"fill.{number}", message))
            found.append(held)
        if errors:
            raise InputErrors(*errors)
        if not found:
            raise Lacking(FieldError("fill.1", "Enter the burette readings of one chamber, in cubic centimetres"))
        return found

    def _volumes(self, found: list[Held], symbol: str) -> Iterator[Value]:
        for held in found:
            yield Value(
                key=f"chamber_{held.number}",
                label=f"Chamber volume of cylinder {held.number}",
                quantity=quantity(held.judged.value, "cm³"),
                units=(symbol,),
                places=PLACES[symbol],
                formula=BY_BURETTE if held.poured else "as worked out from its dimensions",
                source=POURED if held.poured else BY_SHAPE,
                given=((*self.certainty(held.poured), *held.judged.certainty("cm³")) if held.poured else ()),
            )

    def _chart(self, found: list[Held], symbol: str) -> Any:
        worth = magnitude_in(quantity(1.0, "cm³"), symbol)
        return fills_chart(
            tuple(held.judged.best * worth for held in found),
            tuple(held.judged.spread * worth for held in found),
            tuple(tuple(fill * worth for fill in held.poured.fills) if held.poured else () for held in found),
            symbol,
            PLACES[symbol],
            tuple(held.number for held in found),
        )

    def _warnings(self, found: list[Held], degrees: int, symbol: str) -> Iterator[Caution]:
        if self.liquid in ("spirit", "paraffin"):
            yield LIQUID_BURNS
        for held in found:
            yield from far_apart(f"chamber of cylinder {held.number}", held.poured, symbol)
        if not degrees and any(held.poured for held in found):
            yield ONCE

    def _notes(self, found: list[Held], degrees: int) -> Iterator[str]:
        few = [held.judged for held in found if held.judged.degrees < FEW]
        if few:
            yield (
                "So few fills say little about their scatter: the ± is "
                f"{figures(max(one.factor for one in few), 2)} u in place of 2 u. More fills of each chamber narrow it."
            )
        if degrees:
            yield ("The scatter comes from all fills together; a chamber filled once uses the scatter of the others.")
        yield (
            "Burette and thermometer have the same error in every volume: it adds up in chamber and crown of one "
            "cylinder, and cancels between cylinders."
        )
        yield EXPANSION_NOTE


ONCE = Caution(
    "notice", "No chamber was filled twice, so the ± does not allow for bubbles and leaks. Fill each three times."
)


def _scatter(scatter: float, degrees: int, symbol: str) -> Iterator[Value]:
    if degrees:
        yield Value(
            key="scatter",
            label="Scatter of one fill",
            quantity=quantity(scatter, "cm³"),
            units=(symbol,),
            places=PLACES[symbol] + 1,
            formula="s = √(Σ (fill − mean of its chamber)² ÷ ν), ν = number of fills − number of chambers filled",
            source=REPEATS,
            given=(("ν", degrees),),
        )
