"""Whether the flanges still meet their pipes."""

from functools import partial

import pytest

from calculators.bench.asking import answered, asked_with
from tests.answers import read_off, signals

ONE = {"flange_play": "1.5 mm", "heads": "1 2 / 3 4", "shift": "1; 1.25"}


answer = partial(answered, "pushrods.flanges", **ONE)


def test_flanges_slide_by_their_facing():
    found = answer(inlet_facing="30", exhaust_facing="180", shift="1; 1")
    assert read_off(found, "inlet_offset_1") == pytest.approx(0.5)
    assert read_off(found, "inlet_gap_1") == pytest.approx(-0.8660, abs=1e-4)
    assert read_off(found, "exhaust_offset_1") == pytest.approx(0, abs=1e-9)
    assert read_off(found, "exhaust_gap_1") == pytest.approx(1)
    assert answer().value("inlet_gap_1") is None
    assert "joint opens" not in answer().drawing.svg


def test_heads_that_stand_apart_part_their_pipe():
    assert read_off(answer(), "apart") == pytest.approx(2.25)
    assert answer(heads="1 2", shift="1").value("apart") is None


@pytest.mark.parametrize(
    ("play", "words", "headline"),
    [
        ("1.5", "1.25 mm, within the play of its holes", "Yes: exhaust 1.25 mm aside, play 1.50 mm"),
        ("1", "1.25 mm, more than its holes allow", "No: exhaust 1.25 mm aside, play 1.00 mm"),
    ],
)
def test_a_flanges_slide_is_judged_against_the_play_of_its_holes(play, words, headline):
    found = answer(flange_play=play)
    assert found.value("inlet_offset_2").texts == (words,)
    assert found.headline == headline


def test_a_doubtful_slide_is_too_close_to_call():
    found = answer(shift="1.25 ± 0.1; 1.25 ± 0.1", flange_play="1.3")
    assert found.value("inlet_offset_1").words.endswith("to call")
    assert found.headline == "Too close to call: exhaust 1.25 mm aside, play 1.30 mm"
    assert "not sure to be within its holes" in found.warnings[0].text


def test_a_head_that_moves_in_is_judged_alike():
    found = answer(shift="-1.25; 0", flange_play="1")
    assert found.headline == "No: exhaust 1.25 mm aside, play 1.00 mm"
    assert read_off(found, "exhaust_offset_1") == pytest.approx(-1.25)


def test_an_exhaust_joint_that_does_not_meet_is_a_danger():
    assert signals(answer()) == []
    assert signals(answer(flange_play="1")) == ["danger", "notice"]
    assert signals(answer(flange_play="1", exhaust_facing="0")) == ["notice"]
    assert signals(answer(flange_play="1", inlet_facing="0")) == ["danger"]


def test_where_nothing_slides_it_says_so():
    assert answer(shift="0; 0").headline == "Yes: none moves sideways"


def test_the_shift_comes_from_the_spacers_as_it_is():
    typed = [
        "flange_play=1.5",
        "heads=1 2 / 3 4",
        "cylinders=4",
        "spacer_height=1; 1; 1.25; 1.25",
        "pushrod_length=276",
    ]
    asked = asked_with("pushrods.flanges", typed)
    assert asked.known["shift.2"].by == "pushrods.length"
    assert asked.answer.headline == "Yes: exhaust 1.25 mm aside, play 1.50 mm"
