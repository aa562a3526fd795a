"""Caps, cones and what a burette fills: signs, edges, and shapes that must agree with each other."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from calculators.formulas.chamber_shape import cap_volume, crown_volume, frustum_volume, poured_volume
from calculators.formulas.cylinder_volume import bore_area

LENGTHS = st.floats(0.1, 200)


@given(LENGTHS)
def test_a_cap_as_high_as_its_radius_is_half_a_ball(radius):
    assert cap_volume(2 * radius, radius) == pytest.approx(2 / 3 * math.pi * radius**3)


@given(LENGTHS, LENGTHS)
def test_a_dish_is_a_dome_with_the_other_sign(diameter, height):
    assert cap_volume(diameter, -height) == -cap_volume(diameter, height)


@given(LENGTHS, LENGTHS)
def test_a_cone_with_like_ends_is_a_cylinder_and_one_with_a_point_a_third_of_it(diameter, height):
    whole = bore_area(diameter) * height
    assert frustum_volume(diameter, diameter, height) == pytest.approx(whole)
    assert frustum_volume(diameter, 0, height) == pytest.approx(whole / 3)


@given(LENGTHS, LENGTHS, LENGTHS)
def test_either_end_of_a_cone_may_come_first(wide, narrow, height):
    assert frustum_volume(wide, narrow, height) == pytest.approx(frustum_volume(narrow, wide, height))


def test_nothing_high_holds_nothing():
    assert cap_volume(80.0, 0.0) == frustum_volume(80.0, 40.0, 0.0) == 0


def test_liquid_as_warm_as_the_head_is_what_was_read():
    assert poured_volume(49.5, 1.09e-3, 0.0) == 49.5


def test_warmer_liquid_takes_less_room_when_it_has_cooled():
    assert poured_volume(50.0, 7e-4, 10.0) == pytest.approx(49.65)
    assert poured_volume(50.0, 7e-4, -10.0) == pytest.approx(50.35)


@pytest.mark.parametrize(("poured", "sign"), [(60.0, 1), (50.265482457, 0), (48.0, -1)])
def test_a_dish_counts_plus_and_a_dome_minus(poured, sign):
    """The sense in which the clearance volume takes the crown; ⌀80 × 10 mm holds 50.265 cm³ (identity)."""
    crown = crown_volume(poured, bore_area(8.0), 1.0)
    assert crown == pytest.approx(0, abs=1e-6) if sign == 0 else crown * sign > 0


def test_uncertainty_goes_through():
    crown = crown_volume(ufloat(50, 0.1), 50.0, ufloat(1.0, 0.002))
    assert crown.std_dev == pytest.approx(math.hypot(0.1, 0.1))
