"""Repeated readings: their mean, one scatter for all of them, and the price of having few."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from calculators.formulas.measured_mean import coverage_factor, effective_degrees, mean, pooled_scatter, widened

READINGS = st.lists(st.floats(-1000, 1000), min_size=1, max_size=10)


@given(READINGS)
def test_a_mean_lies_among_its_readings(readings):
    assert min(readings) - 1e-9 <= mean(readings) <= max(readings) + 1e-9


def test_one_reading_tells_nothing_of_its_scatter():
    assert pooled_scatter([(0.0,), (0.0,)]) == (0.0, 0)
    assert pooled_scatter([]) == (0.0, 0)


def test_a_single_reading_beside_others_neither_adds_nor_takes():
    assert pooled_scatter([(0.1, -0.1), (0.0,)]) == pooled_scatter([(0.1, -0.1)])


def test_each_series_costs_what_was_fitted_to_it():
    assert pooled_scatter([(0.1, -0.1, 0.1, -0.1)], fitted=3) == (pytest.approx(0.2), 1)
    assert pooled_scatter([(0.1, -0.1, 0.1)], fitted=3) == (0.0, 0)


def test_what_is_sure_has_no_end_of_degrees_of_freedom():
    assert effective_degrees(0.0, [(0.0, 2)]) == math.inf
    assert effective_degrees(1.0, []) == math.inf
    assert effective_degrees(1.0, [(0.0, 2)]) == math.inf


@given(st.floats(0.001, 10), st.integers(1, 50), st.floats(0, 10))
def test_what_is_added_beyond_doubt_only_adds_degrees_of_freedom(scatter, degrees, limit):
    effective = effective_degrees(math.hypot(scatter, limit), [(scatter, degrees)])
    assert effective >= degrees * (1 - 1e-9)


@given(st.floats(1, 1e6), st.floats(1, 1e6))
def test_more_degrees_of_freedom_never_widen(one, other):
    few, many = sorted((one, other))
    assert 2 <= coverage_factor(many) <= coverage_factor(few) <= 13.97


@pytest.mark.parametrize(
    ("degrees", "factor"), [(1, 13.97), (1.99, 13.97), (2, 4.53), (21.7, 2.13), (99, 2.05), (100, 2.025)]
)
def test_a_number_between_two_of_the_table_counts_as_the_lower(degrees, factor):
    """JCGM 100:2008 (GUM), G.4.1, Note 1."""
    assert coverage_factor(degrees) == factor


def test_rounding_does_not_cost_a_degree_of_freedom():
    assert coverage_factor(4 - 1e-12) == coverage_factor(4)


def test_widening_keeps_the_middle_and_every_share():
    scale, scatter = ufloat(0, 0.3, "scale"), ufloat(0, 0.4, "scatter")
    value = 49.5 + scale - 2 * scatter
    wide = widened(value, 1.5)
    assert wide.nominal_value == 49.5
    assert wide.std_dev == pytest.approx(1.5 * value.std_dev)
    shares = {variable.tag: part / wide.std_dev for variable, part in wide.error_components().items()}
    assert shares == {
        variable.tag: pytest.approx(part / value.std_dev) for variable, part in value.error_components().items()
    }
