"""Distances along a rim, and top dead centre by a stop."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from calculators.formulas.rim_marks import (
    crank_angle,
    nearest_turn,
    rim_angle,
    rim_chord,
    rim_distance,
    stop_middle,
    unsigned,
)
from calculators.formulas.slider_crank import piston_travel

angles = st.floats(-180, 180)
diameters = st.floats(40, 600)


def test_half_way_round_dividers_span_the_diameter():
    assert rim_chord(180.0, 168.0) == pytest.approx(168.0)
    assert rim_chord(-180.0, 168.0) == pytest.approx(168.0)


@given(angles, diameters)
def test_dividers_never_span_more_than_the_tape(angle, diameter):
    assert rim_chord(angle, diameter) <= abs(rim_distance(angle, diameter)) + 1e-9


@given(angles, diameters)
def test_a_distance_gives_its_angle_back(angle, diameter):
    assert rim_angle(rim_distance(angle, diameter), diameter) == pytest.approx(angle, abs=1e-9)


@given(st.floats(-2000, 2000))
def test_whole_turns_are_taken_off(angle):
    turned = nearest_turn(angle)
    assert -180 < turned <= 180
    assert (angle - turned) / 360 == pytest.approx(round((angle - turned) / 360), abs=1e-9)


# by hand: midway, on the side of the shorter arc
@pytest.mark.parametrize(
    ("forwards", "backwards", "middle", "half"),
    [(-32.5, 38.5, 3, 35.5), (325, 35, 0, 35), (170, 210, -170, 20), (-38.5, 32.5, -3, 35.5), (5, 355, 0, 5)],
)
def test_the_top_is_midway_between_the_readings(forwards, backwards, middle, half):
    assert stop_middle(forwards, backwards) == pytest.approx((middle, half))


@given(st.floats(-300, 300), st.floats(1, 70), st.floats(-180, 180))
def test_a_wheel_set_otherwise_only_moves_the_middle(start, half, shift):
    middle, found = stop_middle(start - half, start + half)
    moved, same = stop_middle(start - half + shift, start + half + shift)
    assert found == pytest.approx(half, abs=1e-9)
    assert same == pytest.approx(half, abs=1e-9)
    assert nearest_turn(moved - middle - shift) == pytest.approx(0, abs=1e-6)


def test_both_readings_share_in_the_uncertainty_of_the_top():
    # by hand: the mean of two independent readings is 1/√2 as uncertain as one
    middle, half = stop_middle(ufloat(-32.5, 0.3), ufloat(38.5, 0.3))
    assert (middle.std_dev, half.std_dev) == pytest.approx((0.3 / 2**0.5,) * 2)


@given(st.floats(1, 179), st.floats(20, 250), st.floats(0.6, 5))
def test_a_travel_gives_its_crank_angle_back(angle, stroke, rod):
    travel = piston_travel(angle, stroke, rod * stroke)
    assert crank_angle(travel, stroke, rod * stroke) == pytest.approx(angle, abs=1e-5)


def test_a_sign_is_dropped_and_an_uncertainty_kept():
    turned = unsigned(ufloat(-3.0, 0.2))
    assert (turned.nominal_value, turned.std_dev) == (3.0, 0.2)
    assert unsigned(0.0) == 0
