"""A valve rocked in its guide."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in
from calculators.bench.asking import answered
from calculators.bench.units import bare

ASKED = "fits.valve_rock"
ONE = {"cylinders": "1", "dial_error": "0"}


def test_the_lever_gives_the_clearance():
    answer = answered(ASKED, **ONE, exhaust_rock="0.30", guide_length="40", overhang="30")
    # by hand: 0.30 · 40 ÷ 100
    assert magnitude_in(answer.value("rocked_clearance").quantity, "mm") == pytest.approx(0.12)
    assert magnitude_in(answer.value("rock").quantity, "mm") == 0.30


def test_without_guide_or_dial_the_rock_is_judged_alone():
    answer = answered(ASKED, **ONE, exhaust_rock="0.30", guide_length="40", rock_most="0.45 mm")
    assert answer.value("rocked_clearance") is None
    assert answer.headline == "0.300 mm · in"


def test_rock_and_clearance_are_each_held_against_their_own_limit():
    limits = {"rock_most": "0.45 mm", "guide_clearance_most": "0.11 mm"}
    answer = answered(ASKED, **ONE, **limits, inlet_rock="0.30", guide_length="40", overhang="30")
    assert answer.headline == "Clearance by rock 0.120 mm · out"


def test_a_plus_minus_typed_with_a_reading_wins_over_the_dial():
    limit = {"rock_most": "0.45 mm"}
    assert answered(ASKED, **ONE, **limit, inlet_rock="0.44 ± 0.02").headline == "0.440 mm · too close to call"
    assert answered(ASKED, **ONE, **limit, inlet_rock="0.44").headline == "0.440 mm · in"


@given(st.floats(0, 1), st.floats(0, 0.2))
def test_in_is_never_said_where_the_interval_crosses_the_limit(rock, error):
    typed = {"inlet_rock": f"{rock:.4f}", "dial_error": f"{error:.4f}", "rock_most": "0.45 mm"}
    answer = answered(ASKED, **{"cylinders": "1"} | typed)
    best, spread = bare(answer.value("rock").quantity.magnitude)
    if answer.headline.endswith(" · in"):
        assert best + (spread or 0) <= 0.45 + 1e-6
    if answer.headline.endswith(" · out"):
        assert best - (spread or 0) > 0.45 - 1e-6


def test_what_is_worn_out_is_sent_for_a_new_part_or_to_the_machine_shop():
    worn = answered(ASKED, **ONE, inlet_rock="0.9", rock_most="0.45 mm")
    assert [caution.text for caution in worn.warnings] == [
        "Do not refit a part that is out. Fit a new part, or ask a machine shop what can be made good: it bores "
        "barrels, fits guides, cuts seats and faces heads. Measure again afterwards."
    ]


def test_too_close_to_call_is_told_to_be_no_pass():
    close = answered(ASKED, **ONE, inlet_rock="0.44 ± 0.02", rock_most="0.45 mm")
    assert any("not a pass" in caution.text for caution in close.warnings)
    assert answered(ASKED, **ONE, inlet_rock="0.2", rock_most="0.45 mm").warnings == ()


def test_it_asks_for_one_reading_at_least():
    with pytest.raises(InputErrors, match="Enter the exhaust valve rock of cylinder 1, in millimetres, or any other"):
        answered(ASKED, **ONE)
