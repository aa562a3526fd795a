"""What could go under each head, best first, and why each one lost."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import Column, ResultTable, Source, TableRow, magnitude_in, quantity, symbol_of
from calculators.bench.units import plain, unit
from calculators.compression.engine import Engine
from calculators.compression.stacks_told import shortage, under_head
from calculators.compression.words import apart, length, named
from calculators.formulas.spacer_choice import GRAIN, HEIGHT_GRAIN, Question, candidates

SHOWN = 40
"""Candidates listed for one head."""

SEARCH = Source("exact search over every stack you can make", "identity")


def candidates_table(
    engine: Engine, question: Question, number: int, chosen: tuple[int, ...] | None, missed: bool
) -> ResultTable:
    """Return the candidates for one head, the chosen one marked; ``missed`` where it is only the nearest."""
    head = engine.heads[number]
    best = question.weighed(head, chosen)[:3] if chosen else None
    found, count = candidates(question, head, chosen, SHOWN)
    more = f"; {count - len(found)} more lost" if count > len(found) else ""
    symbol = symbol_of(engine.wanted.least_deck)
    in_symbol = magnitude_in(quantity(1.0, "mm"), symbol)
    rows = []
    for choice in found:
        stacks = [question.stacks[stack] for stack in choice]
        ratios = [engine.ratio(cylinder, stack.height) for cylinder, stack in zip(head, stacks, strict=True)]
        gaps = [engine.cylinders[cylinder].gap + stack.height for cylinder, stack in zip(head, stacks, strict=True)]
        if choice == chosen:
            outside = _outside(engine, ratios)
            why = f"nearest, but {outside}" if outside else "nearest" if missed else "fit this"
        else:
            why = (
                _forbidden(engine, question, head, choice, gaps, symbol, in_symbol)
                or _outside(engine, ratios)
                or _losing(question.weighed(head, choice)[:3], best)
            )
        cells = (under_head(engine, head, stacks), min(ratios), max(ratios), min(gaps) * in_symbol, why)
        rows.append(TableRow(cells=cells, chosen=choice == chosen))
    return ResultTable(
        key=f"candidates_{number + 1}",
        title=f"What could go under {named(head, 'cylinder')}, nearest to the wanted ratio first{more}",
        columns=(
            Column(key="spacers", label="Spacers", strong=True),
            Column(key="lowest_ratio", label="Lowest ratio", places=2),
            Column(key="highest_ratio", label="Highest ratio", places=2),
            Column(key="deck", label=f"Least deck clearance, {symbol}", places=unit(symbol).places),
            Column(key="why", label="Why", wide=True),
        ),
        rows=tuple(rows),
        formula="least worst |ratio − wanted|, then least sum of them, then fewest pieces",
        source=SEARCH,
        given=(("wanted ratio, to 1", engine.wanted.target), ("tolerance", engine.wanted.tolerance)),
        folded=True,
    )


def _forbidden(
    engine: Engine,
    question: Question,
    head: Sequence[int],
    choice: Sequence[int],
    gaps: Sequence[float],
    symbol: str,
    in_symbol: float,
) -> str:
    """Say what forbids a candidate, if anything does."""
    least, most = min(gaps), max(gaps)
    if least < engine.least_gap - HEIGHT_GRAIN:
        words = apart(least * in_symbol, engine.least_gap * in_symbol, unit(symbol).places)
        return f"deck clearance {words[0]} {symbol}, under {words[1]} {symbol}"
    if most > engine.most_gap + HEIGHT_GRAIN:
        words = apart(most * in_symbol, engine.most_gap * in_symbol, unit(symbol).places)
        return f"deck clearance {words[0]} {symbol}, over {words[1]} {symbol}"
    step = question.step(head, choice)
    if step > question.level + HEIGHT_GRAIN / 2:
        return f"barrel tops {length(quantity(step, 'mm'), symbol_of(engine.wanted.height_tolerance))} apart"
    return next((shortage(engine, size, need) for size, need in question.shortages(choice)), "")


def _outside(engine: Engine, ratios: Sequence[float]) -> str:
    """Say of the ratio farthest from the target that it is outside the band, if it is."""
    farthest = max(ratios, key=lambda ratio: abs(ratio - engine.wanted.target))
    if not engine.misses(farthest):
        return ""
    low, high = engine.band
    if farthest < low:
        return f"ratio {apart(farthest, low)[0]}, below {plain(round(low, 6))}"
    return f"ratio {apart(farthest, high)[0]}, above {plain(round(high, 6))}"


def _losing(ours: tuple[int, int, int], best: tuple[int, int, int] | None) -> str:
    """Say of a candidate that nothing forbids, and whose ratios are in the band, why it is not the one to fit."""
    if best is None:
        return "in the band"
    if ours < best:
        return "its spacers are used under another head"
    further, together, parts = (our - least for our, least in zip(ours, best, strict=True))
    if further > 0:
        return f"{apart(further * GRAIN, 0)[0]} further from the target"
    if together > 0:
        return f"{apart(together * GRAIN, 0)[0]} further from the target over all cylinders"
    return "same height with more parts" if parts > 0 else "same height, as many parts"
