"""What is checked cold: head nuts as the maker says, and the lash with its figures where they are known."""

from __future__ import annotations

from calculators.bench import Quantity, choice, printed, symbol_of

NUTS = {
    "maker": "Not known yet: see the maker's sheet",
    "again": "Tightened again: the maker asks for it",
    "never": "Left alone: the maker forbids it or tightens by angle",
}
NUTS_WORDS = {
    "maker": "head nuts only if the maker asks for it",
    "again": "head nuts as the maker says, before the lash",
    "never": "leave the head nuts alone",
}

head_nuts = choice(
    "Head nuts after the first runs",
    NUTS,
    usual="maker",
    shared_as="head_nuts_again",
    said="head nuts: {}",
)


def lash_words(inlet: Quantity | None, exhaust: Quantity | None) -> str:
    """Return what the lash is set to, each figure in the unit it was typed in; without both, only that it is."""
    if inlet is None or exhaust is None:
        return "lash"
    gaps = [printed(gap, symbol_of(gap)) for gap in (inlet, exhaust)]
    return f"lash {gaps[0]} inlet, {gaps[1]} exhaust"
