"""Spans, arms, swings and flanges of a moved head."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from calculators.formulas.pushrod_geometry import flange_offset, off_square, span_after, sweep, swing

spans, slopes, shifts = st.floats(50, 600), st.floats(0, 45), st.floats(-10, 30)


@given(spans, slopes)
def test_a_head_that_stays_changes_no_span(span, slope):
    assert span_after(span, slope, 0.0) == pytest.approx(span)


@given(spans, shifts)
def test_along_the_axis_the_whole_shift_counts(span, shift):
    assert span_after(span, 0, shift) == pytest.approx(span + shift)


@given(spans, slopes, st.floats(0.01, 30))
def test_a_slope_never_asks_for_more_than_the_shift(span, slope, shift):
    assert span < span_after(span, slope, shift) <= span + shift + 1e-9


def test_a_span_s_own_error_all_but_stays_as_it_was():
    after = span_after(ufloat(276, 0.06), 8, 1.0)
    assert after.std_dev == pytest.approx(0.06, rel=1e-3)


def test_an_arm_that_reaches_half_its_length_leans_thirty_degrees():
    assert off_square(0, 12, 24) == pytest.approx(30)
    assert off_square(30, -12, 24) == pytest.approx(0)


def test_an_arm_too_short_for_its_reach_has_no_angle():
    assert off_square(0, 24.01, 24) is None
    assert off_square(0, -24.01, 24) is None


def test_a_lift_as_long_as_the_arm_swings_sixty_degrees():
    assert swing(24, 24) == pytest.approx(60)
    assert swing(48.1, 24) is None


@given(st.floats(5, 100), st.floats(-30, 30), st.floats(1, 60))
def test_the_end_wanders_least_where_it_is_square_at_half_lift(arm, off, turned):
    assert sweep(arm, off, turned) >= sweep(arm, 0, turned) - 1e-9


@given(st.floats(5, 100), st.floats(0, 30), st.floats(1, 60))
def test_it_does_not_matter_to_which_side_the_arm_is_off(arm, off, turned):
    assert sweep(arm, off, turned) == pytest.approx(sweep(arm, -off, turned), abs=1e-9)


def test_a_flange_that_faces_outwards_pushes_its_pipe():
    along, opens = flange_offset(2.0, 0)
    assert along == pytest.approx(0)
    assert opens == pytest.approx(-2)


@given(shifts, st.floats(0, 180))
def test_what_slides_and_what_opens_make_up_the_shift(shift, facing):
    along, opens = flange_offset(shift, facing)
    assert along**2 + opens**2 == pytest.approx(shift**2)
