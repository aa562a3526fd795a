"""Spacers to have made, to any thickness."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import (
    Answer,
    Caution,
    Column,
    FieldError,
    InputErrors,
    Question,
    ResultTable,
    Source,
    Table,
    TableRow,
    Value,
    expanded,
    quantity,
    shared,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import figures, plain, printed
from calculators.bench.verdict import best_of
from calculators.compression.barrels_drawing import barrels_map
from calculators.compression.cautions import CLOSE, DOMED, KNOCK, LEVEL, fuel
from calculators.compression.engine import Engine, Wanted, engine_of
from calculators.compression.level_tops import Step, steps_between
from calculators.compression.measured import (
    PROPAGATION,
    WANTED,
    Barrel,
    Gauges,
    heads_of,
    least_deck,
    most_deck,
    target,
    tolerance,
)
from calculators.compression.spacers import ENGINE
from calculators.compression.spacers_doubted import level_doubted
from calculators.compression.spacers_told import level
from calculators.compression.words import named, reached
from calculators.formulas.cylinder_volume import clearance_for_ratio, compression_ratio
from calculators.formulas.made_spacers import made_height

ALIKE = 0.005
"""Heights nearer to each other than this, in mm, are made to one figure."""
THICKEST = 50.0
"""No spacer is sought beyond so many mm of deck clearance above the least: no barrel stands on more."""
EQUAL_VOLUMES = Source("solid geometry: volumes set equal", "identity")


class Made(Gauges, Question):
    """One spacer for each barrel, to any thickness, level under each head and within the deck clearances.

    If no thickness brings a head to the ratio, gives the nearest that is allowed.
    """

    asks = "How thick must new spacers be?"
    tells = "Thickness of new spacers"

    target = target()
    cylinders = shared.cylinders()
    rows = Table(
        Barrel,
        each="Cylinder {}",
        most=12,
        count="cylinders",
        hint="Deck without spacers, from the barrel's top down to the piston. Crown: dish plus, dome minus, flat "
        "empty. Length: empty if all barrels are equal.",
    )
    heads = shared.heads(refines=ENGINE)
    bore = shared.bore(refines=ENGINE)
    stroke = shared.stroke(refines=ENGINE)
    tolerance = tolerance()
    least_deck = least_deck(refines=WANTED)
    most_deck = most_deck()
    height_tolerance = shared.height_tolerance(refines=WANTED)

    def answer(self) -> Answer:
        heads = heads_of(self.heads, self.cylinders)
        engine = engine_of(
            self.measured(self.bore, self.stroke, self.rows),
            self.rows,
            heads,
            (),
            Wanted(
                target=self.target,
                tolerance=self.tolerance,
                least_deck=self.least_deck,
                most_deck=self.most_deck,
                height_tolerance=self.height_tolerance,
                most_pieces=1,
                thickness=(),
            ),
            self.depth_error,
        )
        found: dict[int, float] = {}
        for head in heads:
            gaps = [engine.cylinders[cylinder].gap for cylinder in head]
            lengths = [engine.cylinders[cylinder].length or 0.0 for cylinder in head]
            height = made_height(
                engine.ratio,
                head,
                lengths,
                self.target,
                [engine.least_gap - gap for gap in gaps],
                [min(engine.most_gap, engine.least_gap + THICKEST) - gap for gap in gaps],
            )
            if height is None:
                message = (
                    f"No thickness gives {named(head, 'cylinder')} both level tops and a deck clearance within the "
                    "limits"
                )
                raise InputErrors(FieldError("most_deck" if self.most_deck is not None else "least_deck", message))
            found.update(zip(head, each_height(height, lengths), strict=True))
        heights = [found[cylinder] for cylinder in range(self.cylinders)]
        ratios = [engine.ratio(cylinder, height) for cylinder, height in enumerate(heights)]
        texts = tuple(figures(height, 2) if height >= ALIKE else "none" for height in heights)
        tops = self._tops(engine, heights)
        missed = [cylinder for cylinder, ratio in enumerate(ratios) if engine.misses(ratio)]
        return Answer(
            headline=_headline(heads, texts, ratios),
            record=f"Spacers, one new for each barrel: {_each(heads, texts)}, for {reached(ratios)} : 1.",
            says=f"Have one spacer made for each barrel: {_each(heads, texts)}, for {reached(ratios)} : 1.",
            drawing=barrels_map(heads, texts, "mm", "One new spacer under each barrel"),
            values=tuple(
                Value(
                    key=f"made_{number}",
                    label=f"One spacer for each of {named(head, 'barrel')}",
                    quantity=f"{_of_head(head, texts)}, for {reached([ratios[one] for one in head])} : 1",
                    formula="highest and lowest ratio under the head equally far from the one wanted; barrel tops "
                    "level, every deck clearance within its limits",
                    source=EQUAL_VOLUMES,
                    given=(("ratio wanted, to 1", self.target), ("least deck clearance", self.least_deck)),
                )
                for number, head in enumerate(heads, 1)
            )
            + tuple(level(engine, tops)),
            warnings=(
                *(self._out_of_reach(missed, ratios),)[: len(missed)],
                KNOCK,
                fuel(max(ratios)),
                *((CLOSE,) if min(engine.cylinders[at].gap + one for at, one in enumerate(heights)) < 1 else ()),
                *((DOMED,) if any(cylinder.domed for cylinder in engine.cylinders) else ()),
                *((LEVEL,) if any(len(head) > 1 for head in heads) else ()),
                *level_doubted(engine, tops),
            ),
            tables=(
                ResultTable(
                    key="made",
                    title="Cylinder by cylinder",
                    columns=(
                        Column(key="cylinder", label="Cylinder"),
                        Column(key="spacer", label="New spacer", unit="mm", places=2, strong=True),
                        Column(key="alone", label="For the exact ratio, this cylinder alone", unit="mm", places=2),
                        Column(key="deck", label="Deck clearance", unit="mm"),
                        Column(key="ratio", label="Ratio, to 1", places=2),
                    ),
                    rows=tuple(
                        TableRow(
                            cells=(
                                str(number),
                                quantity(height, "mm"),
                                quantity(
                                    expanded(
                                        (clearance_for_ratio(engine.swept, self.target) - of.clearance) / engine.area
                                    ).value,
                                    "mm",
                                ),
                                quantity(of.gap + height, "mm"),
                                expanded(compression_ratio(engine.swept, of.clearance + engine.area * height)).value,
                            )
                        )
                        for number, (of, height) in enumerate(zip(engine.cylinders, heights, strict=True), 1)
                    ),
                    formula="(swept volume ÷ (ratio wanted − 1) − clearance volume) ÷ (π ÷ 4 × bore²), this cylinder "
                    "alone",
                    source=Source(f"{EQUAL_VOLUMES.name}; {PROPAGATION}"),
                    given=(("ratio wanted, to 1", self.target), ("swept volume", engine.swept_volume)),
                    on_paper=True,
                ),
            ),
            notes=(
                "A spacer must be flat and as hard as the barrel's foot. Have both faces ground parallel and measure "
                "each at four places (common practice, no source).",
            ),
        )

    def _tops(self, engine: Engine, heights: Sequence[float]) -> tuple[Step, ...]:
        """Return the steps between tops that are level by the lengths typed; none where no length was typed."""
        if all(cylinder.length is None for cylinder in engine.cylinders):
            return ()
        tops = [cylinder.top + height for cylinder, height in zip(engine.cylinders, heights, strict=True)]
        return tuple(steps_between(engine, tops))

    def _out_of_reach(self, missed: Sequence[int], ratios: Sequence[float]) -> Caution:
        worst = max(missed, key=lambda cylinder: abs(ratios[cylinder] - self.target), default=0)
        limits = f"a deck clearance of {printed(self.least_deck, 'mm')} or more"
        if self.most_deck is not None:
            limits = f"a deck clearance from {printed(self.least_deck, 'mm')} to {printed(self.most_deck, 'mm')}"
        return Caution(
            "notice",
            f"No spacer within {limits} and level tops brings every cylinder to {plain(self.target)} ± "
            f"{plain(self.tolerance)}. The farthest is {figures(best_of(ratios[worst]), 2)} : 1, in cylinder "
            f"{worst + 1}.",
        )


def _of_head(head: Sequence[int], texts: Sequence[str]) -> str:
    own = [texts[cylinder] for cylinder in head]
    if len(set(own)) == 1:
        return own[0] if own[0] == "none" else f"{own[0]} mm"
    return "; ".join(
        f"{cylinder + 1}: {texts[cylinder]}{'' if texts[cylinder] == 'none' else ' mm'}" for cylinder in head
    )


def _each(heads: Sequence[Sequence[int]], texts: Sequence[str]) -> str:
    return "; ".join(
        f"{_of_head(head, texts)} under {named(head, 'barrel')}"
        if len({texts[one] for one in head}) == 1
        else _of_head(head, texts)
        for head in heads
    )


def _headline(heads: Sequence[Sequence[int]], texts: Sequence[str], ratios: Sequence[float]) -> str:
    if len(set(texts)) == 1:
        text = "none" if texts[0] == "none" else f"{texts[0]} mm"
        return f"{text} under {'every' if len(texts) > 1 else 'the'} barrel"
    whole = " · ".join(
        f"{' and '.join(str(one + 1) for one in head)}: {_of_head(head, texts)}"
        if len({texts[one] for one in head}) == 1
        else _of_head(head, texts)
        for head in heads
    )
    return whole if len(whole) <= LONGEST_HEADLINE else f"Barrel by barrel, for {reached(ratios)} : 1"


def each_height(height: float, lengths: Sequence[float]) -> list[float]:
    """Return the spacers of one head: so much more under a barrel as it is shorter than the longest, as it was read."""
    return [height + max(lengths) - length for length in lengths]
