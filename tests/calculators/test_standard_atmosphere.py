"""Air pressure over altitude, edges and laws."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.standard_atmosphere import SEA_LEVEL, air_pressure

altitudes = st.floats(-430, 5000)
temperatures = st.floats(233, 328)


@given(temperatures)
def test_at_sea_level_it_is_the_standard_s_whatever_the_temperature(temperature):
    assert air_pressure(0, temperature) == pytest.approx(SEA_LEVEL)


@given(altitudes, temperatures)
def test_it_falls_with_altitude(altitude, temperature):
    assert air_pressure(altitude + 10, temperature) < air_pressure(altitude, temperature)


@given(st.floats(100, 5000), temperatures)
def test_cold_air_is_heavier_so_that_less_is_left_above(altitude, temperature):
    assert air_pressure(altitude, temperature - 5) < air_pressure(altitude, temperature)
