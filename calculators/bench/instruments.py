"""Readings of one instrument: what it is off by is common to all of them, how finely it is read is each one's own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from uncertainties import UFloat, Variable, ufloat

from calculators.bench.entries import Quantity
from calculators.bench.report import Source
from calculators.bench.units import EXPANSION, figures, magnitude_in, number_in
from calculators.formulas.measured_mean import coverage_factor, effective_degrees, widened

DECISION = Source("ISO 14253-1, decision rules; U with k = 2, JCGM 100:2008 (GUM), 6.2", "memory")
"""When a number with its uncertainty is in, out or too close to call."""
_ROOT_3 = 3**0.5


def read_by_instrument(
    readings: Sequence[Quantity],
    symbol: str,
    *,
    instrument: str,
    limit: Quantity,
    read_to: Quantity | None = None,
    one: bool = True,
) -> tuple[Any, ...]:
    """Return readings as bare numbers, with what the instrument adds to their uncertainty.

    Parameters
    ----------
    readings : sequence of Quantity
        A ± typed with one is the whole of its uncertainty; what another question worked out stays as it is.
    symbol : str
        The unit of the numbers, ``"cm³"``.
    instrument : str
        Which one (``"burette"``): all readings of it, in whatever question, share one error.
    limit : Quantity
        By how much it may be off, either way, the same for each reading.
    read_to : Quantity, optional
        By how much a single reading of its scale may be off, either way, each by itself.
    one : bool
        Whether one instrument read them all. Several are off each by itself, and a typed ± is its reading's own.

    Returns
    -------
    tuple of float or AffineScalarFunc

    Notes
    -----
    Rectangular distributions, u = limit / √3. The common error drops out of a difference and adds up in a sum.
    A typed ± is split into what a reading is read to, which is its own, and the rest, which is the instrument's.

    References
    ----------
    JCGM 100:2008 (GUM), 4.3.7 (rectangular distribution), 5.2 and F.1.2.3 (correlated by one instrument).
    """
    off = magnitude_in(limit, symbol) / _ROOT_3
    own = magnitude_in(read_to, symbol) / _ROOT_3 if read_to is not None else 0.0
    numbers = []
    for reading in readings:
        number = number_in(reading, symbol)
        typed = _typed(number, instrument)
        if typed is not None:
            number = _split(number, typed, own, instrument) if one else number
        elif not isinstance(number, UFloat):
            error = common_error(instrument, off * _ROOT_3) if one else _own(off, f"The {instrument}")
            number = number + error + _own(own, f"Reading the {instrument}")
        numbers.append(number)
    return tuple(numbers)


def common_error(instrument: str, limit: float) -> Any:
    """Return what one instrument is off by: nought, give or take its limit, one unknown for all who ask."""
    return limit / _ROOT_3 * _unknown(instrument) if limit else 0.0


@cache
def _unknown(instrument: str) -> Variable:
    return ufloat(0.0, 1.0, f"The {instrument}")


def _own(deviation: float, name: str) -> Any:
    return ufloat(0.0, deviation, name) if deviation else 0.0


def _typed(number: Any, instrument: str) -> Variable | None:
    """Return the unknown of a ± typed with a reading, None where there is none or a question worked the number out."""
    if not isinstance(number, UFloat):
        return None
    unknowns = [unknown for unknown, share in number.error_components().items() if share]
    if len(unknowns) != 1 or unknowns[0] is _unknown(instrument):
        return None
    typed = unknowns[0].nominal_value or not number.nominal_value  # what a question adds of its own lies about nought
    return unknowns[0] if typed else None


def _split(number: Any, typed: Variable, own: float, instrument: str) -> Any:
    """Return a reading typed with its ±, which is the instrument's but for what it is read to."""
    whole = float(number.std_dev)
    if whole <= own:
        return number
    alone = (number - number.nominal_value) * (own / whole) if own else 0.0
    return float(number.nominal_value) + alone + math.sqrt(whole**2 - own**2) * _unknown(instrument)


class Scatter(str):
    """The name of an influence that is known from a few repeated readings; its degrees of freedom go with it.

    Parameters
    ----------
    name : str
    degrees : int
        Of the readings that it was found from: one ``Scatter`` for all that share them.
    """

    degrees: int

    def __new__(cls, name: str, degrees: int) -> Scatter:
        made = super().__new__(cls, name)
        made.degrees = degrees
        return made


@dataclass(frozen=True, slots=True)
class Expanded:
    """A number judged by how few readings lie behind it.

    Parameters
    ----------
    number : ufloat or float
    combined : float
        The combined standard uncertainty u.
    degrees : float
        Effective degrees of freedom; infinite where no scatter has a say.
    factor : float
        Coverage factor k.
    """

    number: Any
    combined: float
    degrees: float
    factor: float

    @property
    def value(self) -> Any:
        """The number with a standard deviation of k/2 times u, so that twice it is the expanded uncertainty."""
        return self.number if self.factor == EXPANSION else widened(self.number, self.factor / EXPANSION)

    @property
    def best(self) -> float:
        return float(self.number.nominal_value if isinstance(self.number, UFloat) else self.number)

    @property
    def spread(self) -> float:
        """The expanded uncertainty U."""
        return self.factor * self.combined

    def certainty(self, symbol: str) -> tuple[tuple[str, Any], ...]:
        """Return u, its degrees of freedom and k, for the working."""
        degrees = figures(math.floor(self.degrees + 1e-9), 0) if self.degrees < 1000 else "more than 1000"
        return (
            ("u", f"{self.combined:.3g} {symbol}".rstrip()),
            ("degrees of freedom", degrees),
            ("k", figures(self.factor, 2)),
        )


def expanded(number: Any) -> Expanded:
    """Widen a number's uncertainty to what the few readings behind it allow; call it last, on what is shown or judged.

    Examples
    --------
    >>> few = ufloat(49.1, 0.1, Scatter("Scatter of the readings", 2))
    >>> expanded(few).factor, expanded(few - few + 49.1).factor, expanded(49.1).spread
    (4.53, 2.0, 0.0)

    References
    ----------
    JCGM 100:2008 (GUM), G.4.1 and Table G.2 (95.45 %).
    """
    components = number.error_components() if isinstance(number, UFloat) else {}
    combined = math.sqrt(sum(share**2 for share in components.values()))  # its std_dev, which would look them up again
    if not combined:
        exact = float(number.nominal_value if isinstance(number, UFloat) else number)
        return Expanded(exact, 0.0, math.inf, float(EXPANSION))
    pools: dict[int, tuple[float, int]] = {}
    for unknown, share in components.items():
        if isinstance(unknown.tag, Scatter):
            known = pools.get(id(unknown.tag), (0.0, 0))[0]
            pools[id(unknown.tag)] = (math.hypot(known, share), unknown.tag.degrees)
    degrees = effective_degrees(combined, [part for part in pools.values() if part[0] and part[1]])
    factor = coverage_factor(degrees)
    return Expanded(number, combined, degrees, factor)
