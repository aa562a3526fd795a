"""Measuring against Python's statistics, scipy's integrals, numpy's fits, and decks drawn at random."""

import math
import statistics

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered
from calculators.formulas.best_plane import best_plane
from calculators.formulas.chamber_shape import cap_volume, frustum_volume
from calculators.formulas.measured_mean import mean, pooled_scatter
from calculators.measuring.filling import EXPANSIONS


@given(st.lists(st.lists(st.floats(40, 60), min_size=2, max_size=8), min_size=1, max_size=6))
def test_pooled_scatter_is_the_mean_of_variances_weighted_by_degrees_of_freedom(series):
    """JCGM 100:2008 (GUM), 4.2.4 and H.5.2.5; the variances by Python's statistics module."""
    scatter, degrees = pooled_scatter([[reading - mean(line) for reading in line] for line in series])
    weights = [len(line) - 1 for line in series]
    expected = sum(weight * statistics.variance(line) for weight, line in zip(weights, series, strict=True))
    assert degrees == sum(weights)
    assert scatter**2 == pytest.approx(expected / sum(weights), rel=1e-9, abs=1e-12)


@given(st.floats(10, 120), st.floats(0.01, 1))
def test_a_cap_is_its_discs_added_up(diameter, part):
    """scipy.integrate.quad over the discs of a ball's cap."""
    radius, height = diameter / 2, part * diameter / 2
    ball = (radius**2 + height**2) / (2 * height)
    volume, _ = integrate.quad(lambda up: math.pi * max(ball**2 - (ball - height + up) ** 2, 0), 0, height)
    assert cap_volume(diameter, height) == pytest.approx(volume, rel=1e-6)


@given(st.floats(0.1, 120), st.floats(0, 120), st.floats(0.1, 50))
def test_a_frustum_is_its_discs_added_up(wide, narrow, height):
    """scipy.integrate.quad over the discs of a cone."""
    volume, _ = integrate.quad(lambda up: math.pi / 4 * (wide + (narrow - wide) * up / height) ** 2, 0, height)
    assert frustum_volume(wide, narrow, height) == pytest.approx(volume, rel=1e-9)


@given(st.lists(st.floats(-5, 5), min_size=3, max_size=8))
def test_plane_is_the_least_squares_answer(depths):
    """numpy.linalg.lstsq on the three columns of a plane."""
    turns = 2 * np.pi * np.arange(len(depths)) / len(depths)
    columns = np.column_stack([np.ones(len(depths)), np.cos(turns), np.sin(turns)])
    expected, *_ = np.linalg.lstsq(columns, np.array(depths), rcond=None)
    plane = best_plane(depths)
    assert [plane.middle, plane.along, plane.across] == pytest.approx(expected, abs=1e-9)
    assert plane.residuals == pytest.approx(np.array(depths) - columns @ expected, abs=1e-9)


def test_oil_expands_more_than_water_and_less_than_paraffin():
    """Thin mineral oil, 7 · 10⁻⁴/K, from memory; its place between the two is all that is checked."""
    assert EXPANSIONS["water"] < EXPANSIONS["oil"] < EXPANSIONS["paraffin"]


def test_about_95_in_100_bands_hold_the_true_deck():
    """Monte Carlo (JCGM 101:2008), numpy: readings drawn about tilted planes, a gauge within its limit, 1200 decks."""
    draw = np.random.default_rng(20240517)
    turns, held = 2 * np.pi * np.arange(4) / 4, 0
    for _ in range(300):
        gauge = draw.uniform(-0.02, 0.02)
        planes = [0.4 + gauge + 0.05 * np.cos(turns - draw.uniform(0, 6)) + draw.normal(0, 0.02, 4) for _ in range(4)]
        typed = "; ".join(" ".join(f"{depth:.4f}" for depth in line) for line in planes)
        found = answered("measuring.decks", cylinders="4", depth=typed, step="0.0001")
        for value in found.values[:4]:
            held += abs(magnitude_in(value.quantity, "mm") - 0.4) <= uncertainty_in(value.quantity, "mm")
    assert 0.93 < held / 1200 < 0.99
