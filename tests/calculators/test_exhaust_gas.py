"""Air over the air that the fuel wants, from the exhaust."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.exhaust_gas import air_ratio


@given(st.floats(0, 10), st.floats(5, 15), st.floats(0, 5), st.floats(0, 0.2), st.floats(0.01, 1))
def test_more_oxygen_is_leaner_and_more_unburnt_fuel_richer(co, co2, o2, hc, more):
    here = air_ratio(co, co2, o2, hc)
    assert air_ratio(co, co2, o2 + more, hc) > here
    assert air_ratio(co, co2, o2, hc + more) < here


def test_all_burnt_without_a_rest_is_one():
    assert air_ratio(0, 15, 0, 0) == pytest.approx(1)
