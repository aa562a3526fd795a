"""Wear of bores, gaps of rings, play of stems."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.worn_fit import closing_gap, gap_of_wear, out_of_round_pair, rocked_clearance, taper_pair


def test_taper_is_that_of_the_axis_with_more_of_it():
    assert taper_pair((80.06, 80.04, 80.02), (80.04, 80.00, 80.03), float) == (80.06, 80.02)
    assert taper_pair((80.03, 80.03), (80.05, 80.01), float) == (80.05, 80.01)


def test_one_depth_has_no_taper():
    assert taper_pair((80.06,), (80.01,), float) == (80.06, 80.06)


def test_out_of_round_compares_the_axes_at_one_depth_only():
    assert out_of_round_pair((80.06, 80.01), (80.05, 80.03), float) == (80.03, 80.01)


def test_readings_may_be_more_than_numbers():
    assert taper_pair(("aaa", "a"), ("aa", "a"), len) == ("aaa", "a")
    assert out_of_round_pair(("aaa", "a"), ("aa", "aaaa"), len) == ("aaaa", "a")


@given(st.lists(st.tuples(st.floats(70, 90), st.floats(70, 90)), min_size=1, max_size=5), st.floats(-1, 1))
def test_taper_and_out_of_round_do_not_mind_the_size_or_the_order_of_axes(depths, shift):
    across, along = zip(*depths, strict=True)
    for pair in (taper_pair, out_of_round_pair):
        more, less = pair(across, along, float)
        assert more >= less
        other = pair([one + shift for one in along], [one + shift for one in across], float)
        assert other[0] - other[1] == pytest.approx(more - less, abs=1e-9)


def test_a_barrel_that_grows_as_much_as_its_ring_closes_nothing():
    assert closing_gap(80.0, (11.4e-6, 130.0), (11.4e-6, 130.0)) == 0
    assert closing_gap(80.0, (11.4e-6, 100.0), (23.6e-6, 100.0)) < 0


def test_wear_opens_a_gap_by_the_growth_of_the_circumference():
    assert gap_of_wear(0.1) == pytest.approx(math.pi * 80.1 - math.pi * 80.0)


def test_the_longer_the_lever_the_less_clearance_stands_behind_a_rock():
    assert rocked_clearance(0.3, 46.0, 0.0) == pytest.approx(0.3)
    assert rocked_clearance(0.3, 46.0, 20.0) > rocked_clearance(0.3, 46.0, 30.0) > 0
