"""Outside checks, worked out: the same expressions on the host and in the reader's browser.

A check sets one expression of ours beside a value from elsewhere. The expression names a formula by its module,
``slider_crank.piston_travel(30, 86, 143)``, or asks a question, ``value("torque.wrench", "target", "N·m",
target="25 lb ft")``. The checks themselves stand with the tests; here is only what works them out.
"""

from __future__ import annotations

import dataclasses
import importlib
import math
import pkgutil
from collections.abc import Mapping, Sequence
from datetime import date
from enum import Enum
from typing import Any

from uncertainties import UFloat, ufloat

from calculators import formulas
from calculators.bench.asking import answered
from calculators.bench.errors import InputErrors
from calculators.bench.units import bare, magnitude_in, quantity, uncertainty_in

LAST_DIGITS = 1e-12
"""Share by which two builds of one interpreter may differ: sines and roots come from two mathematics libraries."""


def value(name: str, key: str, unit: str = "", **typed: str) -> Any:
    """Return the magnitude of one value of an answer, or without a unit its bare number or its words."""
    found = _value(name, key, typed).quantity
    if unit:
        return magnitude_in(found, unit)
    return found if isinstance(found, str) else bare(found)[0]


def spread(name: str, key: str, unit: str, **typed: str) -> float | None:
    """Return the expanded uncertainty (k = 2) of one value of an answer, without a unit that of its bare number."""
    found = _value(name, key, typed).quantity
    return uncertainty_in(found, unit) if unit else bare(found)[1]


def texts(name: str, key: str, **typed: str) -> list[str]:
    """Return one value of an answer as it is printed, in each of its units."""
    return list(_value(name, key, typed).texts)


def column(name: str, table: str, key: str, unit: str = "", **typed: str) -> list[Any]:
    """Return one column of a table of an answer: magnitudes in the unit, or without one the cells."""
    found = _of_key(answered(name, **typed).tables, table)
    place = found.columns.index(_of_key(found.columns, key))
    cells = [row.cells[place] for row in found.rows]
    return [magnitude_in(cell, unit) for cell in cells] if unit else cells


def lead(name: str, **typed: str) -> str:
    """Return an answer in one sentence."""
    return answered(name, **typed).says


def headline(name: str, **typed: str) -> str:
    """Return a question's answer as it is read at two metres."""
    return answered(name, **typed).headline


def refusal(name: str, **typed: str) -> list[str]:
    """Return what a question says to input that it refuses; nothing where it answers."""
    try:
        answered(name, **typed)
    except InputErrors as refused:
        return [error.message for error in refused.errors]
    return []


def _value(name: str, key: str, typed: Mapping[str, str]) -> Any:
    return _of_key(answered(name, **typed).values, key)


def _of_key(those: Sequence[Any], key: str) -> Any:
    for one in those:
        if one.key == key:
            return one
    raise LookupError(f"there is no {key}; there are {', '.join(one.key for one in those)}")


FORMULAS = {
    name: importlib.import_module(f"{formulas.__name__}.{name}")
    for _, name, _ in pkgutil.iter_modules(formulas.__path__)
}
"""The modules of formulas by name."""

_NAMES = {
    "column": column,
    "date": date,
    "headline": headline,
    "lead": lead,
    "math": math,
    "quantity": quantity,
    "refusal": refusal,
    "spread": spread,
    "texts": texts,
    "ufloat": ufloat,
    "value": value,
} | FORMULAS


def outcome(expression: str) -> Any:
    """Work out the expression of a check.

    Parameters
    ----------
    expression : str
        Of our own tests, never a reader's text.

    Returns
    -------
    number, str, bool, None or list of these
        An uncertain number is ``[value, standard uncertainty]``, a record the list of what it holds.

    Examples
    --------
    >>> outcome("cylinder_volume.compression_ratio(300.0, 50.0)")
    7.0
    >>> outcome("(date(2026, 11, 28), 2)")
    ['2026-11-28', 2]
    """
    return _plain(eval(expression, {"__builtins__": {"round": round, "len": len, "sorted": sorted}}, _NAMES))  # noqa: S307


def _plain(found: Any) -> Any:
    if isinstance(found, Enum):
        return _plain(found.value)
    if isinstance(found, UFloat):
        return [found.nominal_value, found.std_dev]
    if isinstance(found, date):
        return found.isoformat()
    if isinstance(found, Mapping):
        return [[_plain(key), _plain(held)] for key, held in found.items()]
    if dataclasses.is_dataclass(found) and not isinstance(found, type):
        return [_plain(getattr(found, field.name)) for field in dataclasses.fields(found)]
    if isinstance(found, list | tuple | set | frozenset):
        return [_plain(one) for one in found]
    return found


def agrees(got: Any, expected: Any, within: float = 0.0, share: float = 0.0) -> bool:
    """Tell whether an outcome is what was expected.

    Parameters
    ----------
    got, expected : plain data
        Lists agree entry by entry; what is not a number must be the same.
    within : float
        How far each number may lie from the expected one.
    share : float
        The same as a share of the expected number; the wider of both counts.

    Examples
    --------
    >>> agrees([7.04, "out"], [7, "out"], within=0.05), agrees(7.06, 7, within=0.05), agrees(1010, 1000, share=0.01)
    (True, False, True)
    """
    if isinstance(expected, list):
        return (
            isinstance(got, list)
            and len(got) == len(expected)
            and all(agrees(one, other, within, share) for one, other in zip(got, expected, strict=True))
        )
    if isinstance(expected, int | float) and not isinstance(expected, bool):
        number = isinstance(got, int | float) and not isinstance(got, bool)
        return number and abs(got - expected) <= max(within, share * abs(expected))
    return bool(got == expected)


def repeated(asked: Mapping[str, Any]) -> dict[str, Any]:
    """Work a check out again, elsewhere than where the page was made.

    Parameters
    ----------
    asked : mapping
        ``ours`` and ``expected``, ``within`` and ``share`` as above; ``host`` is the outcome at the build.

    Returns
    -------
    dict
        ``agrees`` with what was expected; ``same`` as on the host: ``"bits"``, ``"digits"`` (to
        ``LAST_DIGITS``) or ``""``.
    """
    got = outcome(asked["ours"])
    same = "bits" if got == asked["host"] else "digits" if agrees(got, asked["host"], share=LAST_DIGITS) else ""
    return {"agrees": agrees(got, asked["expected"], asked["within"], asked["share"]), "same": same}
