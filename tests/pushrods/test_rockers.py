"""How the rockers stand, and how far their ends wander."""

from functools import partial
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in
from calculators.bench.asking import answered, asked_with
from tests.answers import drawn_words, read_off, wrong
from tests.examples import examples

ONE = {
    "rocker_ratio": "1.15",
    "adjuster_end": "pushrod",
    "rocker_arm": "24 mm",
    "valve_lift": "8.2 mm",
    "heads": "1 2 / 3 4",
    "reach": "0.9903; 1.2379",
}


answer = partial(answered, "pushrods.rockers", **ONE)


def test_the_rocker_leans_by_what_its_end_must_reach():
    found = answer()
    # by hand: arcsin(1.2379 ÷ 24) is 2.9566°
    assert read_off(found, "off_square", "°") == pytest.approx(2.9566, abs=1e-3)
    assert found.headline == "3.0° off square, 0.0° before"
    assert "off square to the pushrod at cylinders 3 and 4" in found.says
    assert [magnitude_in(row.cells[2], "°") for row in found.tables[0].rows] == pytest.approx([2.365, 2.9566], abs=1e-3)


def test_a_rocker_that_stood_off_square_before_goes_on_from_there():
    # by hand: arcsin(sin −3° + 1.2379 ÷ 24) is −0.043°
    found = answer(off_square="-3", reach="1.2379; 1.2379")
    assert read_off(found, "off_square", "°") == pytest.approx(-0.0433, abs=1e-3)
    assert found.headline == "0.0° off square, −3.0° before"


def test_a_nut_on_the_pivot_lets_the_rocker_lean_by_the_rest():
    # by hand: see the adjusters: s is 0.6621 mm and t = arcsin(0.6621/27.6) = 1.3747°
    found = answer(adjuster_end="pivot")
    assert read_off(found, "off_square", "°") == pytest.approx(1.3747, abs=1e-3)
    assert found.value("wander_before").label == "Wander of the valve's end over one lift, before"
    assert drawn_words(found).endswith("Adjuster: a nut on the pivot.")


def test_the_end_that_carries_the_adjuster_is_the_one_that_wanders():
    # arms 24 and 27.6 mm, lift 8.2: θ = 2 arcsin(8.2 ÷ 55.2) = 17.09°; a · (1 − cos 8.543°)
    assert read_off(answer(), "swing", "°") == pytest.approx(17.09, abs=0.01)
    assert read_off(answer(), "wander_before") == pytest.approx(24 * 0.011096, abs=2e-3)
    assert read_off(answer(adjuster_end="valve"), "wander_before") == pytest.approx(27.6 * 0.011096, abs=2e-3)
    # after, from −5.59° to 11.50°: 24 · (1 − cos 11.50°) = 0.4817
    assert read_off(answer(), "wander_after") == pytest.approx(0.4817, abs=2e-3)
    assert "valve stem" in answer(adjuster_end="valve").says


def test_figure_says_in_words_what_it_shows():
    assert drawn_words(answer()) == (
        "Rocker at half lift, off square 0.0° before, 3.0° after. Adjuster at the pushrod end."
    )
    assert drawn_words(answer(adjuster_end="valve")).endswith("Adjuster at the valve end.")


def test_the_reach_comes_from_the_lengths_as_they_are():
    typed = [f"{key}={text}" for key, text in ONE.items() if key != "reach"]
    typed += ["cylinders=4", "spacer_height=1; 1; 1; 1", "pushrod_length=276", "pushrod_slope=8", "new_length=276.99"]
    asked = asked_with("pushrods.rockers", typed)
    assert asked.known["reach.1"].by == "pushrods.length"
    assert magnitude_in(asked.answer.value("off_square").quantity, "°") == pytest.approx(0, abs=0.01)


def test_a_lift_that_no_arm_can_swing_is_refused():
    assert wrong(answer, rocker_arm="5", rocker_ratio="0.5", valve_lift="8") == {
        "valve_lift": "Valve lift must be at most 5.00 mm, twice the rocker's arm at the valve"
    }


def test_a_head_too_far_for_its_rocker_is_refused():
    assert wrong(answer, reach="1; 25")["rocker_arm"].startswith(
        "Rocker arm at the pushrod is too short: at cylinders 3 and 4 it would have to reach 25.00 mm."
    )


@settings(max_examples=examples(40), deadline=None)
@given(st.floats(-20, 20), st.floats(-10, 10), st.floats(0.5, 3), st.sampled_from(["valve", "pushrod", "pivot"]))
def test_any_rocker_has_a_figure_that_fits(reach, before, ratio, place):
    typed = {"reach": f"{reach:.2f}; 0", "off_square": f"{before:.1f}", "rocker_ratio": f"{ratio:.2f}"}
    found = answer(**typed, adjuster_end=place, valve_lift="2")
    tree = ElementTree.fromstring(found.drawing.svg)  # noqa: S314 (we drew it)
    width, height = (float(number) for number in tree.get("viewBox").split()[2:])
    for element in tree.iter():
        for name, most in (("x", width), ("x1", width), ("x2", width), ("cx", width), ("y", height), ("cy", height)):
            if element.get(name) is not None:
                assert 0 <= float(element.get(name)) <= most
