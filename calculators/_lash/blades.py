"""Feeler blades in words: as they are stamped, and held together."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calculators._units import magnitude_in, symbol_of


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
