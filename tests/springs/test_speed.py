"""Whether the spring surges, and to what speed it follows."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from calculators.bench.units import bare
from tests.answers import cautions, errors_of
from tests.physics import falls, goes_as_physics_sends_it

ONE = {
    "highest_speed": "4600 r/min",
    "rate": "28 N/mm",
    "wire": "4.2",
    "outside": "33.3",
    "total": "6.5",
    "active": "4.5",
}
SURE = {"wire_error": "0", "length_error": "0", "length_scatter": "0", "coils_error": "0"}
GEAR = {"mass": "120", "slowing": "0.008", "open_load": "489 N"}


answer = partial(answered, "springs.speed", **ONE | SURE)


def number(found, key, unit=""):
    quantity = found.value(key).quantity
    return magnitude_in(quantity, unit) if unit else bare(quantity)[0]


def test_it_swings_so_often_in_a_turn_of_the_camshaft():
    found = answer()
    # by hand: π² ÷ 4 · 4.2² · 29.1 · 4.5 · 7850e-9 g is 44.74 g; ½ √(28 000 ÷ 0.04474) is 395.5 Hz; 38.33 turns/s
    assert number(found, "frequency") == pytest.approx(395.5, abs=0.1)
    assert number(found, "swings") == pytest.approx(395.5 / 38.333, abs=0.005)
    assert found.headline == "No surge: 10.3 swings a cam turn"
    assert found.warnings == ()


@pytest.mark.parametrize(
    ("speed", "headline", "signals"),
    [
        ("6000 r/min", "It may surge: 7.9 swings a cam turn", ["notice"]),
        ("4700 ± 100 r/min", "Too close: 10.1 swings a cam turn", ["notice"]),
    ],
)
def test_a_spring_that_surges_near_the_camshafts_speed_is_warned_of(speed, headline, signals):
    found = answer(highest_speed=speed)
    assert found.headline == headline
    assert [caution.signal for caution in found.warnings] == signals
    assert any("surges below 10 times" in text for text in cautions(found)) == ("surge" in headline)


def test_speed_is_answered_only_where_mass_slowing_and_load_are_known():
    for missing in GEAR:
        assert answer(**GEAR | {missing: ""}).value("follow_speed") is None
    found = answer(**GEAR)
    speed = number(found, "follow_speed", "r/min")
    # by hand: 120 g and a third of 44.74 g; 0.008 mm/degree² is 26.26 mm/rad²; 2 · √(489 ÷ (0.13491 · 0.026262)) ÷ 2π
    assert speed == pytest.approx(7095.2, abs=0.5)
    assert number(found, "follow_margin", "%") == pytest.approx(100 * (speed / 4600 - 1))
    assert found.headline == "No surge: 10.3 swings a cam turn; follows to 7100 r/min"


def test_a_plus_minus_typed_with_the_highest_speed_reaches_the_margin_above_it():
    found = answer(highest_speed="4600 ± 100 r/min", **GEAR)
    speed = number(found, "follow_speed", "r/min")
    # JCGM 100:2008, 4.3.7 and 5.1.2, k = 2
    expected = 100 * speed / 4600**2 * 2 / 3**0.5 * 100
    assert uncertainty_in(found.value("follow_margin").quantity, "%") == pytest.approx(expected)


def test_a_spring_that_does_not_follow_is_warned_of():
    assert any("are not sure to follow" in text for text in cautions(answer(**GEAR | {"open_load": "150 N"})))
    assert not any("are not sure to follow" in text for text in cautions(answer(**GEAR)))


def test_active_coils_left_empty_are_all_but_the_two_dead_ends():
    assert number(answer(active=""), "frequency") == pytest.approx(number(answer(), "frequency"))


def test_of_two_springs_the_slower_is_told():
    inner = {"inner_rate": "6 N/mm", "inner_wire": "2.8", "inner_outside": "22", "inner_total": "7"}
    found = answer(**inner, highest_speed="6000 r/min")
    # by hand: the moving coils weigh 14.6 g; ½ √(6000 ÷ 0.0146) is 321 Hz, against 50 turns a second
    assert number(found, "inner_swings") == pytest.approx(321 / 50, abs=0.02)
    assert found.headline == "It may surge: 6.4 swings a cam turn"
    assert "The outer and inner spring surges" in cautions(found)[0]


def test_what_the_springs_are_comes_from_the_loads_as_they_are():
    loads = ["fitted_length=38", "valve_lift=8", "length_a=38", "load_a=265 N", "length_b=30", "load_b=489 N"]
    typed = ["highest_speed=4600", "wire=4.2", "outside=33.3", "total=6.5", "mass=120", "slowing=0.008", *loads]
    asked = asked_with("springs.speed", typed)
    assert asked.known["rate"].by == "springs.loads"
    assert magnitude_in(asked.answer.value("follow_speed").quantity, "r/min") == pytest.approx(7095.2, abs=0.5)


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ({"active": "7"}, ("active", "Active coils must not be more than its total coils")),
        ({"active": "", "total": "2"}, ("total", "Total coils must be more than the two dead end coils")),
        ({"outside": "12"}, ("outside", "Outside diameter must be three times its wire diameter or more")),
        ({"total": "", "active": ""}, ("total", "Enter the total coils")),
        (
            {"inner_rate": "6", "inner_wire": "2.8", "inner_total": "7"},
            ("inner_outside", "Enter the outside diameter of the inner spring, in millimetres"),
        ),
    ],
)
def test_what_cannot_be_meant_is_refused_with_cause_and_remedy(typed, expected):
    assert expected in errors_of(answer, **typed)


test_the_speed_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer, falls("mass", (60, 250), "follow_speed", "more mass needs more force to turn it round", typed=GEAR)
)
