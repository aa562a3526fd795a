"""The jet that keeps the mixture, and the nearest in the drawer."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.jet_choice import fuel_share, leaner, nearest, number_for

density = st.floats(0.5, 1.5)


def test_in_dry_air_the_fuel_goes_with_the_root_of_the_density():
    # by hand: √0.81 = 0.9
    assert fuel_share((0.81, 0.81), (1.0, 1.0)) == pytest.approx(0.9)


def test_the_area_of_a_jet_goes_with_the_square_of_its_bore():
    assert number_for(0.81, 100, "diameter") == pytest.approx(90)
    assert number_for(0.81, 100, "flow") == pytest.approx(81)


@given(density, density, st.sampled_from(["diameter", "flow"]))
def test_thinner_air_wants_a_smaller_jet(one, other, numbered):
    here, base = sorted((one, other))
    assert number_for(fuel_share((here, here), (base, base)), 125.0, numbered) <= 125.0 * (1 + 1e-12)


@given(st.floats(50, 300), st.floats(0.5, 2), st.sampled_from(["diameter", "flow"]))
def test_a_jet_larger_than_wanted_is_richer(wanted, factor, numbered):
    off = leaner(wanted, wanted * factor, numbered)
    assert (off < 0) == (factor > 1) or off == pytest.approx(0, abs=1e-9)


def test_nearest_is_so_in_proportion_and_the_larger_of_two_as_near():
    assert nearest((100, 121), 110) == 121
    assert nearest((100, 121), 109.9) == 100
    assert nearest((130,), 100) == 130
