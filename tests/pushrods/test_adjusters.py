"""Whether the adjusters take up what a moved head asks for."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk
from tests.answers import cautions, column
from tests.cards import DUNLIN
from tests.physics import goes_as_physics_sends_it, rises

ONE = {
    "rocker_ratio": "1.15",
    "adjuster_end": "pushrod",
    "travel_in": "3.5 mm",
    "travel_out": "2 mm",
    "heads": "1 2 / 3 4",
    "reach": "0.9903; 1.2379",
}


answer = partial(answered, "pushrods.adjusters", **ONE)


def millimetres(found, key):
    return [magnitude_in(cell, "mm") for cell in column(found, key)]


def test_travel_left_is_what_the_screw_does_not_need():
    found = answer()
    # by hand: 3.5 less 1.2379; the lash opens by 1.2379 · 1.15
    assert millimetres(found, "left") == pytest.approx([2.5097, 2.2621], abs=1e-4)
    assert millimetres(found, "lash")[1] == pytest.approx(1.2379 * 1.15, abs=1e-4)
    assert found.headline == "Yes: 2.26 mm of thread left"
    assert found.says == "The adjusters can take it up."
    assert [caution.signal for caution in found.warnings] == ["notice"]
    assert "2.26 mm left" in found.drawing.svg


def test_an_adjuster_at_the_valve_goes_in_by_the_rocker_ratio():
    at_pushrod, at_valve = (millimetres(answer(adjuster_end=end), "goes_in")[0] for end in ("pushrod", "valve"))
    assert at_valve == pytest.approx(1.15 * at_pushrod)


def test_a_nut_on_the_pivot_takes_up_a_part():
    # by hand: the pivot comes down by s until both ends touch: s + 24 · sin t = 1.2379 and s = 27.6 · sin t, so that
    # s = 1.2379 · 1.15/2.15 = 0.6621 mm
    found = answer(adjuster_end="pivot")
    assert millimetres(found, "goes_in")[1] == pytest.approx(0.6621, abs=1e-4)
    assert any("pivot has taken up part" in note for note in found.notes)
    notes = [answer(adjuster_end=end).notes[0] for end in ("valve", "pushrod")]
    assert "rocker itself leans" in notes[0]
    assert "is where it was" in notes[1]


def test_the_card_says_which_end_the_adjuster_is_at():
    typed = [f"{key}={text}" for key, text in ONE.items() if key not in ("adjuster_end", "reach")]
    lacking = asked_with("pushrods.adjusters", [*typed, "reach.1=1", "reach.2=1"]).lacking
    assert [error.message for error in lacking] == ["Enter the place of the adjuster"]
    by_card = Desk({}, DUNLIN, example=True).ask("pushrods.adjusters")
    assert by_card.known["adjuster_end"].value == "valve"
    assert "rocker itself leans" in by_card.answer.notes[0]


def test_a_head_that_moves_in_uses_the_travel_the_other_way_and_warns():
    found = answer(reach="-1.4856; -1.4856")
    assert millimetres(found, "left")[0] == pytest.approx(2 - 1.4856)
    assert found.warnings[0].signal == "notice"
    assert "lash closes" in cautions(found)[0]
    assert not any("lash closes" in text for text in cautions(answer()))


def test_an_adjuster_at_its_end_asks_for_other_pushrods():
    found = answer(travel_in="1")
    assert column(found, "verdict")[1] == "out"
    assert found.headline == "No: 0.24 mm of thread short"
    assert found.says == "The adjusters cannot take it up; pushrods 1.24 mm longer would at cylinders 3 and 4."
    assert any("strips" in text for text in cautions(found))
    closing = answer(travel_out="1", reach="-1.5; -1.5")
    assert closing.says == "The adjusters cannot take it up; pushrods 1.50 mm shorter would at cylinders 1 and 2."


def test_travel_that_is_all_used_up_is_too_close_to_call():
    found = answer(travel_in="1.24")
    assert column(found, "verdict")[1] == "too close to call"
    assert found.headline == "Too close to call: 0.00 mm of thread left"
    assert any("strips" in text for text in cautions(found))


def test_a_pushrods_error_reaches_the_travel_left():
    # by hand: U is 2/√3 · √(0.1² + 0.05² + 0.1²), from the travel's limit, what it is read to, and the reach
    found = answer(**{"reach": "1 ± 0.1; 1 ± 0.1"})
    left = column(found, "left")[0]
    assert uncertainty_in(left, "mm") == pytest.approx(2 / 3**0.5 * (0.1**2 + 0.05**2 + 0.1**2) ** 0.5)


def test_the_reach_comes_from_the_lengths_as_they_are():
    typed = [f"{key}={text}" for key, text in ONE.items() if key != "reach"]
    typed += ["cylinders=4", "spacer_height=1; 1; 1.25; 1.25", "pushrod_length=276", "pushrod_slope=8"]
    asked = asked_with("pushrods.adjusters", typed)
    assert asked.known["reach.2"].by == "pushrods.length"
    assert asked.answer.headline == "Yes: 2.26 mm of thread left"


test_the_lash_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer, rises("rocker_ratio", (1, 1.6), "adjusters 1 lash", "the rocker makes the gap wider at the valve")
)
