"""The cold check and the first drive."""

from functools import partial

import pytest

from calculators.bench.asking import answered
from tests.answers import signals, steps

first_drive = partial(answered, "running_in.first_drive")


def test_the_minutes_come_from_the_first_run_and_the_ceiling_from_the_highest_speed():
    answer = first_drive(minutes="25", highest_speed="4600", odometer="0")
    # by hand: 25 less the five standing; 67 % of 4600 down to a mark of 50
    assert answer.headline == "20 min gently, 10 pulls, under 3050 r/min"
    assert steps(answer)["warm"].minutes == 20
    assert "no more than 3050 r/min" in steps(answer)["warm"].words
    assert "never above 3050 r/min" in answer.drawing.svg


def test_what_is_typed_wins():
    answer = first_drive(warm="1", ceiling="2800")
    assert answer.headline == "1 min gently, 10 pulls, under 2800 r/min"
    assert "drive 1 minute gently" in answer.says


def test_without_a_ceiling_it_is_told_without_figures():
    answer = first_drive(warm="12")
    assert answer.headline == "12 min gently, 10 pulls"
    assert answer.says.endswith("release 10 times.")
    assert steps(answer)["warm"].large == "Warm it gently"


@pytest.mark.parametrize(
    ("nuts", "words"),
    [
        ("maker", "Head nuts only if the maker asks for it."),
        ("again", "Head nuts as the maker says, before the lash."),
        ("never", "Leave the head nuts alone."),
    ],
)
def test_head_nuts_are_tightened_again_only_as_the_maker_says(nuts, words):
    assert steps(first_drive(nuts=nuts))["nuts"].words == words


def test_the_lash_is_told_with_its_figures_where_both_are_known():
    answer = first_drive(inlet_clearance="0.15", exhaust_clearance="8 thou")
    assert steps(answer)["lash"].words == "Set cold, after the nuts: lash 0.15 mm inlet, 8.0 thou exhaust."
    assert steps(first_drive(inlet_clearance="0.15"))["lash"].words == "Set cold, after the nuts: lash."


def test_brakes_are_proved_before_the_drive():
    assert signals(first_drive(), "first bend") == ["warning"]
    assert list(steps(first_drive())).index("yard") < list(steps(first_drive())).index("warm")


@pytest.mark.parametrize(
    ("words", "signal"),
    [("Carbon monoxide", "danger"), ("while you turn it", "warning"), ("timing light", "warning"), ("burn", "caution")],
)
def test_what_the_cold_check_and_the_start_after_it_can_do_is_told(words, signal):
    assert signals(first_drive(), words) == [signal]


def test_nobody_crawls_under_it():
    found = steps(first_drive())
    assert all("under the vehicle from the side" in found[key].words for key in ("yard", "stop"))
