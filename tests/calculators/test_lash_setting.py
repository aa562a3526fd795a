"""Lash setting: turns and their sense, what the lock-nut adds, the proving blades, and every sentence of advice."""

import math
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card
from calculators._catalogue import Calculator, catalogue
from calculators._fields import ADJUSTER_END
from calculators._lash.adjuster_drawing import clock_words, scale_figure, turn_words
from calculators.formulas.adjuster_screw import leverage, screw_turn
from calculators.lash_setting import FORM, TITLE, compute

ENGINES = Path(__file__).parents[2] / "docs/engines"
MARRAM = read_card(ENGINES / "marram-f4.yml")
SETTING = Calculator("lash-setting", TITLE, "", FORM, compute)
GAPS = {"inlet_clearance": "0.15 mm", "exhaust_clearance": "0.20 mm", "cylinders": "1"}
SCREW = {"screw_pitch": "1 mm", "rocker_ratio": "1.25", "adjuster_end": "valve"}


def answer(**typed):
    return SETTING.answer(GAPS | SCREW | typed)


def value(report, key):
    return next(value for value in report.values if value.key == key)


def number(report, key, unit="mm"):
    return magnitude_in(value(report, key).quantity, unit)


def rows(report):
    return {row["valve"]: row for row in report.tables[0].as_data()["rows"]}


