"""What physics and the decision rule ask of an answer: each question's own test names its readings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from calculators import InputErrors
from calculators.bench import Answer
from tests.examples import examples

Ask = Callable[..., Answer]
UNHURRIED = [HealthCheck.too_slow, HealthCheck.filter_too_much]


@dataclass(frozen=True)
class Trend:
    """An answer that physics lets go one way only with a reading.

    ``number`` is the key of a value, or table, row and column of a table.
    """

    reading: str
    between: tuple[float, float]
    number: str
    because: str
    rising: bool = True
    strictly: bool = True
    written: str = "{:.6f}"
    typed: Mapping[str, str] = field(default_factory=dict)

    def __str__(self) -> str:
        return f"{self.reading}-{self.number}"


def rises(reading: str, between: tuple[float, float], number: str, because: str, **more: Any) -> Trend:
    """Say that an answer's number grows with a reading, and why."""
    return Trend(reading, between, number, because, **more)


def falls(reading: str, between: tuple[float, float], number: str, because: str, **more: Any) -> Trend:
    """Say that an answer's number shrinks as a reading grows, and why."""
    return Trend(reading, between, number, because, rising=False, **more)


def goes_as_physics_sends_it(ask: Ask, *trends: Trend) -> Callable[..., None]:
    """Return the test that each number of the answer goes the way of its trend, over all of its range."""

    @pytest.mark.parametrize("trend", trends, ids=str)
    @given(where=st.floats(0, 0.9), further=st.floats(0.05, 1))
    @settings(max_examples=examples(10), suppress_health_check=UNHURRIED)
    def test(trend: Trend, where: float, further: float) -> None:
        low, high = trend.between
        readings = (low + share * (high - low) for share in (where, where + further * (1 - where)))
        first, second = (
            cell(ask(**{**trend.typed, trend.reading: trend.written.format(reading)}), trend.number)
            for reading in readings
        )
        smaller, larger = (first, second) if trend.rising else (second, first)
        assert smaller < larger if trend.strictly else smaller <= larger, trend.because

    return test


@dataclass(frozen=True)
class Judged:
    """A verdict, the limit or reading that decides it, and the number that is judged.

    Parameters
    ----------
    field : str
        The entry that is moved until the number meets its limit.
    start : callable
        Of an answer: what to type there so that both meet.
    number : callable
        Of an answer: the number judged and its U (k = 2).
    says_in : callable
        Of an answer: whether it calls the number in.
    limit : callable
        Of what is typed, and an answer: the limit.
    above : bool
        Whether the limit is the most that is allowed, not the least.
    per : float
        By how much of the field's unit one of the number is moved.
    """

    field: str
    start: Callable[[Answer], float]
    number: Callable[[Answer], tuple[float, float]]
    says_in: Callable[[Answer], bool]
    limit: Callable[[float, Answer], float] = lambda typed, answer: typed
    above: bool = True
    per: float = 1
    typed: Mapping[str, str] = field(default_factory=dict)

    def __str__(self) -> str:
        return self.field


def is_in_only_with_its_whole_uncertainty(ask: Ask, *verdicts: Judged) -> Callable[..., None]:
    """Return the test of ISO 14253-1: *in* is said where the number with all of its U keeps the limit, nowhere else."""

    @pytest.mark.parametrize("judged", verdicts, ids=str)
    @given(share=st.floats(-2.5, 2.5))
    @settings(max_examples=examples(20), suppress_health_check=UNHURRIED)
    def test(judged: Judged, share: float) -> None:
        before = ask(**judged.typed)
        typed = round(judged.start(before) + share * judged.number(before)[1] * judged.per, 9)
        assume(typed > 0)
        try:
            answer = ask(**{**judged.typed, judged.field: f"{typed:.9f}"})
        except InputErrors:
            assert share < 0  # refused, where nothing that is wanted keeps the limit
            return
        middle, half = judged.number(answer)
        edge = abs(middle) + half if judged.above else abs(middle) - half
        limit = judged.limit(typed, answer)
        assume(abs(edge - limit) > 1e-6 * max(1, abs(limit)))  # on the limit itself either may be said
        assert judged.says_in(answer) == (edge < limit if judged.above else edge > limit)

    return test


def cell(answer: Answer, path: str) -> Any:
    """Return a number of an answer: a value's by its key, or a table's by table, row and column."""
    report = answer.as_data()
    if " " not in path:
        return next(value for value in report["values"] if value["key"] == path)["magnitude"]
    table, row, column = path.split()
    return next(one for one in report["tables"] if one["key"] == table)["rows"][int(row) - 1][column]


def number(key: str) -> Callable[[Answer], tuple[float, float]]:
    """Return how a value is read off an answer with its U."""
    return lambda answer: next(
        (value["magnitude"], value["uncertainty"]) for value in answer.as_data()["values"] if value["key"] == key
    )


def meets(key: str) -> Callable[[Answer], float]:
    """Return the limit that a value just meets."""
    return lambda answer: abs(number(key)(answer)[0])


def says(path: str, word: str = "in") -> Callable[[Answer], bool]:
    """Return whether a value or a cell begins with a verdict; behind it may stand what has no limit."""
    return lambda answer: str(cell(answer, path)).startswith(word)
