"""Which way an answer goes when one reading grows, whatever the other readings of the example: what physics lets it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calculators import read_card
from calculators.bench.answer import Answer
from calculators.bench.asking import readings_of
from calculators.bench.desk import Desk
from calculators.bench.question import question
from tests.examples import examples

MARRAM = read_card(Path(__file__).parents[1] / "docs/engines/marram-f4.yml")
unhurried = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


@dataclass(frozen=True)
class Trend:
    """An answer that physics lets go one way only with a reading."""

    question: str
    reading: str
    between: tuple[float, float]
    answer: str
    rises: bool
    because: str
    typed: dict[str, str] = field(default_factory=dict)
    strictly: bool = True

    def __str__(self) -> str:
        return f"{self.reading}-{self.answer}"


def rises(name, reading, between, answer, because, typed=None, *, strictly=True) -> Trend:
    return Trend(name, reading, between, answer, True, because, typed or {}, strictly)


def falls(name, reading, between, answer, because, typed=None, *, strictly=True) -> Trend:
    return Trend(name, reading, between, answer, False, because, typed or {}, strictly)


def example(name: str, **typed: str) -> Answer:
    """Return the answer of the worked example with some of its readings typed."""
    readings = readings_of(question(name), (f"{key}={text}" for key, text in typed.items()))
    asked = Desk(readings, MARRAM, example=True).ask(name)
    assert asked.answer, (asked.errors, asked.lacking)
    return asked.answer


def cell(answer: Answer, path: str):
    """Return a number of an answer: a value's by its key, or a table's by table, row and column."""
    if " " not in path:
        return answer.value(path).as_data()["magnitude"]
    table, row, column = path.split()
    return next(one for one in answer.tables if one.key == table).as_data()["rows"][int(row) - 1][column]


def held(*trends: Trend) -> Callable[..., None]:
    """Return the test that holds these trends; a module names it ``test_...``."""

    @pytest.mark.parametrize("trend", trends, ids=str)
    @given(where=st.floats(0, 0.9), further=st.floats(0.05, 1))
    @settings(max_examples=examples(10), suppress_health_check=unhurried, deadline=None)
    def goes_the_way_that_physics_sends_it(trend, where, further):
        low, high = trend.between
        answers = []
        for share in (where, where + further * (1 - where)):
            reading = f"{low + share * (high - low):.6f}"
            answers.append(cell(example(trend.question, **trend.typed | {trend.reading: reading}), trend.answer))
        smaller, larger = answers if trend.rises else reversed(answers)
        assert smaller < larger if trend.strictly else smaller <= larger, trend.because

    return goes_the_way_that_physics_sends_it
