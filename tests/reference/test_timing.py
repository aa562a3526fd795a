"""Marks and stop against outside figures and libraries."""

import math

import numpy as np
import pytest
from scipy import optimize, stats
from shapely.geometry import Point

from calculators._catalogue import calculator
from calculators._units import magnitude_in
from calculators.formulas.rim_marks import crank_angle, rim_chord, rim_distance, stop_middle


@pytest.mark.parametrize(("diameter", "along"), [(100, 8.726646), (140, 12.217305), (165.1, 14.407693)])
def test_ten_degrees_along_three_rims(diameter, along):
    """Length of an arc (closed form)."""
    assert rim_distance(10.0, diameter) == pytest.approx(along, abs=1e-6)


@pytest.mark.parametrize("angle", [7, 30, 90, 179])
def test_dividers_span_what_shapely_measures_between_two_points(angle):
    """shapely: the distance of two points of a circle of 168 mm."""
    ends = [Point(84 * math.cos(math.radians(a)), 84 * math.sin(math.radians(a))) for a in (0, angle)]
    assert rim_chord(angle, 168.0) == pytest.approx(ends[0].distance(ends[1]))


@pytest.mark.parametrize(("forwards", "backwards"), [(325, 35), (327.5, 38.5), (350, 41), (100, 151), (-31, 40)])
def test_top_is_the_circular_mean_of_the_readings(forwards, backwards):
    """scipy.stats.circmean."""
    mean = stats.circmean([forwards, backwards], high=180, low=-180)
    assert stop_middle(float(forwards), float(backwards))[0] == pytest.approx(mean, abs=1e-9)


@pytest.mark.parametrize(("travel", "angle"), [(10.0, 35.14944), (20.0, 51.14537)])
def test_crank_angle_at_a_stop(travel, angle):
    """Stroke 86, rod 143: worked out once in two ways; and scipy.optimize.brentq on the rod's length."""
    assert crank_angle(travel, 86.0, 143.0) == pytest.approx(angle, abs=1e-5)
    pin = 43.0 + 143.0 - travel
    solved = optimize.brentq(lambda a: math.hypot(43 * math.sin(a), pin - 43 * math.cos(a)) - 143, 0.1, 2.0, xtol=1e-12)
    assert crank_angle(travel, 86.0, 143.0) == pytest.approx(math.degrees(solved), abs=1e-8)


def test_uncertain_readings_of_a_stop_spread_as_drawn_at_random():
    """numpy's random draws from the two rectangular bands (JCGM 101:2008, propagation of distributions)."""
    report = calculator("marks-and-timing").answer(
        {
            "diameter": "168",
            "crank_rotation": "clockwise",
            "firing_order": "1 4 3 2",
            "static_advance": "7",
            "full_advance": "30",
            "stop_forwards": "-32.5",
            "stop_backwards": "38.5",
            "wheel_error": "0.5",
        }
    )
    old = next(value for value in report.values if value.key == "old_mark")
    draw = np.random.default_rng(7)
    ends = draw.uniform(-33, -32, 200_000), draw.uniform(38, 39, 200_000)
    assert magnitude_in(old.quantity, "°") == pytest.approx(float(np.mean(ends)), abs=0.01)
    assert 2 * float(np.std((ends[0] + ends[1]) / 2)) == pytest.approx(2 * old.quantity.magnitude.std_dev, rel=0.01)
