"""Passes of a wrench against the decimal library, scipy's constants, and by hand."""

import itertools
import time
from decimal import ROUND_HALF_DOWN, Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants

from calculators import InputErrors, magnitude_in, quantity
from calculators.bench.asking import answered
from calculators.bench.desk import Desk, Reading
from calculators.formulas.wrench_marks import nearest_mark
from tests.processor import is_within


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


def column(found, key, unit):
    table = found.tables[0]
    place = [column.key for column in table.columns].index(key)
    return [magnitude_in(row.cells[place], unit) for row in table.rows]


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
    # the marks by hand: see checks/torque.yml
    found = answered("torque.wrench", **BOOK, passes="2")
    assert found.says.startswith("Set the wrench to 14.5 and 29.0 N·m: every nut at each setting, in the order ")
    assert [stage.title for stage in found.walks[0].stages] == [
        "Pass 1 of 2: set 14.5 N·m",
        "Pass 2 of 2: set 29.0 N·m",
        "Confirm: set 29.0 N·m",
    ]


torques = st.integers(10, 4000).map(lambda tenths: tenths / 10)


@given(torques, st.integers(1, 8), st.sampled_from(["0.1", "0.5", "1", "2.5"]), st.sampled_from(["N·m", "lbf·ft"]))
@settings(max_examples=60, deadline=None)
def test_stages_rise_to_the_target_or_are_refused(target, passes, step, unit):
    typed = {"target": f"{target} N·m", "passes": str(passes), "graduation": f"{step} {unit}", "pattern": "4"}
    try:
        found = answered("torque.wrench", **typed)
    except InputErrors as refused:
        assert {error.field for error in refused.errors} == {"graduation"}
        return
    marks = column(found, "mark", unit)
    assert all(earlier <= later for earlier, later in itertools.pairwise(marks))
    # the last mark is the target to half a step of the scale
    factor = constants.lbf * constants.foot if unit == "lbf·ft" else 1
    assert abs(marks[-1] * factor - target) <= factor * float(step) / 2 * (1 + 1e-9)
    assert column(found, "N_m", "N·m")[-2:] == pytest.approx([target] * 2, rel=1e-12)


@given(torques, st.sampled_from(["lbf·ft", "lbf·in", "kgf·m", "daN·m"]))
@settings(max_examples=60, deadline=None)
def test_a_torque_comes_back_from_any_unit(torque, unit):
    there = quantity(magnitude_in(quantity(torque, "N·m"), unit), unit)
    assert magnitude_in(there, "N·m") == pytest.approx(torque, rel=1e-12)


@pytest.mark.parametrize(("count", "seconds"), [(12, 0.016), (20, 0.060)])
def test_studs_never_seen_before_are_answered_between_two_keystrokes(count, seconds):
    # a typed place changes with each key, so that nothing is remembered; the browser takes about four times as long
    taken = []
    for seed in range(5):
        cells = np.random.default_rng(900 + seed).permutation(900)[:count]
        places = {f"stud_across.{n}": Reading(str(9 * (cell % 30))) for n, cell in enumerate(cells, 1)}
        places |= {f"stud_up.{n}": Reading(str(9 * (cell // 30))) for n, cell in enumerate(cells, 1)}
        started = time.process_time()
        asked = Desk(places).ask("torque.stud_order")
        taken.append(time.process_time() - started)
        assert asked.answer
    assert is_within(min(taken), seconds)
