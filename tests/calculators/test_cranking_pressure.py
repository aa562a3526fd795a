"""The gauge's reading, edges and laws."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.cranking_pressure import cranking_pressure

ratios = st.floats(1.1, 20)
exponents = st.floats(1, 1.4)


def test_a_cylinder_that_does_not_compress_shows_nothing():
    assert cranking_pressure(101.325, 1.0, 1.3) == 0


@given(ratios, exponents)
def test_it_goes_with_the_air_outside(ratio, exponent):
    assert cranking_pressure(80.0, ratio, exponent) == pytest.approx(0.8 * cranking_pressure(100.0, ratio, exponent))


@given(ratios, st.floats(1, 1.39))
def test_less_heat_lost_shows_more(ratio, exponent):
    assert cranking_pressure(1.0, ratio, exponent + 0.01) > cranking_pressure(1.0, ratio, exponent)


@given(ratios, exponents)
def test_it_lies_between_all_heat_lost_and_none(ratio, exponent):
    shown = cranking_pressure(1.0, ratio, exponent)
    assert ratio - 1 - 1e-9 <= shown <= ratio**1.4 - 1 + 1e-9
