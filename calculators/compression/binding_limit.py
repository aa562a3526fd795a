"""Which limit keeps the spacers from the wanted ratio, where these spacers could reach it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from calculators.bench import magnitude_in, quantity, symbol_of
from calculators.bench.units import figures, unit
from calculators.compression.engine import Engine
from calculators.compression.stacks_told import everywhere
from calculators.compression.words import apart, length, named
from calculators.formulas.spacer_choice import HEIGHT_GRAIN, Question, Stack, stacks_of

_NO_STEP = 1e6  # mm; tops that may stand so far apart are not held to be level


@dataclass(frozen=True, slots=True)
class Limit:
    """The entry that binds, what it is called, and what would reach the ratio but for it."""

    field: str
    name: str
    why: str


def binding_limit(engine: Engine, question: Question, choice: Sequence[int]) -> Limit | None:
    """Return the limit that forbids what would reach the ratio, or None where nothing of these spacers would.

    Parameters
    ----------
    engine : Engine
    question : Question
    choice : sequence of int
        The nearest stacks; that of one cylinder misses the band.
    """
    if question.unstinted is not None and _reaches(engine, question, question.unstinted):
        return None  # only the count of the drawer is short
    worst = question.worst(choice)
    near = [
        place for place, stack in enumerate(question.stacks) if not engine.misses(engine.ratio(worst, stack.height))
    ]
    if not near:
        return _pieces(engine, worst)
    if any(question.allowed[worst][place] for place in near):
        return _level(engine, question)
    return _deck(engine, question, worst, min(near, key=lambda place: question.deviations[worst][place]))


def _reaches(engine: Engine, question: Question, choice: Sequence[int]) -> bool:
    return not any(
        engine.misses(engine.ratio(cylinder, question.stacks[place].height)) for cylinder, place in enumerate(choice)
    )


def _would(engine: Engine, cylinder: int, stack: Stack) -> str:
    ratio = figures(engine.ratio(cylinder, stack.height), 2)
    return f"{engine.fitted(stack)} would bring cylinder {cylinder + 1} to {ratio} : 1"


def _deck(engine: Engine, question: Question, cylinder: int, place: int) -> Limit:
    stack, wanted = question.stacks[place], engine.wanted
    gap = quantity(engine.cylinders[cylinder].gap + stack.height, "mm")
    would = _would(engine, cylinder, stack)
    if magnitude_in(gap, "mm") < engine.least_gap:
        ours, theirs = _told(gap, wanted.least_deck)
        why = f"{would}, but with a deck clearance of {ours}, under the least deck clearance, {theirs}."
        return Limit("least_deck", "the least deck clearance", why)
    ours, theirs = _told(gap, wanted.most_deck)
    why = f"{would}, but with a deck clearance of {ours}, over the most deck clearance, {theirs}."
    return Limit("most_deck", "the most deck clearance", why)


def _told(gap: Any, limit: Any) -> tuple[str, str]:
    """Print a length and its limit in the limit's unit, so that they do not look alike."""
    symbol = symbol_of(limit)
    ours, theirs = apart(magnitude_in(gap, symbol), magnitude_in(limit, symbol), unit(symbol).places)
    return f"{ours} {symbol}", f"{theirs} {symbol}"


def _level(engine: Engine, question: Question) -> Limit | None:
    """Return the height tolerance, where stacks that stand less level would reach the ratio under every barrel."""
    unlevel = replace(question, level=_NO_STEP).unstinted
    if unlevel is None or not _reaches(engine, question, unlevel):
        return None
    stacks = [question.stacks[place] for place in unlevel]
    step, head = max((question.step(head, [unlevel[one] for one in head]), head) for head in engine.heads)
    symbol = symbol_of(engine.wanted.height_tolerance)
    return Limit(
        "height_tolerance",
        "the height tolerance",
        f"{everywhere(engine, stacks)} would reach it, but with the tops of {named(head, 'barrel')} "
        f"{length(quantity(step, 'mm'), symbol)} apart, over the height tolerance, "
        f"{length(engine.wanted.height_tolerance, symbol)}.",
    )


def _pieces(engine: Engine, cylinder: int) -> Limit | None:
    """Return the most pieces in one stack, where more of them would reach the ratio."""
    most, gap = engine.wanted.most_pieces, engine.cylinders[cylinder].gap
    taller = [
        stack
        for stack in stacks_of(tuple(spacer.size for spacer in engine.spacers), most + 1)
        if len(stack.pieces) > most
        and engine.least_gap - HEIGHT_GRAIN <= gap + stack.height <= engine.most_gap + HEIGHT_GRAIN
        and not engine.misses(engine.ratio(cylinder, stack.height))
    ]
    if not taller:
        return None
    best = min(taller, key=lambda stack: abs(engine.ratio(cylinder, stack.height) - engine.wanted.target))
    return Limit(
        "most_pieces",
        "the most pieces in one stack",
        f"{_would(engine, cylinder, best)}, but that is {most + 1} pieces, over the most in one stack, {most}.",
    )
