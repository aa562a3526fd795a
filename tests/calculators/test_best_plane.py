"""A plane through readings round a circle: what it finds, and what it leaves over."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.best_plane import best_plane

DEPTHS = st.lists(st.floats(-5, 5), min_size=3, max_size=8)


def test_level_readings_make_a_level_plane():
    plane = best_plane((0.42,) * 5)
    assert plane.middle == pytest.approx(0.42)
    assert plane.rise == pytest.approx(0, abs=1e-12)


def test_a_level_plane_has_no_deepest_side():
    assert best_plane((0.0, 0.0, 0.0)).deepest == 0.0


@pytest.mark.parametrize("count", range(3, 9))
@pytest.mark.parametrize("deepest", [0.0, 45.0, 90.0, 200.0, 315.0])
def test_a_tilted_plane_is_found_with_its_deepest_side(count, deepest):
    depths = [
        0.4 + 0.05 * math.cos(math.radians(360 * step / count - deepest)) for step in range(count)
    ]  # a plane cut through a cylinder, by definition
    plane = best_plane(depths)
    assert plane.middle == pytest.approx(0.4)
    assert plane.rise == pytest.approx(0.05)
    assert (plane.deepest - deepest + 180) % 360 - 180 == pytest.approx(0, abs=1e-6)
    assert plane.residuals == pytest.approx([0] * count, abs=1e-12)


def test_three_points_always_lie_on_their_plane():
    assert best_plane((0.1, 0.9, -0.4)).residuals == pytest.approx((0, 0, 0), abs=1e-12)


def test_a_wrong_reading_shows_in_what_is_left_over():
    plane = best_plane((0.4, 0.4, 0.6, 0.4, 0.4, 0.4))
    assert max(range(6), key=lambda step: abs(plane.residuals[step])) == 2


@given(DEPTHS, st.floats(-5, 5))
def test_lowering_the_whole_piston_changes_the_mean_and_nothing_else(depths, down):
    one, other = best_plane(depths), best_plane([depth + down for depth in depths])
    assert other.middle == pytest.approx(one.middle + down, abs=1e-9)
    assert (other.along, other.across) == (pytest.approx(one.along, abs=1e-9), pytest.approx(one.across, abs=1e-9))
