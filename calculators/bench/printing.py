"""How a value is said in a box: as it would be typed."""

from __future__ import annotations

from datetime import date
from typing import Any

from calculators.bench.units import bare, magnitude_in, plain, symbol_of

FIGURES = 5


def said(value: Any, symbol: str | None) -> str:
    """Return a value as it would stand in a box, in the unit beside it.

    Parameters
    ----------
    value : Quantity, number, str, date or tuple
    symbol : str, optional
        The unit that stands beside the box.

    Examples
    --------
    >>> from calculators.bench.units import quantity
    >>> from uncertainties import ufloat
    >>> said(quantity(8.123456, "cm"), "mm"), said(4, None), said((1, 2), None), said(ufloat(7.6, 0.1), None)
    ('81.235', '4', '1 2', '7.6')
    >>> said(date(2026, 11, 25), None), said(((1, 2), (3, 4)), None), said((115.0, 117.5), None)
    ('2026-11-25', '1 2 / 3 4', '115 117.5')
    """
    if isinstance(value, tuple):
        between = "; " if symbol else " / " if value and isinstance(value[0], tuple) else " "
        return between.join(said(part, symbol) for part in value)
    if isinstance(value, str | date):
        return str(value)
    number = magnitude_in(value, symbol or symbol_of(value)) if hasattr(value, "magnitude") else float(bare(value)[0])
    return plain(float(f"{number:.{FIGURES}g}"))


def said_whole(value: Any) -> str:
    """Return a value in words of its own, with its unit.

    Examples
    --------
    >>> from calculators.bench.units import quantity
    >>> said_whole(quantity(16.0, "lbf·ft")), said_whole((quantity(5.0, "%"), quantity(7.0, "%"))), said_whole(None)
    ('16 lbf·ft', '5%; 7%', 'nothing')
    """
    if value is None:
        return "nothing"
    if isinstance(value, tuple):
        return "; ".join(map(said_whole, value)) if value and hasattr(value[0], "magnitude") else said(value, None)
    symbol = symbol_of(value) if hasattr(value, "magnitude") else ""
    text = said(value, symbol or None)
    return f"{text}{'' if symbol in ('', '°', '%') else ' '}{symbol}"
