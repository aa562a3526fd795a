"""Leakage by two gauges, and the flow through holes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from calculators.formulas.leakage import CRITICAL, flow_factor, held_ratio, hole_share, leak_share, mass_flow

supplies = st.floats(1.5, 12)
shares = st.floats(0.01, 0.99)


def test_a_tight_cylinder_leaks_nothing_and_an_open_one_all():
    assert leak_share(5.5, 5.5) == 0
    assert leak_share(5.5, 0.0) == 100


@given(supplies, shares, st.floats(0.001, 0.5))
def test_less_held_is_more_leakage_and_a_larger_hole(supply, share, less):
    held = 1 + (supply - 1) * share
    lower = 1 + (supply - 1) * share * (1 - less)
    assert leak_share(supply, lower) > leak_share(supply, held)
    assert hole_share(supply, lower, 1.0) > hole_share(supply, held, 1.0)


@given(st.floats(0, CRITICAL))
def test_below_the_critical_ratio_the_flow_rises_no_more(ratio):
    assert flow_factor(ratio) == pytest.approx(flow_factor(CRITICAL))


@given(st.floats(CRITICAL, 0.999), st.floats(1e-4, 0.1))
def test_above_it_less_pressure_behind_lets_more_through(ratio, more):
    assert flow_factor(ratio) > flow_factor(min(1.0, ratio + more))


def test_equal_pressures_let_nothing_through():
    assert flow_factor(1.0) == 0
    assert mass_flow(2e5, 2e5, 293.15, 1e-6) == 0


@pytest.mark.parametrize("higher", [1.0001, 1.5, 3.0])
def test_nothing_flows_against_a_higher_pressure(higher):
    assert flow_factor(higher) == 0
    assert flow_factor(ufloat(higher, 0.01)) == 0


@given(supplies, shares)
def test_what_comes_in_by_the_orifice_leaves_by_the_hole(supply, share):
    held = 1 + (supply - 1) * share
    times = hole_share(supply, held, 1.0)
    into = mass_flow(supply * 1e5, held * 1e5, 293.15, 1e-6)
    out = mass_flow(held * 1e5, 1e5, 293.15, times * 1e-6)
    assert into == pytest.approx(out, rel=1e-9)


@given(st.floats(CRITICAL + 0.01, 0.999))
def test_a_flow_gives_its_pressure_ratio_back(ratio):
    assert held_ratio(flow_factor(ratio)) == pytest.approx(ratio, abs=1e-9)


def test_an_uncertain_flow_gives_an_uncertain_ratio():
    slope = (flow_factor(0.801) - flow_factor(0.799)) / 0.002
    found = held_ratio(ufloat(flow_factor(0.8), 0.01))
    assert found.std_dev == pytest.approx(abs(0.01 / slope), rel=1e-3)
