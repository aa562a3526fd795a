"""Where the piston is, and what of the ratio is left when the inlet valve shuts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from calculators.formulas.slider_crank import effective_ratio, piston_travel, share_left

strokes = st.floats(20, 250)
rods = st.floats(0.6, 5)


def test_the_dead_centres_are_a_stroke_apart():
    assert piston_travel(0, 74.0, 132.0) == pytest.approx(0)
    assert piston_travel(180, 74.0, 132.0) == pytest.approx(74)


@given(st.floats(0, 180), strokes, rods)
def test_both_senses_of_the_crank_are_alike(angle, stroke, rod):
    assert piston_travel(-angle, stroke, rod * stroke) == pytest.approx(piston_travel(angle, stroke, rod * stroke))


@given(st.floats(0, 119), strokes, rods)
def test_a_later_closing_leaves_less_of_the_stroke(angle, stroke, rod):
    assert share_left(angle + 1, stroke, rod * stroke) < share_left(angle, stroke, rod * stroke) <= 1 + 1e-12


def test_a_longer_rod_leaves_less_after_bottom_dead_centre():
    # with a long rod the motion nears a sine, whose piston has risen further from the bottom by then
    assert share_left(60, 74.0, 400.0) < share_left(60, 74.0, 120.0)


def test_a_valve_that_shuts_at_the_bottom_keeps_the_ratio():
    assert effective_ratio(7.6, share_left(0, 74.0, 132.0)) == pytest.approx(7.6)


def test_a_valve_that_never_shuts_leaves_nothing_to_compress():
    assert effective_ratio(7.6, share_left(180, 74.0, 132.0)) == pytest.approx(1)


def test_an_uncertain_angle_makes_the_share_uncertain():
    share = share_left(ufloat(40, 2), 74.0, 132.0)
    slope = (share_left(41, 74.0, 132.0) - share_left(39, 74.0, 132.0)) / 2
    assert share.std_dev == pytest.approx(2 * abs(slope), rel=1e-3)
