"""Screw, lever and heat held against a solver of the linkage."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calculators.formulas.adjuster_screw import leverage, screw_turn
from calculators.formulas.thermal_growth import gap_growth


def tip_height(ratio, shaft, pushrod):
    """Where the rocker's valve end stands when its pushrod end touches the pushrod: the angle found by scipy."""
    arm = 24.0
    angle = brentq(lambda tilt: shaft + arm * math.sin(tilt) - pushrod, -1.0, 1.0, xtol=1e-15)
    return shaft - ratio * arm * math.sin(angle)


moves = st.floats(-1.0, 1.0)


@given(st.floats(0.7, 2.5), moves, moves, moves)
def test_a_rocker_solved_as_a_linkage_gives_the_same_gap(ratio, shaft, pushrod, stem_tip):
    gap = tip_height(ratio, shaft, pushrod) - stem_tip
    assert gap_growth(ratio, shaft, pushrod, stem_tip) == pytest.approx(gap, abs=1e-9)


@given(st.floats(0.7, 2.5), st.floats(0.25, 3.0), st.floats(-60.0, 60.0))
def test_a_screw_turned_on_a_rocker_solved_as_a_linkage_moves_the_gap_so(ratio, pitch, turn):
    travel = pitch * turn / 360  # a clockwise turn, towards the pushrod or the stem
    in_pushrod_end = tip_height(ratio, 0.0, travel) - tip_height(ratio, 0.0, 0.0)
    under_pivot_nut = tip_height(ratio, -travel, 0.0) - tip_height(ratio, 0.0, 0.0)
    assert screw_turn(-in_pushrod_end, pitch, leverage("pushrod", ratio)) == pytest.approx(turn, abs=1e-6)
    assert screw_turn(-under_pivot_nut, pitch, leverage("pivot", ratio)) == pytest.approx(turn, abs=1e-6)
