"""Verdicts with all of the uncertainty."""

from hypothesis import given
from hypothesis import strategies as st

from calculators.bench.units import reading
from calculators.bench.verdict import expanded_of, verdict_on


@given(st.floats(0, 10), st.floats(0.01, 2))
def test_never_in_while_the_interval_crosses_the_limit(number, spread):
    value = reading(number, spread, "Dry")
    crosses = number - expanded_of(value) < 5 - 1e-6 and number + expanded_of(value) > 5 + 1e-6
    if crosses:
        assert verdict_on(value, low=5.0) == verdict_on(value, high=5.0) == "too close to call"


def test_a_sum_of_decimals_on_a_limit_is_on_it():
    assert 0.1 + 0.2 > 0.3  # as floats
    assert verdict_on(0.1 + 0.2, high=0.3) == "in"
    assert verdict_on(-(0.1 + 0.2), low=-0.3) == "in"
