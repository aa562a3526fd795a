"""Which thread was measured."""

from functools import partial

import pytest

from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Origin
from tests.answers import errors_of

answer = partial(answered, "fasteners.which_thread")


def rows(**typed):
    (table,) = answer(**typed).tables
    return table.rows


@pytest.mark.parametrize(
    ("typed", "headline", "says"),
    [
        ({"diameter": "9.88 mm", "pitch": "1.5 mm"}, "M10 × 1.5", "The thread can be M10 × 1.5."),
        ({"diameter": "0.37 in", "per_inch": "24"}, "3/8-24", "The thread can be 3/8-24."),
        (
            {"diameter": "9.88 mm", "pitch": "1.4"},
            "None listed; nearest M10 × 1.5",
            "No thread listed here fits; the nearest is M10 × 1.5.",
        ),
    ],
)
def test_a_measured_thread_is_named(typed, headline, says):
    found = answer(**typed)
    assert found.headline == headline
    assert found.says == f"{says}"


def test_without_a_pitch_the_diameter_alone_speaks():
    found = answer(diameter="9.88 mm")
    assert found.headline == "M10 × 1.5 or M10 × 1.25 or M10 × 1 or 1/8-27 NPT"
    assert [caution.signal for caution in found.warnings] == ["notice", "notice"]


def test_more_threads_than_the_headline_holds_are_counted():
    found = answer(diameter="5/16 in")
    assert found.headline == "M8 × 1.25 or 5 others"
    assert found.says.count(" or ") == 5


def test_it_tells_what_the_thread_is_confused_with():
    told = [(row.cells[0], row.chosen) for row in rows(diameter="9.88", pitch="1.5")]
    assert told[:2] == [("M10 × 1.5", True), ("3/8-16", False)]
    assert "3/8-16, a crest every 1.587 mm" in answer(diameter="9.88", pitch="1.5").drawing.svg.replace(
        "1.588", "1.587"
    )


def test_a_doubt_typed_with_the_diameter_wins_over_the_calliper():
    sure = rows(diameter="9.99 ± 0.005 mm", pitch="1.5")[0].cells[1]
    unsure = rows(diameter="9.99", pitch="1.5")[0].cells[1]
    assert (sure, unsure) == ("fits", "may fit")
    assert rows(diameter="9.99", pitch="1.5", caliper_error="0.005 mm")[0].cells[1] == "fits"


def test_the_one_that_fits_goes_on_to_drill_and_torque():
    asked = asked_with("fasteners.drill", ["diameter=9.88 mm", "pitch=1.5 mm"])
    assert asked.known["thread"].origin is Origin.WORKED_OUT
    assert asked.answer.says.startswith("M10 × 1.5: drill 8.5 mm")
    typed = asked_with("fasteners.drill", ["diameter=9.88 mm", "pitch=1.5 mm", "thread=M8 × 1"])
    assert typed.answer.says.startswith("M8 × 1: ")


@pytest.mark.parametrize(
    "typed",
    [
        {"diameter": "9.88 mm"},
        {"diameter": "9.99 mm", "pitch": "1.5 mm"},
        {"diameter": "4.67 mm", "pitch": "0.81 mm", "caliper_error": "0.02 mm"},
    ],
)
def test_where_two_can_be_or_none_is_sure_or_no_drill_is_listed_nothing_goes_on(typed):
    assert answer(**typed).worked == ()


def test_a_near_nut_is_warned_of():
    assert [caution.signal for caution in answer(diameter="9.88", pitch="1.5").warnings] == ["notice"]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"diameter": "10", "pitch": "1.5", "per_inch": "16"},
            "per_inch",
            "Threads per inch must be empty if you type the pitch, or the pitch empty",
        ),
        (
            {"diameter": "11.2", "pitch": "0.5"},
            "diameter",
            "No thread listed here is near 11.20 mm and this pitch. Measure over the crests, and the pitch over "
            "ten threads.",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert errors_of(answer, **typed) == [(field, message)]
