"""Readings with the instrument's limit, and verdicts with all of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import measured, quantity
from calculators._verdict import best_of, expanded_of, read_with, verdict_on


def test_a_reading_takes_the_limit_of_its_instrument():
    # by hand: a rectangular band of ± 0.2 has U = 2 · 0.2/√3 (JCGM 100:2008, 4.3.7 and 6.2)
    dry = read_with(quantity(7.0, "bar"), quantity(0.2, "bar"), "bar", "Dry")
    assert (best_of(dry), expanded_of(dry)) == pytest.approx((7.0, 0.4 / 3**0.5))
    assert [variable.tag for variable in dry.error_components()] == ["Dry"]


def test_a_limit_typed_with_the_reading_wins():
    typed = measured(quantity(7.0, "bar"), quantity(0.5, "bar"))
    assert expanded_of(read_with(typed, quantity(0.2, "bar"), "bar", "Dry")) == pytest.approx(1.0 / 3**0.5)


def test_no_limit_is_no_uncertainty():
    assert expanded_of(read_with(quantity(7.0, "bar"), quantity(0, "bar"), "bar", "Dry")) == 0


@given(st.floats(0, 10), st.floats(0.01, 2))
def test_never_in_while_the_interval_crosses_the_limit(number, spread):
    value = read_with(quantity(number, "bar"), quantity(spread, "bar"), "bar", "Dry")
    crosses = number - expanded_of(value) < 5 - 1e-6 and number + expanded_of(value) > 5 + 1e-6
    if crosses:
        assert verdict_on(value, low=5.0) == verdict_on(value, high=5.0) == "too close to call"


def test_a_sum_of_decimals_on_a_limit_is_on_it():
    assert 0.1 + 0.2 > 0.3  # as floats
    assert verdict_on(0.1 + 0.2, high=0.3) == "in"
    assert verdict_on(-(0.1 + 0.2), low=-0.3) == "in"
