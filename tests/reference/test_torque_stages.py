"""Torque stages against printed conversions, the decimal library and bench practice."""

import itertools
import math
import time
from decimal import ROUND_HALF_DOWN, Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants
from scipy.optimize import approx_fprime

from calculators import InputErrors, magnitude_in, quantity, uncertainty_in
from calculators._catalogue import calculator
from calculators._page import live_answer
from calculators.formulas.wrench_marks import nearest_mark

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


@pytest.mark.parametrize("passes", [2, 3, 4, 5])
def test_eight_nut_head_comes_down_in_even_passes(passes):
    # common practice, no source: the nuts of a head come down in several even steps up to the full figure
    report = TORQUE.answer({"target": "30 N·m", "graduation": "0.1 N·m", "passes": str(passes), "pattern": "8"})
    table = report.tables[0]
    column = [column.key for column in table.columns].index("mark")
    marks = [magnitude_in(row.cells[column], "N·m") for row in table.rows]
    assert marks[:-1] == pytest.approx([30 * k / passes for k in range(1, passes + 1)], abs=0.05 + 1e-9)
    assert marks[-1] == pytest.approx(30)


def column(report, key, unit):
    table = report.tables[0]
    place = [column.key for column in table.columns].index(key)
    return [magnitude_in(row.cells[place], unit) for row in table.rows]


# the way from the book to the click


BOOK = {
    "target": "25 lb ft",
    "graduation": "0.5 N·m",
    "wrench_low": "5 N·m",
    "wrench_high": "60 N·m",
    "wrench_type": "click",
    "extension": "60 mm",
    "angle": "30°",
    "wrench_length": "300 mm",
    "pattern": "8",
}


def test_from_the_book_s_pound_feet_to_a_strip_of_stages():
    # by hand: 25 × 1.355 818 (NIST SP 811 (2008), B.8) = 33.8954 N·m; 300 ÷ (300 + 60 cos 30°) = 0.852 366 (TM 9-254);
    # so 28.8913 for the last pass and 14.4457 for the first of two, on the half newton metre 29.0 and 14.5;
    # 14.5 lies above 20 % of 60, 29.0 ÷ 0.852 366 = 34.0229 on the nut, 4 % to either side 32.66 to 35.38
    report = TORQUE.answer(BOOK | {"passes": "2"})
    assert report.lead.startswith("Set the wrench to 14.5 and 29.0 N·m: every nut at each setting, in the order ")
    assert column(report, "mark", "N·m") == [14.5, 29.0, 29.0]
    assert column(report, "rounding", "%") == pytest.approx([0.3762] * 3, abs=5e-4)
    assert column(report, "at_least", "N·m")[-1] == pytest.approx(32.6620, abs=5e-4)
    assert column(report, "at_most", "N·m")[-1] == pytest.approx(35.3839, abs=5e-4)
    assert [stage.title for stage in report.walks[0].stages] == [
        "Pass 1 of 2: set 14.5 N·m",
        "Pass 2 of 2: set 29.0 N·m",
        "Confirm: set 29.0 N·m",
    ]


def test_three_passes_from_the_same_book_are_refused_with_what_helps():
    # by hand: a third of 28.8913 is 9.6304, below 20 % of 60
    with pytest.raises(InputErrors) as refused:
        TORQUE.answer(BOOK)
    assert [(error.field, error.message) for error in refused.value.errors] == [
        (
            "passes",
            "Pass 1 needs a setting of 9.6 N·m. Below 12.0 N·m, 20% of its highest setting, the wrench need not read "
            "true. Take 2 passes, or enter a small wrench.",
        )
    ]


def test_what_is_on_the_nut_is_as_uncertain_as_the_wrench_and_the_lengths():
    # JCGM 100:2008 (GUM), 4.3.7 and 5.1.2, the derivatives by scipy
    def on_the_nut(given):
        mark, lever, extension = given
        return mark * (lever + extension * math.cos(math.radians(30))) / lever

    limits = np.array([0.04 * 29.0, 5.0, 1.0])
    slopes = approx_fprime(np.array([29.0, 300.0, 60.0]), on_the_nut, 1e-6)
    typed = BOOK | {"passes": "2", "wrench_length": "300 ± 5 mm", "extension": "60 ± 1 mm"}
    applied = next(value for value in TORQUE.answer(typed).values if value.key == "applied")
    expected = 2 * math.sqrt(sum((slopes * limits / math.sqrt(3)) ** 2))
    assert uncertainty_in(applied.quantity, "N·m") == pytest.approx(expected, rel=1e-5)


torques = st.integers(10, 4000).map(lambda tenths: tenths / 10)


@given(torques, st.integers(1, 8), st.sampled_from(["0.1", "0.5", "1", "2.5"]), st.sampled_from(["N·m", "lbf·ft"]))
@settings(max_examples=60, deadline=None)
def test_stages_rise_to_the_target_or_are_refused(target, passes, step, unit):
    typed = {"target": f"{target} N·m", "passes": str(passes), "graduation": f"{step} {unit}", "pattern": "4"}
    try:
        report = TORQUE.answer(typed)
    except InputErrors as refused:
        assert {error.field for error in refused.errors} == {"graduation"}
        return
    marks = column(report, "mark", unit)
    assert all(earlier <= later for earlier, later in itertools.pairwise(marks))
    # the last mark is the target to half a step of the scale
    factor = constants.lbf * constants.foot if unit == "lbf·ft" else 1
    assert abs(marks[-1] * factor - target) <= factor * float(step) / 2 * (1 + 1e-9)
    assert column(report, "N_m", "N·m")[-2:] == pytest.approx([target] * 2, rel=1e-12)


@given(torques, st.sampled_from(["lbf·ft", "lbf·in", "kgf·m", "daN·m"]))
@settings(max_examples=60, deadline=None)
def test_a_torque_comes_back_from_any_unit(torque, unit):
    there = quantity(magnitude_in(quantity(torque, "N·m"), unit), unit)
    assert magnitude_in(there, "N·m") == pytest.approx(torque, rel=1e-12)


@pytest.mark.parametrize(("count", "seconds"), [(12, 0.016), (20, 0.060)])
def test_studs_never_seen_before_are_answered_between_two_keystrokes(count, seconds):
    # a typed place changes with each key, so that nothing is remembered; the browser takes about four times as long
    typed = TORQUE.form.prefilled(None, {"pattern": "typed"}, example=True)
    taken = []
    for seed in range(5):
        cells = np.random.default_rng(900 + seed).permutation(900)[:count]
        places = {f"across.{n}": str(9 * (cell % 30)) for n, cell in enumerate(cells, 1)}
        places |= {f"up.{n}": str(9 * (cell // 30)) for n, cell in enumerate(cells, 1)}
        started = time.process_time()
        answered = live_answer(TORQUE, typed | places, None, "p", {"studs": 20})
        taken.append(time.process_time() - started)
        assert answered["lead"]
    assert min(taken) < seconds
