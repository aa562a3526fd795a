"""How far below its barrel's top each piston stands."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.bench import (
    Answer,
    Caution,
    Column,
    Question,
    ResultTable,
    TableRow,
    Value,
    Worked,
    quantity,
)
from calculators.bench.units import figures, magnitude_in, spread_alone
from calculators.bench.words import listed as in_words
from calculators.measuring.crowns import FINGERS
from calculators.measuring.depths import FEW, PLACES, PLANE, Depths


class Decks(Depths, Question):
    """With the barrels clamped down without spacers and each piston at its own top dead centre.

    A piston rocks across its gudgeon pin; the mean of evenly spaced points removes that.
    """

    asks = "How far below the top of its barrel is each piston?"
    tells = "Deck heights"
    works_out = ("deck",)

    def answer(self) -> Answer:
        symbol, places = self.symbol, PLACES[self.symbol]
        best = [self.text(barrel.judged.best).removesuffix(f" {symbol}") for barrel in self.barrels]
        widest = magnitude_in(quantity(max(barrel.judged.spread for barrel in self.barrels), "mm"), symbol)
        worst = f"± {spread_alone(widest, places)} {symbol}"
        several = len(self.barrels) > 1
        headline = f"{' · '.join(best)} {symbol}"
        if len(headline) > 60:
            headline = f"{min(best, key=_number)} to {max(best, key=_number)} {symbol}"
        return Answer(
            headline=headline,
            says=f"The deck{'s are' if several else ' is'} {in_words(best)} {symbol}, "
            f"{f'each {worst} or less' if several else worst}.",
            drawing=self.seen([""] * len(self.barrels)),
            values=tuple(self._shown()),
            warnings=(FINGERS, *self._warnings(), *self.off_plane()),
            tables=(self._table(),),
            notes=tuple(self._notes()),
            worked=tuple(
                Worked(name=f"deck.{barrel.number}", value=quantity(barrel.deck, "mm")) for barrel in self.barrels
            ),
        )

    def _shown(self) -> Iterator[Value]:
        for barrel in self.barrels:
            yield Value(
                key=f"deck_{barrel.number}",
                label=f"Deck height of cylinder {barrel.number}",
                quantity=quantity(barrel.judged.value, "mm"),
                units=(self.symbol,),
                places=PLACES[self.symbol],
                formula="mean of the readings − gauge zero; U = k u, u² the sum of all influences squared",
                source=PLANE,
                given=(("readings", len(barrel.depths)), ("gauge zero", self.zero), *barrel.judged.certainty("mm")),
            )
        scatter, pool = self.scatter
        if pool.degrees:
            yield Value(
                key="scatter",
                label="Scatter of one reading",
                quantity=quantity(scatter, "mm"),
                units=(self.symbol,),
                places=PLACES[self.symbol] + 1,
                formula="s = √(Σ (reading − plane)² ÷ ν), ν = number of readings − 3 for each barrel's plane",
                source=PLANE,
                given=(("ν", pool.degrees),),
            )

    def _warnings(self) -> Iterator[Caution]:
        for barrel in self.barrels:
            if barrel.judged.best < 0:
                yield Caution(
                    "notice",
                    f"The piston of cylinder {barrel.number} stands proud of its barrel by "
                    f"{self.text(-barrel.judged.best)}. Without a spacer or gasket it may strike the head.",
                )

    def _notes(self) -> Iterator[str]:
        few = [barrel.judged.factor for barrel in self.barrels if barrel.judged.degrees < FEW]
        if few:
            yield (
                f"So few points say little about their scatter: the ± is {figures(max(few), 2)} u in place of 2 u. "
                "More points narrow it."
            )
        yield "The piston rocks across its gudgeon pin; the mean of evenly spaced points removes that."
        yield "The gauge has the same error at every deck: it cancels between two."

    def _table(self) -> ResultTable:
        return ResultTable(
            key="barrels",
            title="Each deck",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                Column(key="deck", label="Deck height", unit=self.symbol, places=PLACES[self.symbol], strong=True),
                Column(key="points", label="Points"),
                Column(key="factor", label="k"),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        str(barrel.number),
                        quantity(barrel.judged.value, "mm"),
                        len(barrel.depths),
                        figures(barrel.judged.factor, 2),
                    )
                )
                for barrel in self.barrels
            ),
            formula="mean of the readings − gauge zero; U = k u",
            source=PLANE,
        )


def _number(text: str) -> float:
    return float(text.replace("−", "-"))