def error_of(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    (error,) = caught.value.errors
    return error.field, error.message


# by hand: 360° × 0.01 mm ÷ 1 mm = 3.6°, divided by the leverage
@pytest.mark.parametrize(
    ("typed", "hundredth", "thou"),
    [
        ({}, 3.6, 9.144),
        ({"screw_pitch": "0.75 mm"}, 4.8, 12.192),
        ({"adjuster_end": "pushrod"}, 2.88, 7.3152),
        ({"adjuster_end": "pivot"}, 1.6, 4.064),
        ({"screw_pitch": "1/24 in"}, 3.401575, 8.64),  # 24 threads to the inch: 0.024 of a turn a thou
    ],
)
def test_a_hundredth_and_a_thou_of_gap_are_so_many_degrees_of_screw(typed, hundredth, thou):
    report = answer(**typed)
    assert number(report, "per_hundredth", "°") == pytest.approx(hundredth, rel=1e-6)
    assert number(report, "per_thou", "°") == pytest.approx(thou, rel=1e-6)


def test_a_whole_turn_changes_the_gap_by_pitch_and_leverage():
    assert number(answer(adjuster_end="pushrod"), "per_turn") == pytest.approx(1.25)


@pytest.mark.parametrize(
    ("card", "end", "hundredth"), [("marram-f4", "pushrod", 3.6 / 1.15), ("dunlin-f2", "valve", 3.6)]
)
def test_the_card_says_which_end_the_screw_is_at(card, end, hundredth):
    # by hand: 360° · 0.01 mm ÷ 1 mm, at the pushrod end divided by the rocker ratio of 1.15
    engine = read_card(ENGINES / f"{card}.yml")
    report = SETTING.answer({}, engine)
    assert engine.fact("valve_gear.adjuster_end") == end
    assert number(report, "per_hundredth", "°") == pytest.approx(hundredth, rel=1e-6)
    assert f"the screw at the rocker&#39;s {end} end" in report.figures[0].svg
    assert report.figures[0].title == f"What a turn of the screw at the rocker's {end} end is worth"


def test_an_end_that_nobody_told_is_asked_for():
    assert error_of(adjuster_end="") == ("adjuster_end", "Enter the place of the adjuster")


def test_whatever_turns_the_adjuster_asks_for_its_end_in_one_and_the_same_way():
    asking = {
        name: field
        for name, found in catalogue().items()
        for field in found.form.fields
        if field.card == "valve_gear.adjuster_end" or "adjuster_end" in (field.key, field.reading)
    }
    assert set(asking) == {"lash-setting", "pushrods-and-tubes"}
    assert {id(field) for field in asking.values()} == {id(ADJUSTER_END)}


def test_every_engine_with_an_adjuster_says_at_which_end_it_sits():
    cards = [read_card(path) for path in ENGINES.glob("*.yml")]
    threaded = [card for card in cards if card.fact("valve_gear.adjuster_pitch")]
    assert len(threaded) >= 3
    assert all(card.fact("valve_gear.adjuster_end") in ("valve", "pushrod") for card in threaded)
    for card in threaded:
        assert " end" not in card.source("valve_gear.adjuster_pitch")  # told once, where it is used


def test_drawings_show_the_adjuster_at_the_demonstration_engine_s_end():
    end, other = ("pushrod", "valve") if MARRAM.fact("valve_gear.adjuster_end") == "pushrod" else ("valve", "pushrod")
    showing = [
        path.read_text(encoding="utf-8")
        for path in (ENGINES.parent / "drawings").glob("*.svg")
        if "adjuster" in path.read_text(encoding="utf-8")
    ]
    assert len(showing) >= 2
    for svg in showing:
        said = " ".join(re.search("<desc>(.*?)</desc>", svg, re.S)[1].split())
        assert f"at the {end} end" in said
        assert f"at the {other} end" not in said


def test_a_wide_gap_is_closed_clockwise_and_a_close_one_opened_anticlockwise():
    found = rows(answer(inlet_found="0.25", exhaust_found="0.10"))
    assert found["1 inlet"]["turn"] == "36° clockwise"
    assert found["1 exhaust"]["turn"] == "36° anticlockwise"
    assert found["1 inlet"]["clock"] == "6 minutes"


@given(st.floats(0.7, 2.5), st.floats(0.25, 3), st.floats(-1, 1), st.sampled_from(["valve", "pushrod", "pivot"]))
def test_turning_the_screw_back_by_its_turn_gives_the_gap_back(ratio, pitch, closing, place):
    lever = leverage(place, ratio)
    turned = screw_turn(closing, pitch, lever)
    assert turned / 360 * pitch * lever == pytest.approx(closing, abs=1e-12)
    assert math.copysign(1, turned) == math.copysign(1, closing)


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


def test_only_valves_that_are_out_are_turned_and_drawn():
    report = answer(cylinders="2", inlet_found="0.25; 0.17", exhaust_found="; 0.20")
    assert [figure.key for figure in report.figures] == ["scale", "turn_1_inlet"]
    found = rows(report)
    assert list(found) == ["1 inlet", "2 inlet", "2 exhaust"]
    assert (found["2 inlet"]["turn"], found["2 exhaust"]["turn"]) == ("leave", "try the blades")
    (walk,) = report.walks
    assert [step.key for stage in walk.stages for step in stage.steps] == [
        "set_1_inlet",
        "prove_1_inlet",
        "prove_2_exhaust",
    ]
    assert walk.stages[0].steps[0].large == "1 IN · 36° clockwise"
    assert "0.15 mm must go in, 0.20 mm must not" in walk.stages[0].steps[1].words


def test_without_readings_the_turn_is_answered_and_there_is_no_table():
    report = answer()
    assert report.tables == ()
    assert report.walks == ()
    assert report.lead.startswith("Turn the screw 3.6° for each 0.01 mm, 9.1° for each thou")


def test_lead_says_the_turns_until_they_are_too_many():
    assert "Set 1 inlet 36° clockwise." in answer(inlet_found="0.25").lead
    many = answer(cylinders="12", inlet_found="0.25; " * 11 + "0.25")
    assert "12 want setting: see the table." in many.lead
    assert answer(inlet_found="0.17").lead.endswith("Leave all the valves that you measured as they are.")


def test_the_lock_nut_s_addition_is_taken_off_the_gap_to_set():
    report = answer(gap_before="0.15", gap_after="0.18", inlet_found="0.25")
    assert number(report, "pull") == pytest.approx(0.03)
    assert number(report, "inlet_loose") == pytest.approx(0.12)
    assert number(report, "exhaust_loose") == pytest.approx(0.17)
    assert rows(report)["1 inlet"]["loose"] == pytest.approx(0.12)
    assert "to 0.12 mm with the nut loose" in report.walks[0].stages[0].steps[0].words


def test_a_lock_nut_that_closes_the_gap_leaves_a_wider_one_to_set():
    assert number(answer(gap_before="0.20", gap_after="0.17"), "inlet_loose") == pytest.approx(0.18)


def test_what_the_lock_nut_adds_says_which_reading_it_is_unsure_by():
    budget = dict(value(answer(gap_before="0.15 ± 0.03", gap_after="0.18 ± 0.01"), "pull").budget)
    # JCGM 100:2008, 5.1.2: variances add, 0.03² to 0.01²
    assert budget == pytest.approx({"Gap before tightening": 0.9, "Gap after tightening": 0.1})


def test_an_addition_too_small_to_tell_is_said_to_be():
    notices = [caution.text for caution in answer(gap_before="0.15", gap_after="0.16").cautions]
    assert any("less than these readings can tell from nothing" in text for text in notices)
    notices = [caution.text for caution in answer(gap_before="0.15", gap_after="0.20").cautions]
    assert not any("tell from nothing" in text for text in notices)


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"gap_before": "0.15"},
            "gap_after",
            "Enter the gap after tightening as well, or empty the gap before tightening",
        ),
        (
            {"gap_after": "0.15"},
            "gap_before",
            "Enter the gap before tightening as well, or empty the gap after tightening",
        ),
        (
            {"gap_before": "0.15", "gap_after": "0.30"},
            "gap_after",
            "The lock-nut adds 0.15 mm, which leaves less than 0.02 mm to set the inlet valves to. "
            "Clean or change the screw and the nut, then try again.",
        ),
        ({"screw_pitch": "0.2 mm"}, "screw_pitch", "Screw pitch must be between 0.25 mm and 3 mm"),
        ({"screw_pitch": ""}, "screw_pitch", "Enter the screw pitch, in millimetres"),
        ({"rocker_ratio": "3"}, "rocker_ratio", "Rocker ratio must be between 0.7 and 2.5"),
        ({"allowance": "0"}, "allowance", "Allowance over the gap must be between 0.01 mm and 0.3 mm"),
        ({"inlet_found.1": "4"}, "inlet_found.1", "Inlet gap found of cylinder 1 must each be between 0 mm and 3 mm"),
        ({"gap_error": "1"}, "gap_error", "Error limit of the gap readings must be between 0 mm and 0.2 mm"),
        ({"blades": "3 mm"}, "blades", "Feeler blades must each be between 0.01 mm and 2 mm"),
        ({"cylinders": "13"}, "cylinders", "Number of cylinders must be between 1 and 12"),
        (
            {"adjuster_end": "middle"},
            "adjuster_end",
            "Place of the adjuster must be one of: valve, pushrod, pivot",
        ),
    ],
)
def test_what_cannot_be_meant_is_refused_with_cause_and_remedy(typed, field, message):
    assert error_of(**typed) == (field, message)


