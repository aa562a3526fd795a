"""One screw: its turn for one gap, at either end of the rocker."""

import math
import re
from functools import partial
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import magnitude_in, read_card, uncertainty_in
from calculators.bench.asking import answer_of, answered, readings_of
from calculators.bench.desk import Desk
from calculators.bench.question import question
from calculators.formulas.adjuster_screw import leverage, screw_turn
from calculators.lash.adjuster_drawing import clock_words, scale_figure, turn_words
from tests.physics import falls, goes_as_physics_sends_it

ENGINES = Path(__file__).parents[2] / "docs/engines"
SCREW = {"screw_pitch": "1 mm", "rocker_ratio": "1.25", "adjuster_end": "valve"}
OPEN_BY_A_TENTH = {"gap_now": "0.10 mm", "gap_wanted": "0.20 mm"}


answer = partial(answered, "lash.screw", **SCREW | OPEN_BY_A_TENTH)


def number(found, key, unit="°"):
    return magnitude_in(found.value(key).quantity, unit)


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
    found = answer(**typed)
    assert number(found, "per_hundredth") == pytest.approx(hundredth, rel=1e-6)
    assert number(found, "per_thou") == pytest.approx(thou, rel=1e-6)
    assert number(found, "turn") == pytest.approx(-10 * hundredth, rel=1e-6)


def test_a_whole_turn_changes_the_gap_by_pitch_and_leverage():
    assert number(answer(adjuster_end="pushrod"), "per_turn", "mm") == pytest.approx(1.25)


@pytest.mark.parametrize(
    ("card", "end", "hundredth"), [("marram-f4", "pushrod", 3.6 / 1.15), ("dunlin-f2", "valve", 3.6)]
)
def test_the_card_says_which_end_the_screw_is_at(card, end, hundredth):
    # by hand: 360° · 0.01 mm ÷ 1 mm, at the pushrod end divided by the rocker ratio of 1.15
    engine, screw = read_card(ENGINES / f"{card}.yml"), question("lash.screw")
    found = answer_of(Desk(readings_of(screw, ["gap_now=0.30", "gap_wanted=0.20"]), engine, example=True), screw)
    assert engine.fact("valve_gear.adjuster_end") == end
    assert number(found, "per_hundredth") == pytest.approx(hundredth, rel=1e-6)
    assert f"the screw at the rocker&#39;s {end} end" in found.figures[0].svg
    assert found.figures[0].title == f"What a turn of the screw at the rocker's {end} end is worth"


def test_every_engine_with_an_adjuster_says_at_which_end_it_sits():
    cards = [read_card(path) for path in ENGINES.glob("*.yml")]
    threaded = [card for card in cards if card.fact("valve_gear.adjuster_pitch")]
    assert len(threaded) >= 3
    assert all(card.fact("valve_gear.adjuster_end") in ("valve", "pushrod") for card in threaded)
    for card in threaded:
        assert " end" not in card.source("valve_gear.adjuster_pitch")  # told once, where it is used


def test_drawings_show_the_adjuster_at_the_demonstration_engine_s_end():
    marram = read_card(ENGINES / "marram-f4.yml")
    end, other = ("pushrod", "valve") if marram.fact("valve_gear.adjuster_end") == "pushrod" else ("valve", "pushrod")
    showing = [
        path.read_text(encoding="utf-8")
        for path in (ENGINES.parent / "drawings").glob("*.svg")
        if "adjuster" in path.read_text(encoding="utf-8")
    ]
    assert showing
    for svg in showing:
        said = " ".join(re.search("<desc>(.*?)</desc>", svg, re.S)[1].split())
        assert f"at the {end} end" in said
        assert f"at the {other} end" not in said


@pytest.mark.parametrize(
    ("now", "headline", "says"),
    [
        ("0.30", "36° clockwise, 6 minutes of a clock", "Turn the screw 36° clockwise, to close the gap to 0.20 mm."),
        (
            "0.10",
            "36° anticlockwise, 6 minutes of a clock",
            "Turn the screw 36° anticlockwise, to open the gap to 0.20 mm.",
        ),
        ("0.20", "No turn: the gap is right", "The gap is right; leave the screw."),
        (
            "1.30",
            "1 turn + 36° clockwise, 66 minutes of a clock",
            "Turn the screw 1 turn + 36° clockwise, to close the gap to 0.20 mm.",
        ),
    ],
)
def test_a_wide_gap_is_closed_clockwise_and_a_close_one_opened(now, headline, says):
    found = answer(gap_now=now)
    assert (found.headline, found.says) == (headline, says)
    assert bool(found.walks) == (now != "0.20")
    assert any("whole turn" in caution.text for caution in found.warnings) == (now == "1.30")


def test_the_turn_is_as_unsure_as_the_gap():
    # JCGM 100:2008, 5.1.2, by hand: 360° · 0.02 mm ÷ √3 · 2 on a pitch of 1 mm
    turn = answer(gap_now="0.30", gap_error="0.02 mm").value("turn").quantity
    assert uncertainty_in(turn, "°") == pytest.approx(360 * 0.02 / math.sqrt(3) * 2)


@given(st.floats(0.7, 2.5), st.floats(0.25, 3), st.floats(0, 1), st.sampled_from(["valve", "pushrod", "pivot"]))
def test_the_turn_moves_the_valve_s_end_by_what_was_wanted(ratio, pitch, gap, place):
    typed = {"rocker_ratio": f"{ratio:.6f}", "screw_pitch": f"{pitch:.6f} mm", "adjuster_end": place}
    turn = number(answer(**typed, gap_now=f"{gap:.6f} mm"), "turn")
    share = {"valve": 1, "pushrod": round(ratio, 6), "pivot": 1 + round(ratio, 6)}[place]
    assert turn / 360 * round(pitch, 6) * share == pytest.approx(round(gap, 6) - 0.20, abs=1e-9)


def test_the_steps_mark_the_slot_turn_tighten_and_measure_again():
    (stage,) = answer(gap_now="0.30").steps.stages
    assert [step.key for step in stage.steps] == ["mark", "turn", "tighten", "measure"]
    assert stage.steps[1].large == "36° clockwise"


@given(st.floats(0.7, 2.5), st.floats(0.25, 3), st.floats(-1, 1), st.sampled_from(["valve", "pushrod", "pivot"]))
def test_turning_the_screw_back_by_its_turn_gives_the_gap_back(ratio, pitch, closing, place):
    lever = leverage(place, ratio)
    turned = screw_turn(closing, pitch, lever)
    assert turned / 360 * pitch * lever == pytest.approx(closing, abs=1e-12)
    assert math.copysign(1, turned) == math.copysign(1, closing)


def test_a_dial_says_in_words_what_it_shows():
    assert "Valve to 0.20 mm: turn the screw 36° clockwise, 6 minutes on a clock" in answer(gap_now="0.30").drawing.svg


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


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer, falls("screw_pitch", (0.5, 2), "per_hundredth", "a coarser screw moves further in a turn")
)
