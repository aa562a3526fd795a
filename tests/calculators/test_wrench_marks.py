"""Shares of the target, and the marks that a wrench has."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import magnitude_in, quantity, symbol_of
from calculators.formulas.wrench_marks import even_shares, nearest_mark, nip_shares


def mark(setting, step, symbol="N·m"):
    return magnitude_in(nearest_mark(quantity(setting, "N·m"), quantity(step, symbol)), symbol)


@pytest.mark.parametrize(
    ("passes", "shares"), [(1, (1,)), (2, (0.5, 1)), (3, (1 / 3, 2 / 3, 1)), (4, (0.25, 0.5, 0.75, 1))]
)
def test_even_shares_rise_in_equal_steps_to_the_whole(passes, shares):
    assert even_shares(passes) == pytest.approx(shares)
    assert even_shares(passes)[-1] == 1


@given(st.integers(2, 8), st.floats(0.01, 0.99))
def test_shares_from_a_nip_rise_evenly_to_the_whole(passes, nip):
    shares = nip_shares(passes, nip)
    assert (len(shares), shares[0], shares[-1]) == (passes, pytest.approx(nip), 1)
    steps = [later - earlier for earlier, later in itertools.pairwise(shares)]
    assert steps == pytest.approx([steps[0]] * (passes - 1))
    assert steps[0] > 0


@pytest.mark.parametrize(
    ("setting", "step", "expected"),
    [
        (11.4, 1, 11),
        (11.6, 1, 12),
        (11.5, 1, 11),
        (12.5, 1, 12),
        (12.5000001, 1, 13),
        (11.25, 0.5, 11.0),
        (11.26, 0.5, 11.5),
        (11.375, 0.25, 11.25),
        (0.3, 1, 1),
        (0.3, 0.1, 0.3),
    ],
)
def test_takes_the_nearest_mark_and_lets_a_half_go_down(setting, step, expected):
    assert mark(setting, step) == pytest.approx(expected, rel=1e-12)


def test_mark_is_in_the_unit_of_the_wrench():
    found = nearest_mark(quantity(34, "N·m"), quantity(1, "lbf·ft"))
    assert symbol_of(found) == "lbf·ft"
    assert magnitude_in(found, "lbf·ft") == pytest.approx(25)  # 34 N·m is 25.08 lbf·ft (NIST SP 811, B.8)


@given(st.floats(1, 400), st.floats(0.01, 5))
def test_mark_is_on_the_scale_and_no_farther_than_half_a_step(setting, step):
    found = mark(setting, step)
    if setting > step:
        assert abs(found - setting) <= step / 2 * (1 + 1e-6)
    assert found / step == pytest.approx(round(found / step), abs=1e-6)
    assert found >= step * (1 - 1e-12)


@given(st.floats(1, 400), st.floats(1, 400), st.floats(0.01, 5))
def test_more_torque_never_gives_a_lower_mark(one, other, step):
    low, high = sorted((one, other))
    assert mark(low, step) <= mark(high, step)
