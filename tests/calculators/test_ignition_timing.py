"""Dwell, the gap for it, and an advance curve with its readings."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.ignition_timing import (
    advance_at,
    dwell_angle,
    dwell_share,
    evening_shift,
    gap_for,
    guarded_shift,
    lobe_angle,
    spark_later,
)

CURVE = ((1100.0, 7.0), (1600.0, 18.0), (3200.0, 30.0))


@given(st.floats(1, 99), st.integers(1, 8))
def test_a_share_gives_its_dwell_back(share, lobes):
    assert dwell_share(dwell_angle(share, lobes), lobes) == pytest.approx(share)


@pytest.mark.parametrize(("lobes", "pitch"), [(1, 360), (2, 180), (3, 120), (4, 90), (5, 72), (6, 60), (8, 45)])
def test_lobes_share_one_turn(lobes, pitch):
    assert lobe_angle(lobes) == pitch
    assert dwell_share(pitch, lobes) == pytest.approx(100)


def test_more_dwell_makes_the_spark_later_by_as_many_degrees():
    # by hand: 4° more dwell opens the points 2° of the distributor later, which are 4° of the crank
    assert spark_later(4.0) == 4.0
    assert spark_later(-4.0) == -4.0


def test_the_gaps_that_were_tried_give_their_dwells():
    tries = ((0.35, 53.0), (0.45, 48.0))
    assert gap_for(53.0, *tries) == pytest.approx(0.35)
    assert gap_for(48.0, *tries) == pytest.approx(0.45)
    assert gap_for(50.5, *tries) == pytest.approx(0.40)


@given(st.floats(40, 56))
def test_more_dwell_wants_a_narrower_gap(wanted):
    tries = ((0.35, 53.0), (0.45, 48.0))
    assert gap_for(wanted + 1, *tries) < gap_for(wanted, *tries)


# by hand, on the straight pieces of the curve
@pytest.mark.parametrize(
    ("speed", "advance"), [(0, 7), (1100, 7), (1350, 12.5), (1600, 18), (2400, 24), (3200, 30), (9000, 30)]
)
def test_advance_follows_the_curve_and_is_level_outside(speed, advance):
    assert advance_at(speed, CURVE) == pytest.approx(advance)


@given(st.floats(0, 6000), st.floats(0, 500))
def test_a_rising_curve_never_falls(speed, more):
    assert advance_at(speed + more, CURVE) >= advance_at(speed, CURVE) - 1e-9


@given(st.lists(st.floats(-20, 20), min_size=1, max_size=12))
def test_the_shift_leaves_the_greatest_and_the_least_alike(deviations):
    shift, rest = evening_shift(deviations)
    assert max(deviations) - shift == pytest.approx(rest, abs=1e-9)
    assert min(deviations) - shift == pytest.approx(-rest, abs=1e-9)


@given(st.lists(st.floats(-20, 20), max_size=6), st.lists(st.floats(-20, 20), min_size=1, max_size=6), st.floats(0, 5))
def test_full_advance_never_comes_earlier_than_it_may(others, at_full, tolerance):
    shift = guarded_shift([*others, *at_full], at_full, tolerance)
    assert max(at_full) - shift <= (max(at_full) if 0 <= max(at_full) <= tolerance else 0) + 1e-9
    even, _ = evening_shift([*others, *at_full])
    assert shift >= even
    assert guarded_shift([*others, *at_full], [], tolerance) == even
