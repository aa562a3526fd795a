"""Measuring against outside figures: the GUM's examples, scipy's integrals and quantiles, numpy's fits, CoolProp."""

import math
import statistics

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats
from uncertainties import ufloat

from calculators import magnitude_in, uncertainty_in
from calculators._catalogue import calculator
from calculators._measuring.poured_volumes import EXPANSIONS
from calculators.formulas.best_plane import best_plane
from calculators.formulas.chamber_shape import cap_volume, frustum_volume
from calculators.formulas.measured_mean import coverage_factor, effective_degrees, mean, pooled_scatter

GUM_4_4_3 = (
    *(96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07),
    *(100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72),
)


def test_twenty_readings_of_the_guide():
    """JCGM 100:2008 (GUM), 4.4.3 and Table 1 (from memory): 100.145, s 1.489, u 0.333."""
    scatter, degrees = pooled_scatter([[reading - mean(GUM_4_4_3) for reading in GUM_4_4_3]])
    assert mean(GUM_4_4_3) == pytest.approx(100.145, abs=5e-4)
    assert scatter == pytest.approx(1.489, abs=5e-4)
    assert scatter / math.sqrt(20) == pytest.approx(0.333, abs=5e-4)
    assert degrees == 19


@given(st.lists(st.lists(st.floats(40, 60), min_size=2, max_size=8), min_size=1, max_size=6))
def test_pooled_scatter_is_the_mean_of_variances_weighted_by_degrees_of_freedom(series):
    """JCGM 100:2008 (GUM), 4.2.4 and H.5.2.5; the variances by Python's statistics module."""
    scatter, degrees = pooled_scatter([[reading - mean(line) for reading in line] for line in series])
    weights = [len(line) - 1 for line in series]
    expected = sum(weight * statistics.variance(line) for weight, line in zip(weights, series, strict=True))
    assert degrees == sum(weights)
    assert scatter**2 == pytest.approx(expected / sum(weights), rel=1e-9, abs=1e-12)


def test_effective_degrees_of_the_guide_s_product():
    """JCGM 100:2008 (GUM), G.4.1, example (from memory): 0.25, 0.57, 0.82 % of 10, 5, 15; 1.03 % → 19.0."""
    assert effective_degrees(1.03, [(0.25, 9), (0.57, 4), (0.82, 14)]) == pytest.approx(19.0, abs=0.05)


def test_effective_degrees_of_the_guide_s_gauge_block():
    """JCGM 100:2008 (GUM), H.1.6 (from memory): 25, 9.7, 2.9, 16.6 nm with 18, 25.6, 50, 2; u² 1002 nm² → 16.7."""
    parts = [(25, 18), (9.7, 25.6), (2.9, 50), (16.6, 2)]
    assert effective_degrees(math.sqrt(1002), parts) == pytest.approx(16.7, abs=0.1)


@pytest.mark.parametrize("degrees", [*range(1, 21), 25, 30, 35, 40, 45, 50, 100, 150, 400, math.inf])
def test_factors_are_student_s(degrees):
    """scipy.stats.t at 95.45 %; JCGM 100:2008 (GUM), Table G.2 prints it rounded."""
    exact = stats.t.ppf((1 + 0.9545) / 2, degrees) if math.isfinite(degrees) else stats.norm.ppf((1 + 0.9545) / 2)
    assert coverage_factor(degrees) == pytest.approx(exact, abs=0.0055)


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


@pytest.mark.parametrize("count", range(3, 9))
def test_scatter_goes_into_mean_and_tilt_as_the_normal_equations_say(count):
    """Covariance (AᵀA)⁻¹ by numpy: u(m) = s/√n and u(a) = s·√(2/n), none of them tied to another."""
    turns = 2 * np.pi * np.arange(count) / count
    columns = np.column_stack([np.ones(count), np.cos(turns), np.sin(turns)])
    assert np.linalg.inv(columns.T @ columns) == pytest.approx(np.diag([1 / count, 2 / count, 2 / count]), abs=1e-12)


@pytest.mark.parametrize(
    ("liquid", "fluid", "within"),
    [("water", "Water", 0.005), ("spirit", "Ethanol", 0.01), ("paraffin", "n-Dodecane", 0.03)],
)
def test_liquids_expand_as_handbooks_say(liquid, fluid, within):
    """CoolProp at 20 °C and 101 325 Pa; n-dodecane stands for paraffin (kerosene)."""
    expected = PropsSI("ISOBARIC_EXPANSION_COEFFICIENT", "T", 293.15, "P", 101325, fluid)
    assert EXPANSIONS[liquid] == pytest.approx(expected, rel=within)


def test_oil_expands_more_than_water_and_less_than_paraffin():
    """Thin mineral oil, 7 · 10⁻⁴/K, from memory; its place between the two is all that is checked."""
    assert EXPANSIONS["water"] < EXPANSIONS["oil"] < EXPANSIONS["paraffin"]


def test_a_chamber_s_uncertainty_by_hand():
    """One chamber: JCGM 100:2008 (GUM), 5.1.2, put together with the uncertainties package; factor by scipy.

    Fills 49.2, 49.1, 49.0: s 0.1, ν 2. Burette ± 0.1 (rectangular), two marks of 0.1 each ± half,
    thermometers ± 1 K each on 7·10⁻⁴/K, no hole.
    """
    report = calculator("chamber-volume").answer(
        {"cylinders": "1", "fill": "49.2 49.1 49.0", "hole": "0", "bore": "80"}
    )
    third = math.sqrt(3)
    mark = ufloat(0, 0.05 / third) - ufloat(0, 0.05 / third)
    read = ufloat(49.1, 0.1 / third) + mark + ufloat(0, 0.1 / third)
    warmer = ufloat(0, 1 / third) - ufloat(0, 1 / third)
    expected = read * (1 - 7e-4 * warmer)
    degrees = math.floor(effective := expected.std_dev**4 / ((0.1 / third) ** 4 / 2))
    assert 10 < effective < 20
    chamber = next(value for value in report.values if value.key == "chamber_1")
    assert magnitude_in(chamber.quantity, "cm³") == pytest.approx(49.1)
    factor = stats.t.ppf((1 + 0.9545) / 2, degrees)
    assert uncertainty_in(chamber.quantity, "cm³") == pytest.approx(factor * expected.std_dev, rel=0.003)


def test_about_95_in_100_bands_hold_the_true_deck():
    """Monte Carlo (JCGM 101:2008), numpy: readings drawn about tilted planes, a gauge within its limit, 1200 decks."""
    draw = np.random.default_rng(20240517)
    turns, held = 2 * np.pi * np.arange(4) / 4, 0
    for _ in range(300):
        gauge = draw.uniform(-0.02, 0.02)
        planes = [0.4 + gauge + 0.05 * np.cos(turns - draw.uniform(0, 6)) + draw.normal(0, 0.02, 4) for _ in range(4)]
        typed = "; ".join(" ".join(f"{depth:.4f}" for depth in line) for line in planes)
        report = calculator("deck-height").answer(
            {"cylinders": "4", "heads": "1 2 / 3 4", "bore": "80", "depth": typed, "step": "0.0001"}
        )
        for value in report.values[:4]:
            held += abs(magnitude_in(value.quantity, "mm") - 0.4) <= uncertainty_in(value.quantity, "mm")
    assert 0.93 < held / 1200 < 0.99
