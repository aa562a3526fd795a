"""Moist air: what it weighs with its pressure, warmth and damp."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from calculators.formulas.moist_air import densities, vapour_pressure_saturated

kelvin = st.floats(233.15, 333.15)
pascal = st.floats(45_000, 110_000)
share = st.floats(0, 1)


@pytest.mark.parametrize(("hectopascals", "factor"), [(1000, 1.004676), (500, 1.003027)])
def test_other_gases_beside_it_let_a_little_more_water_into_the_air(hectopascals, factor):
    # by hand, from WMO-No. 8, Annex 4.B (from memory): 1.0016 + 3.15 × 10⁻⁶ p − 0.074 / p, times 611.2 Pa at 0 °C
    assert vapour_pressure_saturated(273.15, 100 * hectopascals) == pytest.approx(611.2 * factor, rel=1e-7)


def test_dry_air_is_an_ideal_gas():
    # by hand: p/(R T), R = 287.05287 J/(kg·K) (ISO 2533)
    density, dry = densities(101325.0, 288.15, 0.0)
    assert density == dry == pytest.approx(101325 / (287.05287 * 288.15))


@given(pascal, kelvin, share)
def test_damp_air_is_lighter_than_dry_and_holds_less_dry_air(pressure, temperature, humidity):
    density, dry = densities(pressure, temperature, humidity)
    none, _ = densities(pressure, temperature, 0.0)
    assert 0 < dry <= density <= none * (1 + 1e-12)


@given(pascal, st.floats(233.15, 330), share)
def test_warmer_air_is_lighter(pressure, temperature, humidity):
    assert densities(pressure, temperature + 1, humidity)[0] < densities(pressure, temperature, humidity)[0]


@given(kelvin, st.floats(45_000, 100_000), share)
def test_denser_where_the_pressure_is_higher(temperature, pressure, humidity):
    assert densities(pressure + 1000, temperature, humidity)[1] > densities(pressure, temperature, humidity)[1]


def test_water_boils_off_at_a_rising_pressure():
    # steam tables: 0.6112 kPa at the triple point, 2.339 kPa at 20 °C, 19.95 kPa at 60 °C; air adds up to 0.7 %
    for celsius, kilopascals in ((0.01, 0.6117), (20, 2.339), (40, 7.385), (60, 19.95)):
        found = vapour_pressure_saturated(celsius + 273.15, 101325.0) / 1000
        assert found == pytest.approx(kilopascals, rel=0.0075)


def test_uncertainty_goes_through():
    density, _ = densities(ufloat(101325, 1000), 293.15, 0.0)
    assert density.std_dev / density.nominal_value == pytest.approx(1000 / 101325, rel=1e-6)
