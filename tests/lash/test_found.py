"""The gaps found: verdicts, turns and their sense, the nut's share, the steps, and every refusal."""

from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answered, asked_with
from tests.answers import error_of
from tests.physics import Judged, is_in_only_with_its_whole_uncertainty

GAPS = {"inlet_clearance": "0.15 mm", "exhaust_clearance": "0.20 mm", "cylinders": "1"}
SCREW = {"screw_pitch": "1 mm", "rocker_ratio": "1.25", "adjuster_end": "valve"}


answer = partial(answered, "lash.found", **GAPS | SCREW)


def rows(found):
    return {row["valve"]: row for row in found.tables[0].as_data()["rows"]}


def said(found):
    return " ".join(caution.text for caution in found.warnings)


# by hand: 360° × 0.10 mm ÷ 1 mm = 36°, divided by the leverage
@pytest.mark.parametrize(
    ("typed", "turn"),
    [
        ({}, "36° clockwise"),
        ({"adjuster_end": "pushrod"}, "29° clockwise"),
        ({"adjuster_end": "pivot"}, "16° clockwise"),
        ({"screw_pitch": "0.75 mm"}, "48° clockwise"),
    ],
)
def test_a_wide_gap_is_closed_by_its_turn(typed, turn):
    assert rows(answer(inlet_found="0.25", **typed))["1 inlet"]["turn"] == turn


def test_a_wide_gap_is_closed_clockwise_and_a_close_one_opened_anticlockwise():
    found = rows(answer(inlet_found="0.25", exhaust_found="0.10"))
    assert found["1 inlet"]["turn"] == "36° clockwise"
    assert found["1 exhaust"]["turn"] == "36° anticlockwise"
    assert found["1 inlet"]["clock"] == "6 minutes"


@pytest.mark.parametrize(
    ("found", "verdict"),
    [
        ("0.15 ± 0", "in: leave it"),
        ("0.20 ± 0", "in: leave it"),
        ("0.17", "in: leave it"),
        ("0.15", "too close to call: try the two blades"),
        ("0.205", "too close to call: try the two blades"),
        ("0.13", "out: set it"),
        ("0.22", "out: set it"),
    ],
)
def test_a_gap_is_judged_from_the_figure_up_to_its_allowance(found, verdict):
    limit = {"gap_error": "0 mm"} if "± 0" in found else {}
    assert rows(answer(inlet_found=found.partition(" ±")[0], **limit))["1 inlet"]["verdict"] == verdict


def test_a_plus_minus_typed_with_a_gap_wins_over_the_error_limit():
    assert rows(answer(inlet_found="0.13 ± 0.05"))["1 inlet"]["verdict"].startswith("too close")


@pytest.mark.parametrize(
    ("typed", "headline"),
    [
        ({"inlet_found": "0.25", "exhaust_found": "0.10"}, "Set 1 inlet, 1 exhaust"),
        ({"inlet_found": "0.15"}, "Try the two blades at 1 inlet"),
        ({"inlet_found": "0.17"}, "Leave the valve"),
        ({"inlet_found": "0.17", "exhaust_found": "0.22"}, "Leave all 2 valves"),
        ({"cylinders": "12", "inlet_found": "0.25; " * 11 + "0.25"}, "Set 12 of 12 valves"),
        ({"cylinders": "12", "inlet_found": "0.15; " * 11 + "0.15"}, "Try the two blades at 12 valves"),
    ],
)
def test_the_headline_names_what_to_set_until_it_is_too_much(typed, headline):
    assert answer(**typed).headline == headline


def test_says_the_turns_until_they_are_too_many():
    assert "Set 1 inlet 36° clockwise." in answer(inlet_found="0.25").says
    assert "12 need setting: see the table." in answer(cylinders="12", inlet_found="0.25; " * 11 + "0.25").says
    assert answer(inlet_found="0.17").says.endswith("Leave all the valves you measured as they are.")


def test_only_valves_that_are_out_are_turned_and_each_has_its_dial():
    found = answer(cylinders="2", inlet_found="0.25; 0.17", exhaust_found="; 0.20")
    assert [(stage.title, stage.drawing and stage.drawing.key) for stage in found.steps.stages] == [
        ("1 inlet", "turn_1_inlet"),
        ("2 exhaust", None),
    ]
    assert [step.key for stage in found.steps.stages for step in stage.steps] == [
        "set_1_inlet",
        "prove_1_inlet",
        "prove_2_exhaust",
    ]
    assert found.steps.stages[0].steps[0].large == "1 IN · 36° clockwise"
    assert "0.15 mm must go in, 0.20 mm must not" in found.steps.stages[0].steps[1].words
    assert found.value("out").quantity == 1
    assert answer(inlet_found="0.17").walks == ()


