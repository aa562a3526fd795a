"""How stacks of spacers are named in the sentences about them."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.compression.engine import Engine
from calculators.compression.words import named
from calculators.formulas.spacer_choice import Stack


def shortage(engine: Engine, size: int, need: int) -> str:
    """Return what is needed of one thickness and what there is."""
    spacer = engine.spacers[size]
    return f"needs {need} of {spacer.stamp} {engine.unit} and you have {spacer.pieces}"


def places(engine: Engine, stacks: Sequence[Stack]) -> list[tuple[str, Stack]]:
    """Say where each stack goes: under every barrel, or under those of a head that have it in common."""
    if len(set(stacks)) == 1 and len(stacks) > 1:
        return [("every barrel", stacks[0])]
    return [
        (named([cylinder for cylinder in head if stacks[cylinder] == stack], "cylinder"), stack)
        for head in engine.heads
        for stack in dict.fromkeys(stacks[cylinder] for cylinder in head)
    ]


def under_head(engine: Engine, head: Sequence[int], stacks: Sequence[Stack]) -> str:
    """Return the stacks of one head in words: once where they are all alike."""
    if len(set(stacks)) == 1:
        return engine.fitted(stacks[0])
    return "; ".join(f"{cylinder + 1}: {engine.fitted(stack)}" for cylinder, stack in zip(head, stacks, strict=True))


def everywhere(engine: Engine, stacks: Sequence[Stack]) -> str:
    """Return all stacks in words, each with the barrels it is under."""
    if not any(stack.pieces for stack in stacks):
        return "none fitted"
    if len(stacks) == 1:
        return f"{engine.fitted(stacks[0])} under the barrel"
    return "; ".join(f"{engine.fitted(stack)} under {where}" for where, stack in places(engine, stacks))
