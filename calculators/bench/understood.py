"""What a typed text was taken for, written our way: for the reader who types another."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from calculators.bench.cells import KEPT
from calculators.bench.entries import Entry
from calculators.bench.kinds import Date, Measure, Number, Series, split_line
from calculators.bench.units import Unit, limit_of, magnitude_in, plain, uncertainty_in, unit

FIGURES = 5
"""Significant figures, so that a thousandth of the number still shows."""

_MOST = 8
"""So many entries of a list are written out."""

_LONG = 500
"""Characters; a line beyond is a paste gone wrong, and no reading."""

_PLAIN = re.compile(r"[+−-]?(\d+\.?\d*|\.\d+)(\s*±\s*(\d+\.?\d*|\.\d+))?(\s*(:|to)\s*1)?")


@lru_cache(maxsize=KEPT)
def understood(entry: Entry[Any], text: str, chosen: Unit | None = None) -> str:
    """Return what a text was taken for, or nothing where it says just that, or cannot be read.

    Parameters
    ----------
    chosen : Unit, optional
        The unit that stands beside the box, if not the field's own.

    Notes
    -----
    ``=`` stands before a number that is the one typed, ``≈`` before one that was rounded.

    Examples
    --------
    >>> from calculators.bench.entries import length
    >>> bore = length("Bore", 1, 200, why="engines")
    >>> [understood(bore, text) for text in ("80", "80,5", "3/8 in", "3 1/4in", "80.5mm", "3 furlong")]
    ['', '= 80.5 mm', '= 9.525 mm', '= 82.55 mm', '', '']
    """
    if not text.strip() or len(text) > _LONG:
        return ""
    kind = entry.kind
    try:
        if isinstance(kind, Date):
            day = kind.read(text, str)
            return "" if text.strip() == day.isoformat() else f"= {day.day} {day:%B} {day.year}"
        if not isinstance(kind, Measure | Number | Series):
            return ""
        own = unit(entry.own_unit) if entry.own_unit else None
        beside = (chosen or own) if own else None
        if beside and own and beside.kind != own.kind:
            return ""  # the error beside the field says so
        parts = split_line(text) if isinstance(kind, Series) else [text]
        apart = isinstance(kind, Series) and kind.run_on and len(parts) == 1  # 1432 may be four entries
        if not apart and "," not in text and all(_says_it(part, beside) for part in parts):
            return ""
        value = kind.read(text, str, beside.symbol if beside else None)
    except ValueError:  # the error beside the field says what is wrong
        return ""
    entries = value if isinstance(kind, Series) else (value,)
    if apart and len(entries) == 1 and _says_it(text, beside):
        return ""
    if len(entries) > _MOST:
        return f"= {len(entries)} entries"
    numbers = [_number(entry, beside) for entry in entries]
    exact = all(words.exact for words in numbers)
    after = f"{'' if beside.symbol in '°%' else ' '}{beside.symbol}" if beside else ""
    return f"{'=' if exact else '≈'} {'; '.join(words.text for words in numbers)}{after}"


@dataclass(frozen=True, slots=True)
class _Words:
    """A number as it is said, and whether that is all of it."""

    text: str
    exact: bool


def _says_it(part: str, beside: Unit | None) -> bool:
    """Tell whether a text is how we would write it: a point, no fraction, no unit but the one that stands beside."""
    part = part.strip()
    if beside:
        part = part.removesuffix(beside.symbol).rstrip()
    return _PLAIN.fullmatch(part) is not None


def _number(entry: Any, beside: Unit | None) -> _Words:
    """Write one reading in the unit beside its box, with the ± that was typed."""
    if beside is None:
        return _rounded(entry)
    written = _rounded(magnitude_in(entry, beside.symbol))
    spread = uncertainty_in(entry, beside.symbol)
    if not spread:
        return written
    limit = _rounded(limit_of(spread))  # as ``measured`` took it
    return _Words(f"{written.text} ± {limit.text}", written.exact and limit.exact)


def _rounded(number: float) -> _Words:
    places = FIGURES - 1 - math.floor(math.log10(abs(number))) if number else 0
    near = round(number, places)
    return _Words(plain(near), math.isclose(near, number, rel_tol=1e-9))