def test_a_screw_is_told_by_its_end_and_its_pitch():
    found = answer(inlet_found="0.25", adjuster_end="pushrod")
    assert magnitude_in(found.value("per_hundredth").quantity, "°") == pytest.approx(2.88)
    assert magnitude_in(found.value("per_turn").quantity, "mm") == pytest.approx(1.25)
    assert "the screw at the rocker's pushrod end" in found.figures[0].title


def test_what_the_lock_nut_adds_is_taken_off_the_gap_to_set():
    found = answer(gap_before="0.15", gap_after="0.18", inlet_found="0.25")
    assert rows(found)["1 inlet"]["loose"] == pytest.approx(0.12)
    assert "to 0.12 mm with the nut loose" in found.steps.stages[0].steps[0].words
    assert rows(answer(locknut_adds="0.03", inlet_found="0.25"))["1 inlet"]["loose"] == pytest.approx(0.12)
    assert "loose" not in rows(answer(inlet_found="0.25"))["1 inlet"]


def test_two_valves_of_a_kind_are_typed_in_one_cell_and_told_apart():
    found = answer(inlet_found="0.25 0.10 mm")
    assert rows(found)["1 inlet 1"]["turn"] == "36° clockwise"
    assert rows(found)["1 inlet 2"]["turn"] == "18° anticlockwise"
    assert found.steps.stages[1].steps[0].large == "1 IN 2 · 18° anticlockwise"


def test_more_than_a_whole_turn_sends_the_reader_to_look_first():
    assert "More than one whole turn at 1 inlet" in said(answer(inlet_found="1.5"))
    assert "whole turn" not in said(answer(inlet_found="0.3"))


def test_a_set_without_the_pair_is_told_and_the_step_says_to_measure_again():
    found = answer(inlet_found="0.25", blades="0.15 0.50")
    assert "There is no pair for the inlet valves in this set: 0.15 mm" in said(found)
    assert "measure again; 0.15 mm is wanted" in found.steps.stages[0].steps[1].words


def test_warns_of_an_engine_that_fires_before_all_else():
    assert answer(inlet_found="0.25").warnings[0].signal == "warning"


def test_a_drawing_has_at_most_so_many_rows_and_those_to_set_first():
    gaps = "0.17 0.17 0.17; " * 11 + "0.17 0.17 0.25"
    found = answer(cylinders="12", inlet_found=gaps)
    assert "12 more valves" in found.drawing.svg
    assert ">12 IN 3<" in found.drawing.svg


def test_without_a_reading_it_says_what_it_needs_and_marks_nothing_as_wrong():
    asked = asked_with("lash.found", [f"{key}={text}" for key, text in (GAPS | SCREW).items()])
    assert not asked.errors
    assert [error.message for error in asked.lacking] == ["Enter the gap found at one valve or more, in millimetres"]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"inlet_found.1": "5.1"}, "inlet_found.1", "Inlet gap found of cylinder 1 must each be between 0 mm and 5 mm"),
        (
            {"inlet_found": "0.2", "locknut_adds": "0.15"},
            "locknut_adds",
            "The lock-nut adds 0.15 mm, which leaves less than 0.02 mm to set the inlet valves to. "
            "Clean or change the screw and the nut, then try again.",
        ),
    ],
)
def test_what_cannot_be_meant_is_refused_with_cause_and_remedy(typed, field, message):
    assert error_of(answer, **typed) == (field, message)


def test_an_end_that_nobody_told_is_asked_for():
    asked = asked_with("lash.found", [f"{key}={text}" for key, text in GAPS.items()] + ["inlet_found.1=0.2"])
    assert [error.field for error in asked.lacking] == ["screw_pitch", "adjuster_end", "rocker_ratio"]


test_in_is_said_only_with_the_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    lambda **typed: answer(**{"exhaust_found.1": "0.25"} | typed),
    Judged(
        "exhaust_found.1",
        lambda found: 0.25,
        # blades good to 0.01 mm: U = 2 · 0.01 ÷ √3
        lambda found: (rows(found)["1 exhaust"]["found"], 2 * 0.01 / 3**0.5),
        lambda found: rows(found)["1 exhaust"]["verdict"].startswith("in"),
        limit=lambda typed, found: 0.25,
    ),
)
