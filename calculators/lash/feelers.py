"""Feeler blades: as they are stamped, held together, and the two that prove a gap."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any

from calculators.bench import COMMON_PRACTICE, Caution, Value, magnitude_in, printed, quantity
from calculators.bench.units import symbol_of
from calculators.bench.words import word
from calculators.formulas.base_circle import Kind
from calculators.formulas.feeler_blades import Stack, nearest_stack

WITHIN = 0.01
"""A stack farther than this from a gap, in mm, is not that gap (common practice, no source)."""
GRAIN = 1e-6
"""Millimetres below which two gaps are one: what sums of decimals may be out by."""


def stamped(blade: Any) -> str:
    """Return a blade as it is stamped: in its own unit, a millimetre to the hundredth at the least.

    Examples
    --------
    >>> from calculators import quantity
    >>> stamped(quantity(0.1, "mm")), stamped(quantity(4, "thou")), stamped(quantity(0.125, "mm"))
    ('0.10 mm', '4 thou', '0.125 mm')
    """
    symbol = symbol_of(blade)
    number = magnitude_in(blade, symbol)
    hundredths = symbol == "mm" and abs(number - round(number, 2)) < 1e-9
    return f"{number:.2f} mm" if hundredths else f"{number:.4g} {symbol}"


def held_together(blades: Sequence[Any], chosen: Sequence[int]) -> str:
    """Return the chosen blades of a set, as one picks them out of it.

    Examples
    --------
    >>> from calculators import quantity
    >>> held_together([quantity(0.05, "mm"), quantity(0.20, "mm")], (1, 0))
    '0.20 mm + 0.05 mm'
    """
    return " + ".join(stamped(blades[index]) for index in chosen)


_nearest_stack = lru_cache(maxsize=64)(nearest_stack)


def stack_for(gap: Any, blades: tuple[Any, ...]) -> Stack:
    """Return the blades of a set that make a gap."""
    return _nearest_stack(magnitude_in(gap, "mm"), tuple(magnitude_in(blade, "mm") for blade in blades), WITHIN)


Pair = tuple[Stack, Stack]
"""The stack that must go in, and the one that must not."""


def pair_for(gap: Any, allowance: Any, blades: tuple[Any, ...]) -> Pair | None:
    """Return the two stacks that prove a gap; None where the set has no such two."""
    go, no_go = stack_for(gap, blades), stack_for(gap + allowance, blades)
    return (go, no_go) if go.near and no_go.near and no_go.thickness > go.thickness + GRAIN else None


def stack_words(stack: Stack, blades: tuple[Any, ...]) -> str:
    """Return a stack blade by blade, and what it comes to where it is more than one."""
    packed = held_together(blades, stack.chosen)
    made = printed(quantity(stack.thickness, "mm"), "mm")
    return packed if packed == made else f"{packed} = {made}"


def pair_values(kind: Kind, gap: Any, allowance: Any, blades: tuple[Any, ...], pair: Pair | None) -> tuple[Value, ...]:
    """Return the blade that must go in and the one that must not; nothing where the set has no such two."""
    if pair is None:
        return ()
    given = (("figure", gap), ("allowance", allowance))
    return tuple(
        Value(
            key=f"{kind}_{key}",
            label=f"{word(kind).capitalize()}: {what}",
            quantity=quantity(stack.thickness, "mm"),
            words=stack_words(stack, blades),
            formula=f"the stack of these blades within {WITHIN} mm of {of}",
            source=COMMON_PRACTICE,
            given=given,
        )
        for key, what, of, stack in (
            ("go", "this must go in", "the figure", pair[0]),
            ("no_go", "this must not", "the figure + the allowance", pair[1]),
        )
    )


def pair_cautions(wanted: Mapping[Kind, Any], allowance: Any, pairs: Mapping[Kind, Pair | None]) -> Iterator[Caution]:
    """Yield which kind of valve this set of blades has no pair for."""
    for kind in (kind for kind, pair in pairs.items() if pair is None):
        least = magnitude_in(wanted[kind], "mm")
        most = least + magnitude_in(allowance, "mm")
        text = (
            f"There is no pair for the {word(kind)} valves in this set: {least:.2f} mm that must go in, and "
            f"{most:.2f} mm that must not, each within {WITHIN} mm."
        )
        yield Caution("notice", text)
