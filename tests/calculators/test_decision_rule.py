"""The decision rule: in and out only where the whole interval is, in any unit, with one limit or two."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from calculators import quantity
from calculators.formulas.decision_rule import judged


@pytest.mark.parametrize(
    ("value", "expanded", "verdict"),
    [
        (7.6, 0.1, "in"),
        (7.5, 0.1, "in"),
        (7.49, 0.1, "too close to call"),
        (7.85, 0.1, "too close to call"),
        (7.91, 0.1, "out"),
        (7.29, 0.1, "out"),
        (7.8, 0.0, "in"),
        (7.81, 0.0, "out"),
    ],
)
def test_judges_by_the_whole_interval(value, expanded, verdict):
    """ISO 14253-1, rules for proving conformity and nonconformity (from memory)."""
    assert judged(value, expanded, 7.4, 7.8, grain=1e-9) == verdict


def test_limits_are_themselves_allowed():
    assert judged(1.0, 0.25, 0.75, 1.25) == "in"
    assert judged(0.5, 0.25, 0.75) == "too close to call"
    assert judged(1.5, 0.25, high=1.25) == "too close to call"


def test_an_interval_wider_than_the_band_is_never_in():
    assert judged(7.6, 0.21, 7.4, 7.8) == "too close to call"


def test_one_limit_will_do():
    assert [judged(value, 0.02, low=1.0) for value in (1.03, 1.01, 0.99, 0.97)] == [
        "in",
        "too close to call",
        "too close to call",
        "out",
    ]
    assert [judged(value, 0.02, high=1.0) for value in (0.97, 0.99, 1.01, 1.03)] == [
        "in",
        "too close to call",
        "too close to call",
        "out",
    ]


def test_an_end_within_the_grain_of_a_limit_is_on_it():
    beyond = 7.8 + 4e-10
    assert judged(beyond, 0.0, 7.4, 7.8) == "out"
    assert judged(beyond, 0.0, 7.4, 7.8, grain=1e-9) == "in"
    assert judged(7.4 - 4e-10, 0.0, 7.4, 7.8, grain=1e-9) == "in"


def test_an_interval_that_ends_on_a_limit_from_outside_is_not_out():
    # the limit itself is allowed, and the grain makes it wider to both sides
    for beyond in (0.0, 4e-10):
        assert judged(7.3 - beyond, 0.1, 7.4, 7.8, grain=1e-9) == "too close to call"
        assert judged(7.9 + beyond, 0.1, 7.4, 7.8, grain=1e-9) == "too close to call"
    assert judged(7.3 - 2e-9, 0.1, 7.4, 7.8, grain=1e-9) == "out"
    assert judged(7.9 + 2e-9, 0.1, 7.4, 7.8, grain=1e-9) == "out"


def test_takes_quantities_in_any_unit():
    # 6 thou is 0.1524 mm, 8 thou 0.2032 mm (the inch is 25.4 mm exactly: international yard and pound agreement, 1959)
    low, high = quantity(6.0, "thou"), quantity(8.0, "thou")
    assert judged(quantity(0.18, "mm"), quantity(0.02, "mm"), low, high) == "in"
    assert judged(quantity(0.17, "mm"), quantity(0.02, "mm"), low, high) == "too close to call"
    assert judged(quantity(0.23, "mm"), quantity(1.0, "thou"), low, high) == "out"
    assert judged(quantity(0.2032 + 1e-7, "mm"), quantity(0.0, "mm"), low, high, grain=quantity(1e-6, "mm")) == "in"


@given(st.floats(-5, 5), st.floats(0.01, 3), st.floats(0.1, 4))
def test_a_call_is_wrong_once_in_twenty_at_most(value, deviation, width):
    """scipy.stats.norm: of normal readings with U = 2u, the true value bears the call out with 95 % or more."""
    inside = stats.norm(value, deviation).cdf(width) - stats.norm(value, deviation).cdf(-width)
    verdict = judged(value, 2 * deviation, -width, width)
    if verdict == "in":
        assert inside >= 0.95
    elif verdict == "out":
        assert inside <= 0.05


@given(st.floats(0, 3), st.floats(0, 1), st.floats(0, 1))
def test_a_better_reading_never_takes_a_call_back(value, expanded, part):
    verdict = judged(value, expanded, 1.0, 2.0)
    if verdict != "too close to call":
        assert judged(value, part * expanded, 1.0, 2.0) == verdict
