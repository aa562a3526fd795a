"""The rocker-shaft posts: their own torque, drawn down first, from the middle outwards."""

from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answer_of, answered, asked_with, readings_of
from calculators.bench.desk import Desk
from calculators.bench.question import question
from tests.answers import error_of, signals
from tests.cards import MARRAM

POSTS = question("torque.rocker_posts")


answer = partial(answered, "torque.rocker_posts", figure="22 N·m", posts="4")


def on_card(**typed):
    readings = readings_of(POSTS, [f"{key}={text}" for key, text in typed.items()])
    return answer_of(Desk(readings, MARRAM, example=True), POSTS)


def marks(found):
    return [round(magnitude_in(row.cells[1], "N·m"), 6) for row in found.tables[0].rows]


def test_posts_take_their_own_torque_and_are_drawn_down_first():
    # by hand: thirds of 22 N·m to the nearest mark
    found = answer()
    assert found.headline == "7 → 15 → 22 N·m · B – C – A – D"
    assert found.value("settings").quantity == "7 → 15 → 22 N·m"
    assert found.value("target").label == "Post torque"
    assert found.says.startswith(
        "Bring the shaft down one turn of each nut at a time until it sits on every post. Set the wrench to"
    )
    (walk,) = found.walks
    assert walk.stages[0].title == "Bring down: one turn of each nut, round and round"
    assert [step.label for step in walk.stages[0].steps] == ["B", "C", "A", "D", "Seated"]
    assert signals(found, "Open valves press on the shaft unevenly") == ["warning"]
    assert found.warnings[0].signal == "warning"
    assert "into hands and face. Wear eye protection" in found.warnings[0].text


@pytest.mark.parametrize(("posts", "order"), [("2", "A – B"), ("3", "B – A – C"), ("4", "B – C – A – D")])
def test_from_the_middle_outwards(posts, order):
    # common practice, no source
    found = answer(posts=posts)
    assert found.value("order").quantity == order
    assert found.headline.endswith(f"· {order}")
    assert found.value("loosening").quantity == " – ".join(reversed(order.split(" – ")))
    assert [figure.key for figure in found.figures] == ([] if posts == "2" else ["step_chart"])


def test_posts_take_their_torque_from_the_card_and_each_head_has_a_walk():
    found = on_card()
    assert marks(found)[-1] == 22
    assert found.value("order").quantity == "A – B"
    assert [walk.key for walk in found.walks] == ["head_1", "head_2"]
    assert found.walks[0].stages[0].title == "Head 1 · Bring down: one turn of each nut, round and round"
    assert len(on_card(heads="3").walks) == 3
    assert len(answer(heads="2").walks) == 2


def test_the_examples_heads_are_not_the_readers():
    readings = readings_of(POSTS, ["figure=22 N·m", "posts=3"])
    asked = Desk(readings, MARRAM).ask("torque.rocker_posts")
    assert len(asked.answer.walks) == 1
    assert not asked.is_example


def test_posts_at_the_torque_of_the_head_are_asked_about():
    words = "Post torque and final torque are both 34.0 N·m. Check that this figure is meant for the posts."
    assert signals(answer(figure="34", target="34 N·m"), words) == ["notice"]
    assert signals(on_card(figure="34"), words) == ["notice"]
    assert signals(answer(figure="34", target="33.9"), "are both") == []
    assert signals(answer(figure="34"), "are both") == []


def test_posts_have_the_wrenches_and_passes_that_a_head_has():
    found = answer(shares="50", turns="30", wrench_high="40", wrench_type="click")
    assert found.headline == "11 → 22 N·m + 30° · B – C – A – D"
    assert signals(found, "tightened by angle") == ["warning"]
    # by hand: 300/360 of 22 N·m is 18.33 N·m
    found = answer(extension="60", wrench_length="300", graduation="0.1")
    assert marks(found)[-1] == 18.3
    assert [figure.key for figure in found.figures] == ["wrench", "step_chart"]
    assert signals(found, "hold only with this extension") == ["notice"]
    found = answer(wrench_high="60", wrench_low="5", small_step="0.2", small_high="12")
    assert found.headline == "7.4 → 15 → 22 N·m · B – C – A – D"
    assert answer(passes="2").headline.startswith("11 → 22 N·m")
    assert signals(answer(passes="1"), "A single pass") == ["notice"]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"graduation": "23"}, "graduation", "Wrench scale step must be smaller than the final torque"),
        ({"nip": "22"}, "nip", "First pass torque must be below the final torque"),
        (
            {"wrench_high": "20"},
            "wrench_high",
            "Pass 3 needs a setting of 22.0 N·m. The wrench goes only to 20.0 N·m. Use a larger wrench.",
        ),
    ],
)
def test_each_mistake_gets_its_sentence_at_a_box_that_is_there(typed, field, message):
    found = error_of(answer, **typed)
    assert found[0] in {entry.key for entry in POSTS.entries()}
    assert found[0] == field
    assert found[1].startswith(message)


def test_what_is_lacking_is_not_called_wrong():
    asked = asked_with("torque.rocker_posts", ["figure=22", "posts=3", "extension=60"])
    assert asked.errors == ()
    assert [error.message for error in asked.lacking] == ["Enter the wrench lever length, in millimetres"]
