"""What is told of the stacks that were found: values, the table of cylinders, the drawings behind them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from calculators.bench import (
    DECISION,
    GEOMETRY,
    Column,
    Figure,
    ResultTable,
    Source,
    TableRow,
    Value,
    magnitude_in,
    quantity,
    symbol_of,
)
from calculators.bench.verdict import best_of
from calculators.bench.words import listed
from calculators.compression.barrel_section import Section, barrel_section
from calculators.compression.candidates import SEARCH
from calculators.compression.engine import Engine
from calculators.compression.fitted import Barrel
from calculators.compression.level_tops import Step
from calculators.compression.measured import PROPAGATION
from calculators.compression.ratio_chart import ratio_chart
from calculators.compression.stacks_told import under_head
from calculators.compression.words import length, named, reached
from calculators.formulas.spacer_choice import Question


def chosen(engine: Engine, fitted: Sequence[Barrel], missed: bool) -> Iterator[Value]:
    """Yield the stack under each head."""
    for number, head in enumerate(engine.heads, 1):
        yield Value(
            key=f"spacers_{number}",
            label=f"{'Nearest: spacers' if missed else 'Spacers'} under {named(head, 'cylinder')}",
            quantity=under_head(engine, head, [fitted[cylinder].stack for cylinder in head]),
            formula="least worst |ratio − wanted|, then least sum of them, then fewest pieces; barrel tops "
            "level, every deck clearance within its limits, no more pieces than you have",
            source=SEARCH,
            given=(("ratio wanted, to 1", engine.wanted.target), ("least deck clearance", engine.wanted.least_deck)),
        )


def level(engine: Engine, tops: Sequence[Step]) -> Iterator[Value]:
    """Yield how far the barrel tops stand apart, and whether that is level."""
    allowed = engine.wanted.height_tolerance
    symbol = symbol_of(allowed)
    for number, step in enumerate(tops, 1):
        yield Value(
            key=f"step_{number}",
            label=f"Tops of {named(step.head, 'barrel')} stand apart by",
            quantity=quantity(step.apart, "mm"),
            units=tuple(dict.fromkeys((symbol, "mm", "thou"))),
            formula="greatest difference between two barrels' length + spacers; if no length is typed, the barrels are "
            "taken to be equally long",
            source=PROPAGATION,
            given=tuple(
                (f"length of barrel {cylinder + 1}", quantity(engine.cylinders[cylinder].top, "mm"))
                for cylinder in step.head
                if engine.cylinders[cylinder].length is not None
            ),
        )
        yield Value(
            key=f"level_{number}",
            label=f"Tops of {named(step.head, 'barrel')} against the height tolerance",
            quantity=step.verdict,
            formula="in: all of it, ± included, is within the height tolerance",
            source=DECISION,
            given=(("height tolerance", quantity(magnitude_in(allowed, symbol), symbol)),),
        )


def ratios(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[Value]:
    """Yield the lowest and the highest ratio, and the least deck clearance."""
    found = [barrel.best for barrel in fitted]
    lowest, highest = found.index(min(found)), found.index(max(found))
    tightest = _tightest(fitted)
    for key, label, cylinder in (("lowest_ratio", "Lowest", lowest), ("highest_ratio", "Highest", highest)):
        yield Value(
            key=key,
            label=f"{label} ratio, to 1, in cylinder {cylinder + 1}",
            quantity=fitted[cylinder].ratio,
            places=2,
            formula="(swept volume + clearance volume) ÷ clearance volume; ± is k = 2",
            source=PROPAGATION,
            given=(
                ("swept volume", engine.swept_volume),
                (f"clearance volume of cylinder {cylinder + 1}", fitted[cylinder].clearance),
            ),
        )
    yield Value(
        key="least_deck_clearance",
        label=f"Least deck clearance, in cylinder {tightest + 1}",
        quantity=fitted[tightest].gap,
        units=tuple(dict.fromkeys((symbol_of(engine.wanted.least_deck), "mm", "thou"))),
        formula="deck height + spacers + gasket thickness",
        source=GEOMETRY,
        given=(
            ("deck height", quantity(engine.cylinders[tightest].depth, "mm")),
            ("spacers", fitted[tightest].height),
            ("gasket", quantity(engine.gasket, "mm")),
        ),
    )


def _tightest(fitted: Sequence[Barrel]) -> int:
    return min(range(len(fitted)), key=lambda cylinder: fitted[cylinder].gap_estimate)


def to_buy(engine: Engine, question: Question, choice: Sequence[int]) -> Iterator[Value]:
    """Yield what to buy, where more of the same thicknesses would do better."""
    unstinted = question.unstinted
    if unstinted is None or tuple(unstinted) == tuple(choice):
        return
    used = Counter(size for stack in unstinted for size in question.stacks[stack].pieces)
    lacking = listed(
        f"{used[size] - engine.spacers[size].pieces} of {engine.spacers[size].stamp} {engine.unit}"
        for size, _ in question.shortages(unstinted)
    )
    ratios = [engine.ratio(cylinder, question.stacks[stack].height) for cylinder, stack in enumerate(unstinted)]
    yield Value(
        key="to_buy",
        label="Or buy, for the best result with these thicknesses",
        quantity=f"{lacking} more, for {reached(ratios)} : 1",
        formula="the same choice, as if you had any number of each thickness",
        source=SEARCH,
        given=(("ratio wanted, to 1", engine.wanted.target),),
    )


def cylinders_table(engine: Engine, fitted: Sequence[Barrel]) -> ResultTable:
    """Return each cylinder on its stack."""
    return ResultTable(
        key="cylinders",
        title="Cylinder by cylinder",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="spacers", label="Spacers", strong=True),
            Column(key="stack", label="Their thickness", unit=engine.unit, places=engine.places),
            Column(key="clearance", label="Clearance volume", unit="cm³"),
            Column(key="deck", label="Deck clearance", unit=symbol_of(engine.wanted.least_deck)),
            Column(key="ratio", label="Ratio, to 1", places=2),
            Column(key="verdict", label="Within the band?"),
        ),
        rows=tuple(
            TableRow(
                cells=(str(number), engine.fitted(of.stack), of.height, of.clearance, of.gap, of.ratio, of.verdict)
            )
            for number, of in enumerate(fitted, 1)
        ),
        formula="clearance volume = chamber + gasket + π ÷ 4 × bore² × (deck height + spacers) + crown; "
        "ratio = (swept + clearance) ÷ clearance; ± is k = 2, one instrument has the same error in all its readings; "
        "in, out: the whole ± interval lies inside or outside the band",
        source=Source(f"{PROPAGATION}; {DECISION}"),
        given=(("swept volume", engine.swept_volume),),
        on_paper=True,
    )


def drawn(engine: Engine, question: Question, fitted: Sequence[Barrel], missed: bool) -> tuple[Figure, ...]:
    """Draw the tightest barrel cut open, and the ratio over the spacers."""
    tightest = _tightest(fitted)
    barrel, per_unit = fitted[tightest], engine.per_unit
    section = Section(
        name=str(tightest + 1),
        spacers=tuple(engine.spacers[size].size for size in barrel.stack.pieces),
        gasket=best_of(engine.gasket),
        clearance=barrel.gap_estimate,
        clearance_words=length(barrel.gap, symbol_of(engine.wanted.least_deck)),
        spacer_words=engine.fitted(barrel.stack),
    )
    chart = ratio_chart(
        lambda cylinder, height: engine.ratio(cylinder, height / per_unit),
        [of.stack.height * per_unit for of in fitted],
        engine.wanted.target,
        engine.wanted.tolerance,
        question.stacks[-1].height * per_unit,
        engine.unit,
        "nearest" if missed else "chosen",
    )
    return barrel_section(section), chart
