"""Formulas of a helical spring: which way they go, and in what proportion."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.helical_spring import follow_speed, rate_of_wire, shear_stress, wahl_factor


@given(st.floats(2, 6), st.floats(20, 50), st.floats(3, 10))
def test_a_thicker_wire_is_stiffer_and_a_wider_coil_softer(wire, mean, active):
    rate = rate_of_wire(wire, mean, active, 79_300)
    assert rate_of_wire(wire * 1.1, mean, active, 79_300) > rate > rate_of_wire(wire, mean * 1.1, active, 79_300)


@given(st.floats(2, 20))
def test_a_tighter_coil_has_the_higher_stress_for_its_curve(index):
    assert wahl_factor(index) > wahl_factor(index * 1.1) > 1


def test_twice_the_load_is_twice_the_stress():
    assert shear_stress(200, 4, 30) == pytest.approx(2 * shear_stress(100, 4, 30))


def test_four_times_the_load_follows_to_twice_the_speed():
    assert follow_speed(400, 0.1, 0.01) == pytest.approx(2 * follow_speed(100, 0.1, 0.01))
