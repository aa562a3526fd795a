"""Why no spacers of the drawer will do: which demand cannot be met, and by how much."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from calculators.bench import FieldError, quantity, symbol_of
from calculators.bench.units import plain
from calculators.bench.words import listed
from calculators.compression.binding_limit import binding_limit
from calculators.compression.engine import Engine
from calculators.compression.stacks_told import everywhere, shortage
from calculators.compression.words import apart, length, named
from calculators.formulas.spacer_choice import HEIGHT_GRAIN, Question, Stack, least_step, windows


def why_none(engine: Engine, question: Question) -> FieldError:
    """Say which demand cannot be met, and by how much."""
    wanted = engine.wanted
    blocked = [cylinder for cylinder, allowed in enumerate(question.allowed) if not any(allowed)]
    if blocked:
        return _gap_out_of_reach(engine, question, blocked)
    symbol = symbol_of(wanted.height_tolerance)
    for head in engine.heads:
        if not any(windows(question, question.costs(), head)):
            return FieldError(
                f"barrel_length.{head[0] + 1}",
                f"No stacks of these spacers bring the tops of {named(head, 'barrel')} within "
                f"{length(wanted.height_tolerance, symbol)} of each other. "
                f"At best they stand {length(quantity(least_step(question, head), 'mm'), symbol)} apart.",
            )
    if question.unstinted is None:
        raise AssertionError("no demand is left but the drawer's, which was just lifted")
    return too_few(engine, question, question.unstinted, "for all barrels")


def _gap_out_of_reach(engine: Engine, question: Question, blocked: Sequence[int]) -> FieldError:
    """Say whose deck clearance no stack brings between the least and the most, and what comes nearest."""
    wanted, thickest = engine.wanted, question.stacks[-1]
    symbol = symbol_of(wanted.least_deck)
    worst = min(blocked, key=lambda cylinder: engine.cylinders[cylinder].gap)
    gap = engine.cylinders[worst].gap
    most = quantity(gap + thickest.height, "mm")
    if gap + thickest.height < engine.least_gap:
        if not wanted.thickness:
            return FieldError(
                "thickness.1",
                f"Enter the spacers that you have: with none, the deck clearance of cylinder {worst + 1} is "
                f"{length(most, symbol)}, and {length(wanted.least_deck, symbol)} is the least.",
            )
        return FieldError(
            "least_deck",
            f"No stack of these spacers gives cylinder {worst + 1} the least deck clearance of "
            f"{length(wanted.least_deck, symbol)}. The most is {length(most, symbol)}, with "
            f"{engine.fitted(thickest)} fitted: {length(wanted.least_deck - most, symbol)} is missing.",
        )
    middle = (engine.least_gap + engine.most_gap) / 2
    nearest = min(question.stacks, key=lambda stack: (abs(gap + stack.height - middle), len(stack.pieces)))
    return FieldError(
        "most_deck",
        f"No stack of these spacers gives cylinder {worst + 1} a deck clearance from "
        f"{length(wanted.least_deck, symbol)} to {length(wanted.most_deck, symbol)}. The nearest is "
        f"{length(quantity(gap + nearest.height, 'mm'), symbol)}, with {engine.fitted(nearest)} fitted.",
    )


def too_few(engine: Engine, question: Question, unstinted: Sequence[int], what_for: str) -> FieldError:
    """Say of which spacers the drawer has too few, and what they would be needed for."""
    size, need = question.shortages(unstinted)[0]
    return FieldError(
        f"pieces.{engine.spacers[size].row}",
        f"You have too few spacers {what_for}. "
        f"{everywhere(engine, [question.stacks[stack] for stack in unstinted])} "
        f"would do, but it {shortage(engine, size, need)}.",
    )


def out_of_reach(engine: Engine, question: Question, choice: Sequence[int], worst: int) -> FieldError:
    """Say how near the stacks come to the wanted ratio, by the cylinder farthest from it, and what forbids more."""
    stacks = [question.stacks[stack] for stack in choice]
    wanted, ratio = engine.wanted, engine.ratio(worst, stacks[worst].height)
    nearest = f"{apart(ratio, wanted.target)[0]} : 1" + (f", in cylinder {worst + 1}" if len(stacks) > 1 else "")
    if not wanted.thickness and ratio > wanted.target:  # spacers would lower it
        message = f"Enter the spacers that you have: with none, the nearest to {plain(wanted.target)} : 1 is {nearest}."
        return FieldError("thickness.1", message)
    nearest = f"The nearest is {nearest}, with {everywhere(engine, stacks)}."
    limit = binding_limit(engine, question, choice)
    if limit is not None:
        return FieldError(
            limit.field, f"No stack within {limit.name} reaches {plain(wanted.target)} : 1. {nearest} {limit.why}"
        )
    held_off = _held_off(engine, question, stacks[worst], worst)
    return FieldError("target", f"No stack of these spacers reaches {plain(wanted.target)} : 1. {nearest}{held_off}")


def _held_off(engine: Engine, question: Question, fitted: Stack, worst: int) -> str:
    """Return which deck clearance forbids the stacks that would come nearer to the ratio, though none reaches it."""
    wanted = engine.wanted
    high = engine.ratio(worst, fitted.height) > wanted.target  # then thicker ones come nearer
    nearer = [
        place
        for place, stack in enumerate(question.stacks)
        if (stack.height > fitted.height + HEIGHT_GRAIN if high else stack.height < fitted.height - HEIGHT_GRAIN)
    ]
    if not nearer or any(question.allowed[worst][place] for place in nearer):
        return ""
    if high:
        most = length(wanted.most_deck, symbol_of(wanted.most_deck))
        return f" Thicker ones would leave more than the most deck clearance, {most}."
    least = length(wanted.least_deck, symbol_of(wanted.least_deck))
    return f" Thinner ones would leave less than the least deck clearance, {least}."


def too_many_ways(engine: Engine, question: Question) -> FieldError:
    """Say which spacers to leave out, so that the rest can be weighed to the end."""
    used = Counter(size for stack in question.unstinted or () for size in question.stacks[stack].pieces)
    fewest = min(used[size] for size in range(len(engine.spacers)))
    spared = listed(spacer.stamp for size, spacer in enumerate(engine.spacers) if used[size] == fewest)
    why = f"used {fewest} times" if fewest > 1 else "used once" if fewest else "not used"
    fewer = ", or allow fewer pieces in one stack" if engine.wanted.most_pieces > 1 else ""
    return FieldError(
        "thickness.1",
        "There are too many ways to stack these spacers to compare them all. "
        f"Leave out {spared} {engine.unit}, {why} in the stacks nearest to the target{fewer}.",
    )