def test_the_pair_of_blades_spans_the_figure_and_its_allowance():
    report = answer(blades="0.05 0.15 0.20 0.30")
    assert value(report, "inlet_go").texts == ("0.15 mm",)
    assert value(report, "inlet_no_go").texts == ("0.20 mm",)
    assert value(report, "exhaust_no_go").texts == ("0.20 mm + 0.05 mm = 0.25 mm",)


def test_a_set_without_the_pair_is_told_which_blades_it_lacks():
    report = answer(blades="0.15 0.50")
    assert not any(value.key in ("inlet_go", "inlet_no_go") for value in report.values)
    told = [caution.text for caution in report.cautions if caution.signal == "notice"]
    assert any("There is no pair for the inlet valves in this set: 0.15 mm" in text for text in told)


def test_one_blade_is_never_both_the_one_that_goes_in_and_the_one_that_must_not():
    report = answer(blades="0.155 mm", allowance="0.01 mm")
    assert not any(value.key == "inlet_go" for value in report.values)


def test_blades_off_the_gap_with_the_nut_loose_say_by_how_much():
    report = answer(gap_before="0.15", gap_after="0.18", blades="0.15 0.20")
    assert value(report, "inlet_loose_blades").texts == ("0.15 mm, 0.03 mm too wide",)


def test_more_than_a_whole_turn_sends_the_reader_to_look_first():
    texts = [caution.text for caution in answer(inlet_found="1.5").cautions]
    assert any("More than one whole turn at 1 inlet" in text for text in texts)
    assert not any("whole turn" in caution.text for caution in answer(inlet_found="0.3").cautions)


def test_a_dial_says_in_words_what_it_shows():
    figure = answer(inlet_found="0.25").figures[1]
    assert "Valve 1 inlet: turn the screw 36° clockwise, 6 minutes on a clock" in figure.svg


@pytest.mark.parametrize(("turn", "words"), [(0.4, "0°"), (359.6, "1 turn"), (-400, "1 turn + 40°"), (36, "36°")])
def test_whole_turns_are_said_apart(turn, words):
    assert turn_words(turn) == words


def test_a_minute_of_the_clock_is_six_degrees():
    assert [clock_words(turn) for turn in (6, 3, 360)] == ["1 minute", "0.5 minutes", "60 minutes"]


@given(st.floats(360 / (3 * 3.5), 360 / (0.25 * 0.7)))
def test_labels_of_the_scale_never_touch(degrees_per_mm):
    svg = scale_figure(degrees_per_mm, "valve").svg
    labels = {float(text) for text in re.findall(r">(\d+(?:\.\d+)?)</text>", svg)} - {0.0}
    if len(labels) > 1:
        step = min(labels)
        assert step * degrees_per_mm >= 30
    assert labels


def test_the_card_fills_what_it_knows():
    typed = FORM.prefilled(MARRAM)
    assert (typed["screw_pitch"], typed["allowance"], typed["rocker_ratio"]) == ("1 mm", "0.05 mm", "1.15")


def test_two_valves_of_a_kind_are_typed_in_one_cell_and_told_apart():
    report = answer(inlet_found="0.25 0.10 mm")
    found = rows(report)
    assert found["1 inlet 1"]["turn"] == "36° clockwise"
    assert found["1 inlet 2"]["turn"] == "18° anticlockwise"
    assert report.walks[0].stages[0].steps[2].large == "1 IN 2 · 18° anticlockwise"
