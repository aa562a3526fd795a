"""The gaps as left: closer than the figure, or not, or not to be told."""

from functools import partial

import pytest

from calculators.bench.asking import answered, asked_with
from tests.answers import messages_of

GAPS = {"inlet_clearance": "0.15 mm", "exhaust_clearance": "0.20 mm", "cylinders": "2", "gap_error": "0.02 mm"}


answer = partial(answered, "lash.left", **GAPS)


def rows(found):
    return {row["valve"]: row for row in found.tables[0].as_data()["rows"]}


@pytest.mark.parametrize(
    ("left", "said"),
    [
        ("0.12", "closer than the clearance: set it again"),
        ("0.14", "at the clearance, as far as the blades can tell"),
        ("0.18", "not closer than the clearance"),
    ],
)
def test_what_is_left_is_held_against_the_clearance(left, said):
    found = answer(**{"inlet_left.1": left})
    assert rows(found)["1 inlet"]["as_left"] == said
    assert any("Left closer" in caution.text for caution in found.warnings) == (left == "0.12")
    assert all(caution.text.endswith(".") for caution in found.warnings)


def test_each_kind_is_held_against_its_own_figure():
    found = answer(**{"inlet_left.1": "0.18", "exhaust_left.1": "0.16", "exhaust_left.2": "0.25 0.16"})
    assert {name for name, row in rows(found).items() if row["chosen"]} == {"1 exhaust", "2 exhaust 2"}
    assert found.headline == "Set again: 1 exhaust, 2 exhaust 2"
    assert found.value("close").quantity == 2


@pytest.mark.parametrize(
    ("typed", "headline"),
    [
        ({"inlet_left.1": "0.18"}, "Not too close"),
        ({"inlet_left.1": "0.18", "inlet_left.2": "0.18"}, "None of 2 too close"),
        ({"cylinders": "12", "inlet_left": "0.10; " * 11 + "0.10"}, "Set 12 of 12 valves again"),
    ],
)
def test_the_headline_names_what_to_set_again(typed, headline):
    assert answer(**typed).headline == headline


def test_without_a_reading_it_says_what_it_needs():
    asked = asked_with("lash.left", [f"{key}={text}" for key, text in GAPS.items()])
    assert not asked.errors
    assert [error.message for error in asked.lacking] == ["Enter the gap left at one valve or more, in millimetres"]


def test_what_cannot_be_meant_is_refused_with_cause_and_remedy():
    assert messages_of(answer, **{"inlet_left.2": "5.1"}) == [
        "Inlet gap left of cylinder 2 must each be between 0 mm and 5 mm"
    ]
