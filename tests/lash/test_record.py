"""The record of the gaps: closed, opened, by half, or no more than the blades can tell."""

from functools import partial

import pytest

from calculators.bench.asking import answered, asked_with
from tests.answers import messages_of

answer = partial(answered, "lash.record", cylinders="4")


def rows(found):
    return {row["valve"]: row for row in found.tables[0].as_data()["rows"]}


def said(found, signal):
    return " ".join(caution.text for caution in found.warnings if caution.signal == signal)


def test_a_gap_that_has_closed_is_flagged_with_what_to_check():
    found = answer(
        **{"exhaust_last.3": "0.20", "exhaust_found.3": "0.14", "inlet_last.1": "0.15", "inlet_found.1": "0.14"}
    )
    assert rows(found)["3 exhaust"]["moved"] == "closed"
    assert rows(found)["3 exhaust"]["change"] == pytest.approx(-0.06)
    assert rows(found)["1 inlet"]["moved"] == "no change the blades can show"
    assert found.headline == "Closed: 3 exhaust"
    assert found.says.startswith("Closed since last time: 3 exhaust, by 0.06")
    assert "seat" in said(found, "notice") and "leaks" in said(found, "notice")
    assert said(found, "warning") == ""
    assert (found.value("closed").quantity, found.value("opened").quantity) == (1, 0)


@pytest.mark.parametrize(("found", "moved"), [("0.166", "closed"), ("0.168", "no change"), ("0.164", "closed")])
def test_only_a_change_beyond_the_feel_of_the_blades_counts(found, moved):
    # two readings good to 0.02 mm each: u = 0.02/√3 each, U = 2·√2·0.02/√3 = 0.0327 mm
    assert rows(answer(**{"inlet_last.1": "0.20", "inlet_found.1": found}))["1 inlet"]["moved"].startswith(moved)


def test_a_typed_limit_wins_over_the_one_for_all():
    typed = {"inlet_last.1": "0.20 ± 0.001", "inlet_found.1": "0.19 ± 0.001"}
    assert rows(answer(**typed))["1 inlet"]["moved"] == "closed"
    assert rows(answer(**typed, gap_limit="0.2"))["1 inlet"]["moved"] == "closed"
    exact = {"inlet_last.1": "0.20", "inlet_found.1": "0.19", "gap_limit": "0"}
    assert rows(answer(**exact))["1 inlet"]["moved"] == "closed"


@pytest.mark.parametrize(
    ("now", "warned"),
    [
        ("0.11", ""),
        ("0.10", "Closed by half or more: 2 exhaust"),
        ("0", "Closed by half or more: 2 exhaust"),
        ("0.29", ""),
        ("0.30", "Opened by half or more: 2 exhaust"),
    ],
)
def test_a_gap_moved_by_half_keeps_the_engine_from_running(now, warned):
    text = said(answer(**{"exhaust_last.2": "0.20", "exhaust_found.2": now}), "warning")
    assert text.startswith(warned)
    assert bool(text) == bool(warned)
    assert not warned or "Do not run the engine" in text


def test_half_of_a_gap_that_the_blades_cannot_tell_is_no_half():
    found = answer(**{"inlet_last.1": "0.04", "inlet_found.1": "0.02"})
    assert rows(found)["1 inlet"]["moved"] == "no change the blades can show"


def test_a_gap_that_has_opened_is_told_with_other_causes():
    found = answer(**{"inlet_last.4": "0.15", "inlet_found.4": "0.22"})
    assert rows(found)["4 inlet"]["moved"] == "opened"
    assert "bent pushrod" in said(found, "notice")


@pytest.mark.parametrize(
    ("typed", "headline"),
    [
        ({"inlet_last.1": "0.15", "inlet_found.1": "0.15"}, "No change the blades can show"),
        (
            {
                "inlet_last.1": "0.15",
                "inlet_found.1": "0.10",
                "exhaust_last.2": "0.20",
                "exhaust_found.2": "0.26",
            },
            "Closed: 1 inlet; opened: 2 exhaust",
        ),
        ({"inlet_last.1": "0.15", "inlet_found.1": "0.20"}, "Opened: 1 inlet"),
        (
            {"cylinders": "12", "inlet_last": "0.20; " * 11 + "0.20", "inlet_found": "0.10; " * 11 + "0.10"},
            "Of 12: 12 closed, 0 opened",
        ),
    ],
)
def test_the_headline_names_what_has_moved(typed, headline):
    assert answer(**typed).headline == headline


def test_a_valve_read_only_once_is_left_out():
    found = answer(**{"inlet_last.1": "0.15", "inlet_found.1": "0.15", "inlet_found.2": "0.30"})
    assert set(rows(found)) == {"1 inlet"}


def test_several_valves_of_a_kind_are_held_each_against_its_own():
    found = answer(**{"inlet_last.1": "0.15 0.15", "inlet_found.1": "0.15 0.09"})
    assert {name: row["moved"] for name, row in rows(found).items()} == {
        "1 inlet 1": "no change the blades can show",
        "1 inlet 2": "closed",
    }


def test_where_the_gaps_are_not_as_many_as_last_time_they_are_not_compared():
    found = answer(
        **{"inlet_last.3": "0.15 0.15", "inlet_found.3": "0.09", "exhaust_last.1": "0.20", "exhaust_found.1": "0.20"}
    )
    assert set(rows(found)) == {"1 exhaust"}
    assert "Not compared: inlet of cylinder 3." in said(found, "notice")
    assert said(answer(**{"inlet_last.3": "0.15", "inlet_found.3": "0.15"}), "notice") == ""
    two_of_three = {"inlet_last.3": "0.15 0.15", "inlet_found.3": "0.15 0.15 0.09"}
    assert set(rows(answer(**two_of_three, **{"exhaust_last.1": "0.2", "exhaust_found.1": "0.2"}))) == {"1 exhaust"}


def test_without_both_readings_of_a_valve_it_says_what_it_needs():
    asked = asked_with("lash.record", ["cylinders=4", "inlet_found.1=0.15"])
    assert not asked.errors
    assert [error.message for error in asked.lacking] == [
        "Enter the gap found and the gap left last time of one valve or more, in millimetres"
    ]


def test_each_gap_is_within_its_limits():
    message = "Inlet gap found of cylinder 2 must each be between 0 mm and 5 mm"
    assert message in messages_of(answer, **{"inlet_found.2": "5.1"})
