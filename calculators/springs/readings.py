"""What reads a spring, and how far off it is: calliper, micrometer, tester, and the count of the coils."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from calculators.bench import Entry, Quantity, magnitude_in, number, read_by_instrument, shared
from calculators.bench.entries import either_way
from calculators.bench.units import reading, uncertainty_in

READINGS = "How good the readings are"
_WINS = "Plus or minus, the same in all its readings. A ± typed with a reading wins over it."


def _limit(label: str, own: str, high: float, usual: str, shared_as: str, said: str, hint: str) -> Entry[Quantity]:
    facts = {"hint": hint, "usual": usual, "shared_as": shared_as, "refines": READINGS, "said": said}
    return shared.error_limit(label, own, high, **facts)


length_error = _limit("Error limit of the calliper", "mm", 5, "0.1 mm", "calliper_error", "calliper ± {}", _WINS)
length_scatter = _limit(
    "Scatter of the calliper",
    "mm",
    5,
    "0.05 mm",
    "calliper_scatter",
    "read to ± {}",
    "Plus or minus, when one length is read again: it counts when two are compared (common practice).",
)
wire_error = _limit("Error limit of the wire diameter", "mm", 1, "0.02 mm", "wire_error", "wire ± {}", _WINS)
stop_error = _limit(
    "Error limit of the tester's lengths", "mm", 5, "0.1 mm", "tester_length_error", "its lengths ± {}", _WINS
)
load_error = _limit("Error limit of the loads", "N", 200, "4 N", "tester_error", "tester ± {}", _WINS)
load_scatter = _limit(
    "Scatter of the loads",
    "N",
    200,
    "2 N",
    "tester_scatter",
    "again ± {}",
    "Plus or minus, when one spring is pressed again to the same length (common practice).",
)
coils_error = either_way(
    number(
        "Error limit of the coils",
        0,
        2,
        why="a larger error is not a count",
        hint="Plus or minus, for each count; 0.125 where they are counted to a quarter turn (common practice).",
        usual="0.125",
        shared_as="coils_error",
        refines=READINGS,
        said="coils ± {}",
    )
)


def by_calliper(value: Quantity, name: str, limit: Quantity, scatter: Quantity) -> Any:
    """Return a length in mm; one reading, known by its name, has one scatter wherever it is read."""
    return _read(value, "mm", "calliper", name, limit, scatter)


def by_micrometer(value: Quantity, limit: Quantity) -> Any:
    """Return a wire's diameter in mm."""
    return read_by_instrument([value], "mm", instrument="micrometer", limit=limit)[0]


def by_stop(value: Quantity, limit: Quantity) -> Any:
    """Return the length in mm to which a spring was pressed in the tester."""
    return read_by_instrument([value], "mm", instrument="tester's length", limit=limit)[0]


def by_tester(value: Quantity, name: str, limit: Quantity, scatter: Quantity) -> Any:
    """Return a load in N; one reading, known by its name, has one scatter wherever it is read."""
    return _read(value, "N", "spring tester", name, limit, scatter)


def counted(number: float, name: str, limit: float) -> Any:
    """Return a count of coils with its error limit."""
    return number + own_error(name, limit)


def _read(value: Quantity, symbol: str, instrument: str, name: str, limit: Quantity, scatter: Quantity) -> Any:
    (number,) = read_by_instrument([value], symbol, instrument=instrument, limit=limit)
    if uncertainty_in(value, symbol) is not None:
        return number
    return number + own_error(name, magnitude_in(scatter, symbol))


@lru_cache(maxsize=256)
def own_error(name: str, limit: float) -> Any:
    """Return what one reading is off by itself: the same object for all who ask for it by its name."""
    return reading(0.0, limit, name)
