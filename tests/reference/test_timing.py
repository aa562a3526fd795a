"""Marks, stop, dwell, advance and cam against outside figures and libraries."""

import numpy as np
import pytest
from scipy import optimize, stats

from calculators.formulas.cam_events import duration, lobe_centre
from calculators.formulas.ignition_timing import advance_at, dwell_angle, evening_shift, gap_for


@pytest.mark.parametrize(("lobes", "dwell"), [(4, 54), (6, 36), (8, 27)])
def test_dwell_of_sixty_per_cent(lobes, dwell):
    """The definition of dwell (closed form)."""
    assert dwell_angle(60.0, lobes) == pytest.approx(dwell)


def test_advance_curve_is_numpy_s():
    """numpy.interp."""
    curve = ((1100.0, 7.0), (1600.0, 18.0), (2400.0, 21.0), (3200.0, 30.0))
    speeds = np.linspace(0, 4600, 93)
    theirs = np.interp(speeds, *zip(*curve, strict=True))
    assert [advance_at(float(speed), curve) for speed in speeds] == pytest.approx(list(theirs))


@pytest.mark.parametrize("deviations", [(0.5, 0.6, 0.6, 2.2, 1.2, 3.5), (-3.0, 1.0), (4.0,)])
def test_no_other_shift_leaves_less(deviations):
    """scipy.optimize.minimize_scalar of the largest deviation."""
    theirs = optimize.minimize_scalar(
        lambda shift: max(abs(one - shift) for one in deviations), bounds=(-10, 10), method="bounded"
    )
    shift, rest = evening_shift(deviations)
    assert shift == pytest.approx(theirs.x, abs=1e-3)
    assert rest == pytest.approx(theirs.fun, abs=1e-3)


def test_gap_for_a_dwell_is_on_numpy_s_line():
    """numpy.polyfit of degree one."""
    slope, start = np.polyfit([53.0, 48.0], [0.35, 0.45], 1)
    assert gap_for(50.0, (0.35, 53.0), (0.45, 48.0)) == pytest.approx(slope * 50 + start)


@pytest.mark.parametrize(("opens", "closes"), [(8, 40), (30, 70), (-5, 25)])
def test_lobe_centre_is_the_circular_mean_of_opening_and_shutting(opens, closes):
    """scipy.stats.circmean over a cycle of 720°, overlap top dead centre its nought."""
    mean = stats.circmean([-opens, 180 + closes], high=720, low=0)
    assert lobe_centre(opens, duration(opens, closes)) == pytest.approx(mean)
