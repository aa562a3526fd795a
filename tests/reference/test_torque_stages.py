"""Torque stages against printed conversions, the decimal library and bench practice."""

from decimal import ROUND_HALF_DOWN, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from calculators import magnitude_in, quantity
from calculators._catalogue import calculator
from calculators.formulas.wrench_marks import even_shares, nearest_mark

TORQUE = calculator("torque-stages")


def target_of(text):
    report = TORQUE.answer({"target": text, "pattern": "8"})
    return next(value for value in report.values if value.key == "target")


# NIST SP 811 (2008), Appendix B.8: 1 lbf·ft = 1.355 818 N·m, so 37/1.355818 = 27.290, 24/1.355818 = 17.702.
@pytest.mark.parametrize(
    ("typed", "printed"),
    [("37 N·m", "27.3 lbf·ft"), ("24 N·m", "17.7 lbf·ft"), ("27.3 lb ft", "37.0 N·m"), ("1 kgf·m", "9.8 N·m")],
)
def test_prints_the_target_as_the_handbook_factor_gives_it(typed, printed):
    assert printed in target_of(typed).texts


def test_hundred_newton_metres_is_the_library_value_in_every_unit():
    # scipy.constants: pound-force, foot, inch and kilogram-force
    value = target_of("100 N·m").quantity
    assert magnitude_in(value, "lbf·ft") == pytest.approx(100 / (constants.lbf * constants.foot), rel=1e-12)
    assert magnitude_in(value, "lbf·ft") == pytest.approx(73.7562, abs=5e-5)  # NIST SP 811 factor, seven digits
    assert magnitude_in(value, "lbf·in") == pytest.approx(100 / (constants.lbf * constants.inch), rel=1e-12)
    assert magnitude_in(value, "kgf·m") == pytest.approx(100 / constants.kgf, rel=1e-12)


@given(
    tenths=st.integers(1, 4000),
    step=st.sampled_from(["0.05", "0.1", "0.2", "0.25", "0.5", "1", "2", "2.5", "5"]),
)
def test_nearest_mark_is_what_decimal_arithmetic_rounds_to(tenths, step):
    # the decimal module of the standard library, ROUND_HALF_DOWN
    setting = Decimal(tenths) / 10
    marks = max((setting / Decimal(step)).quantize(Decimal(1), rounding=ROUND_HALF_DOWN), Decimal(1))
    found = nearest_mark(quantity(float(setting), "N·m"), quantity(float(step), "N·m"))
    assert magnitude_in(found, "N·m") == pytest.approx(float(marks * Decimal(step)), rel=1e-9)


@pytest.mark.parametrize("passes", range(1, 9))
def test_even_shares_are_the_fractions(passes):
    # exact rational arithmetic of the fractions module
    assert even_shares(passes) == pytest.approx([float(Fraction(k, passes)) for k in range(1, passes + 1)], rel=1e-15)


@pytest.mark.parametrize("passes", [2, 3, 4, 5])
def test_eight_nut_head_comes_down_in_even_passes(passes):
    # common practice, no source: the nuts of a head come down in several even steps up to the full figure
    report = TORQUE.answer({"target": "30 N·m", "graduation": "0.1 N·m", "passes": str(passes), "pattern": "8"})
    table = report.tables[0]
    column = [column.key for column in table.columns].index("mark")
    marks = [magnitude_in(row.cells[column], "N·m") for row in table.rows]
    assert marks[:-1] == pytest.approx([30 * k / passes for k in range(1, passes + 1)], abs=0.05 + 1e-9)
    assert marks[-1] == pytest.approx(30)
