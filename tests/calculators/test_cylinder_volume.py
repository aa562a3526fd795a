"""Volumes and ratio: each formula, in bare numbers, quantities and measured numbers alike."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from calculators import magnitude_in, quantity
from calculators.formulas.cylinder_volume import (
    bore_area,
    clearance_for_ratio,
    clearance_volume,
    compression_ratio,
    deck_clearance,
    swept_volume,
)

lengths = st.floats(20, 250)
volumes = st.floats(1, 2000)


def test_area_is_that_of_a_circle():
    assert bore_area(2.0) == pytest.approx(math.pi, rel=1e-15)


def test_swept_volume_takes_quantities_of_any_length_unit():
    in_inches = swept_volume(quantity(2, "in"), quantity(25.4, "mm"))
    assert magnitude_in(in_inches, "in³") == pytest.approx(math.pi, rel=1e-12)


def test_deck_clearance_adds_gap_spacers_and_gasket():
    assert deck_clearance(-0.2, 1.5, 0.25) == pytest.approx(1.55)


def test_dish_adds_room_and_dome_takes_it():
    flat, dish, dome = (clearance_volume(50.0, 50.0, 0.1, crown, 0.5) for crown in (0.0, 3.0, -3.0))
    assert (flat, dish, dome) == pytest.approx((55.5, 58.5, 52.5))


def test_piston_standing_proud_takes_room():
    assert clearance_volume(50.0, 50.0, -0.02, 0.0, 0.0) == pytest.approx(49.0)


def test_measured_numbers_keep_what_they_share():
    bore = ufloat(80, 0.1)
    one, other = (compression_ratio(swept_volume(bore, 74.0), volume) for volume in (56000.0, 56000.0))
    assert (one - other).std_dev == 0  # the same bore: its error cancels


@given(lengths, lengths, st.floats(3, 20))
def test_clearance_for_a_ratio_gives_that_ratio(bore, stroke, ratio):
    swept = swept_volume(bore, stroke)
    assert compression_ratio(swept, clearance_for_ratio(swept, ratio)) == pytest.approx(ratio, rel=1e-12)


@given(volumes, volumes, st.floats(0.01, 50))
def test_more_room_always_lowers_the_ratio(swept, clearance, more):
    assert compression_ratio(swept, clearance + more) < compression_ratio(swept, clearance)


@given(volumes, volumes, st.floats(0.1, 10))
def test_ratio_does_not_change_with_the_engine_s_scale(swept, clearance, scale):
    assert compression_ratio(scale * swept, scale * clearance) == pytest.approx(compression_ratio(swept, clearance))
