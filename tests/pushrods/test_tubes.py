"""Whether the pushrod tubes still seal."""

from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import column, wrong
from tests.examples import examples

ONE = {
    "tube_free_length": "203 mm",
    "seat_distance": "201 mm",
    "least_crush": "0.5",
    "most_crush": "2.5",
    "heads": "1 2 / 3 4",
    "shift": "1; 1.25",
    "pushrod_slope": "8",
    "read_to": "0",
}


answer = partial(answered, "pushrods.tubes", **ONE)


def test_the_seals_are_crushed_by_what_the_seats_leave():
    found = answer()
    # by hand: seats √(201² + 2 · 201 · 1.25 · cos 8° + 1.25²) = 202.23791
    assert magnitude_in(column(found, "seats")[1], "mm") == pytest.approx(202.2379, abs=5e-5)
    assert magnitude_in(column(found, "crush")[1], "mm") == pytest.approx(203 - 202.2379, abs=5e-5)
    assert magnitude_in(found.value("crush_1").quantity, "mm") == pytest.approx(203 - 201.9903, abs=5e-5)
    assert found.headline == "Yes: seals crushed 0.8 and 1.0 mm"
    assert column(found, "verdict") == ["in", "in"]
    assert found.warnings == ()


def test_tubes_too_short_and_too_long_are_told_with_the_lengths_that_fit():
    short = answer(tube_free_length="202")
    assert short.says == "The tubes are too short: at cylinders 3 and 4 they must be 202.7 to 204.7 mm."
    assert short.headline == "Too short: 202.7 to 204.7 mm fits"
    assert column(short, "verdict")[1] == "out"
    assert "drips oil" in short.warnings[0].text
    long = answer(tube_free_length="206")
    assert long.says == "The tubes are too long: at cylinders 1 and 2 they must be 202.5 to 204.5 mm."


def test_a_crush_near_its_limit_is_too_close_to_call():
    found = answer(tube_free_length="202.75")
    assert column(found, "verdict")[1] == "too close to call"
    assert found.says == "Whether the tubes fit is too close to call."
    assert found.headline == "Too close to call: crush 0.5 and 0.8 mm"
    assert [caution.signal for caution in found.warnings] == ["warning"]


def test_outside_and_inside_jaws_are_off_each_by_themselves():
    # two readings, ± 0.1 rectangular each: 2 · √(2 · 0.1²/3) = 0.1633, with the shift's slope (JCGM 100:2008, 4.3.7,
    # 5.1.2 and 6.2); read to 0.05 mm besides: 0.1826
    assert uncertainty_in(column(answer(), "crush")[0], "mm") == pytest.approx(0.1633, abs=1e-4)
    assert uncertainty_in(column(answer(read_to="0.05"), "crush")[0], "mm") == pytest.approx(0.1826, abs=1e-4)


def test_stretched_tubes_are_set_to_the_middle_of_the_crush():
    found = answer(tube_kind="set")
    assert found.says == "Stretch the tubes to 203.5 and 203.7 mm before they go in."
    assert found.headline == "Stretch them to 203.5 and 203.7 mm"
    assert magnitude_in(column(found, "length")[0], "mm") == pytest.approx(201.9903 + 1.5, abs=1e-3)
    assert found.warnings == ()
    assert answer(tube_kind="set", tube_free_length="").headline == found.headline


def test_the_shift_comes_from_the_spacers_as_it_is():
    typed = [f"{key}={text}" for key, text in ONE.items() if key != "shift"]
    typed += ["cylinders=4", "spacer_height=1; 1; 1.25; 1.25", "pushrod_length=276"]
    asked = asked_with("pushrods.tubes", typed)
    assert asked.known["shift.2"].by == "pushrods.length"
    assert asked.answer.headline == "Yes: seals crushed 0.8 and 1.0 mm"


@pytest.mark.parametrize(
    ("field", "text", "message"),
    [
        ("tube_free_length", "", "Enter the free length of a tube, in millimetres"),
        ("most_crush", "0.4", "Most crush of the seals must be no less than the least, 0.50 mm"),
    ],
)
def test_one_wrong_field_has_one_message(field, text, message):
    assert list(wrong(answer, **{field: text}).values()) == [message]


@settings(max_examples=examples(30), deadline=None)
@given(st.floats(0.05, 3), st.floats(0.05, 3))
def test_a_head_further_out_leaves_less_crush(near, more):
    first, second = (
        magnitude_in(column(answer(shift=f"{shift:.4f}; 0"), "crush")[0], "mm") for shift in (near, near + more)
    )
    assert second < first
