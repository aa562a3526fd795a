"""The height to have made for a head."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.made_spacers import made_height


def falling(starts):
    return lambda cylinder, height: starts[cylinder] - height


def test_one_barrel_gets_just_what_it_needs():
    assert made_height(falling([9.0]), (0,), (104.0,), 7.5, (0.0,), (9.0,)) == pytest.approx(1.5, abs=1e-4)


def test_two_barrels_share_the_error_evenly():
    height = made_height(falling([9.0, 9.4]), (0, 1), (104.0, 104.0), 7.5, (0.0, 0.0), (9.0, 9.0))
    assert height == pytest.approx(1.7, abs=1e-4)


def test_a_shorter_barrel_gets_so_much_more_and_counts_so():
    # under the short one stands 0.5 more: its ratio is 9 − (h + 0.5)
    height = made_height(falling([9.0, 9.0]), (0, 1), (104.0, 103.5), 7.5, (0.0, 0.0), (9.0, 9.0))
    assert height == pytest.approx(1.25, abs=1e-4)


def test_the_least_clearance_holds_it_up_and_the_most_holds_it_down():
    assert made_height(falling([9.0]), (0,), (104.0,), 7.5, (2.0,), (9.0,)) == pytest.approx(2.0)
    assert made_height(falling([9.0]), (0,), (104.0,), 7.5, (0.0,), (1.0,)) == pytest.approx(1.0)


def test_limits_of_a_shorter_barrel_count_for_what_stands_under_it():
    height = made_height(falling([9.0, 9.0]), (0, 1), (104.0, 103.5), 5.0, (0.0, 0.0), (9.0, 2.0))
    assert height == pytest.approx(1.5)


def test_no_height_where_the_limits_leave_none():
    assert made_height(falling([9.0, 9.0]), (0, 1), (104.0, 104.0), 7.5, (2.0, 0.0), (9.0, 1.0)) is None


def test_nothing_is_taken_away_from_under_a_barrel():
    assert made_height(falling([7.0]), (0,), (104.0,), 7.5, (-3.0,), (9.0,)) == 0


@given(st.lists(st.floats(6, 10), min_size=1, max_size=4), st.floats(5, 9), st.floats(0, 1), st.floats(1, 4))
def test_no_other_height_brings_the_worst_barrel_nearer(starts, target, least, most):
    heads = tuple(range(len(starts)))
    ratio = falling(starts)
    height = made_height(ratio, heads, (1.0,) * len(starts), target, (least,) * len(starts), (most,) * len(starts))

    def worst(tried):
        return max(abs(ratio(cylinder, tried) - target) for cylinder in heads)

    assert least - 1e-9 <= height <= most + 1e-9
    for step in range(101):
        assert worst(height) <= worst(least + (most - least) * step / 100) + 1e-4
