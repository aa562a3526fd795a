"""The order of studs that are typed by their places, and how square it keeps the part."""

import re
from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk
from tests.answers import error_of
from tests.cards import MARRAM

SQUARE = {"across": "-40; 40; -40; 40", "up": "40; 40; -40; -40"}


answer = partial(answered, "torque.stud_order")


def test_four_in_a_square_go_across_the_corners():
    found = answer(**SQUARE)
    assert found.headline == "A – D – B – C"
    assert found.value("loosening").quantity == "C – B – D – A"
    (walk,) = found.walks
    assert [step.label for step in walk.stages[0].steps] == ["A", "D", "B", "C"]
    assert "1 is A, 2 is D" in found.drawing.svg


def test_balance_is_told_against_going_round_the_edge():
    # by hand, square of side 80: across 56.57, 0, 56.57, 0 (mean 28.28); round 56.57, 80, 56.57, 0 (mean 48.28)
    found = answer(**SQUARE)
    assert magnitude_in(found.value("imbalance").quantity, "mm") == pytest.approx(28.284, abs=1e-3)
    expected = 100 * (1 - 28.284 / 48.284)
    assert magnitude_in(found.value("against_edge").quantity, "%") == pytest.approx(expected, abs=0.01)
    (chart,) = found.figures
    assert "2, D: 0 against 80" in chart.svg


def test_the_example_is_the_cards_head():
    asked = Desk({}, MARRAM, example=True).ask("torque.stud_order")
    assert asked.is_example
    assert asked.answer.headline == "B – G – C – F – A – H – D – E"


def test_places_may_be_in_inches():
    # by hand: corners of a square of side 2 in are √2 in, 35.9 mm, from its middle; every other step is in balance
    found = answer(across="-1 in; 1 in; -1 in; 1 in", up="1 in; 1 in; -1 in; -1 in")
    assert magnitude_in(found.value("imbalance").quantity, "mm") == pytest.approx(25.4 * 2**0.5 / 2)


def test_two_studs_have_no_chart():
    found = answer(across="0; 60", up="0; 0")
    assert found.headline == "A – B"
    assert found.figures == ()


def test_twenty_studs_are_answered_with_how_far_from_the_best_they_may_be():
    across, up = ("; ".join(str(place % 151 - 75) for place in range(7, 20 * step, step)) for step in (37, 61))
    found = answer(across=across, up=up)
    assert sorted(found.headline.split()) == list("ABCDEFGHIJKLMNOPQRST")
    assert len(found.headline) <= LONGEST_HEADLINE
    share = float(re.search(r"none can be more than ([0-9.]+)% squarer", found.value("order").formula)[1])
    assert 0 < share < 15


def test_an_exact_order_says_so_and_defers_to_the_maker():
    found = answer(**SQUARE)
    assert "exact: no order is squarer" in found.value("order").formula
    assert [caution.signal for caution in found.warnings if "engine maker's order wins" in caution.text] == ["notice"]


def test_nothing_typed_is_asked_for():
    asked = asked_with("torque.stud_order", [])
    assert asked.errors == ()
    assert [error.message for error in asked.lacking] == ["Enter the positions of two studs or more"]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"across": "10", "up": "10"}, "across.1", "Enter the positions of two studs or more"),
        (
            {"across": "0; 40; 3", "up": "0; 0; 3"},
            "across.1",
            "Studs 1 and 3 stand less than 5 mm apart. Type each stud once.",
        ),
    ],
)
def test_positions_that_cannot_be_are_refused(typed, field, message):
    assert error_of(answer, **typed) == (field, message)


def test_five_millimetres_apart_are_two_studs():
    assert answer(across="0; 5", up="0; 0").headline == "A – B"
