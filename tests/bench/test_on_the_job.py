"""What a question leaves on the job sheet: readings with their labels, and answers that a person was done with."""

import json

import pytest

from calculators.bench.asking import may_rest_on
from calculators.bench.question import question
from calculators.browser import answer_message
from calculators.job.readings import as_read
from tests.cards import MARRAM as CARD

WHEN = "2026-11-25T14:00:00.000Z"
POSTS = {"post_torque": ("16", "lbf·ft"), "rocker_posts": ("3", None), "torque.rocker_posts.passes": ("2", None)}


def readings(typed):
    return {
        path: {"text": text, "when": WHEN} | ({"unit": unit} if unit else {}) for path, (text, unit) in typed.items()
    }


def done_with(typed, example=False):
    card = {"name": CARD.name, "data": CARD.data} if example else None
    asked = {"want": "done-with", "name": "torque.rocker_posts", "readings": readings(typed), "example": example}
    return json.loads(answer_message(json.dumps(asked | {"card": card})))


def test_a_questions_own_entries_have_their_labels_on_the_sheet():
    read = {read.path: (read.label, read.text, read.group) for read in as_read(readings(POSTS))}
    assert read["torque.rocker_posts.passes"] == ("Number of passes", "2", "Torque and order")
    assert read["rocker_posts"] == ("Posts", "3 in line", "Torque and order")
    assert read["post_torque"][:2] == ("Post torque", "16 lbf·ft")


def test_an_answer_goes_onto_the_sheet_with_what_it_rests_on():
    decision = done_with(POSTS)["decision"]
    assert decision["calculator"] == "torque.rocker_posts"
    assert decision["lead"].startswith("Bring the shaft down")
    assert decision["rests_on"]["post_torque"] == {"label": "Post torque", "text": "16 lbf·ft"}
    assert decision["stages"]


def test_the_examples_answer_does_not():
    assert done_with({}, example=True)["decision"] is None
    assert done_with({"rocker_posts": ("3", None)}, example=True)["decision"] is None


@pytest.mark.parametrize(
    ("path", "may"),
    [
        ("bore", True),
        ("chamber.3", True),
        ("compression.ratio.nothing", False),
        ("head_torque", False),
        ("bore.2", False),
    ],
)
def test_a_reading_belongs_to_the_questions_that_ask_for_it(path, may):
    assert may_rest_on(question("compression.ratio"), path) is may
