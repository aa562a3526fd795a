"""How true a wrench reads, from where, and what an extension does."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.wrench_reach import DEVIATIONS, Wrench, permitted_deviation, setting_share


def wrench(**changes):
    return Wrench(
        **({"name": "wrench", "unit": "N·m", "step": 1, "lowest": 5, "highest": 60, "deviation": 0.04} | changes)
    )


@pytest.mark.parametrize("kind", DEVIATIONS)
def test_every_type_has_a_share_between_four_and_six_per_cent(kind):
    assert permitted_deviation(kind, 5) == 0.06
    assert permitted_deviation(kind, 60) in (0.04, 0.06)


def test_a_wrench_that_nobody_has_tested_is_never_taken_for_a_good_one():
    assert permitted_deviation("unknown", 60) == max(permitted_deviation(kind, 60) for kind in DEVIATIONS)


@pytest.mark.parametrize(
    ("mark", "reason"),
    [(61, "above"), (60, None), (12, None), (11.9, "untrue"), (5, "untrue"), (4.9, "below")],
)
def test_says_why_a_mark_is_not_to_be_used(mark, reason):
    # by hand: 20 % of 60 is 12
    assert wrench().miss(mark) == reason


def test_what_is_not_known_of_a_wrench_refuses_nothing():
    assert wrench(highest=None).miss(1000) is None
    assert wrench(highest=None).miss(4) == "below"
    assert wrench(lowest=None, highest=None).miss(0.1) is None
    assert wrench(lowest=None).miss(3) == "untrue"


def test_square_to_the_wrench_an_extension_changes_nothing_at_all():
    assert setting_share(300, 500, 90) == 1


@given(st.floats(50, 1500), st.floats(5, 500), st.floats(0, 89))
def test_an_extension_forwards_lowers_the_setting_and_more_of_it_lowers_it_more(lever, extension, angle):
    share = setting_share(lever, extension, angle)
    assert 0 < share < 1
    assert setting_share(lever, 2 * extension, angle) < share


@given(st.floats(50, 1500), st.floats(0.01, 0.9), st.floats(0, 180))
def test_the_hand_pulls_the_same_whatever_is_between(lever, part, angle):
    # statics: the force at the hand is setting ÷ L; about the nut it has the lever L + E·cos a, and gives one unit
    force = setting_share(lever, part * lever, angle) / lever
    assert force * (lever + part * lever * math.cos(math.radians(angle))) == pytest.approx(1)
