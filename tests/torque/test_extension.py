"""What to set with an extension on the wrench: share, mark, band, and each refusal."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import error_of, signals

PLAIN = {"figure": "34 N·m", "wrench_length": "300 mm", "extension": "60 mm", "angle": "0°", "graduation": "0.1 N·m"}


answer = partial(answered, "torque.extension", **PLAIN)


@pytest.mark.parametrize(
    ("typed", "setting", "share"),
    [
        ({}, "28.3 N·m", 83.3333),  # by hand: 300/360 of 34 is 28.33
        ({"angle": "90"}, "34.0 N·m", 100.0),  # square to the wrench nothing changes
        ({"angle": "180"}, "42.5 N·m", 125.0),  # back to the hand: 300/240 of 34
        ({"angle": "60"}, "30.9 N·m", 90.9091),  # 300/330 of 34 is 30.91
        ({"figure": "25 lb ft", "graduation": "1 lb ft"}, "21 lbf·ft", 83.3333),  # 300/360 of 25 is 20.83
        ({"figure": "25 lb ft", "graduation": "0.5 N·m"}, "28.0 N·m", 83.3333),  # 33.895 · 300/360 is 28.25, down
    ],
)
def test_the_setting_is_the_share_of_the_lever_to_the_nearest_mark(typed, setting, share):
    # US Army TM 9-254, torque wrenches with adaptors: the effective lever
    found = answer(**typed)
    assert found.value("setting").quantity == setting
    assert magnitude_in(found.value("to_set").quantity, "%") == pytest.approx(share, abs=1e-4)
    assert found.headline.startswith(f"Set {setting} for ")
    assert setting in found.says
    assert f"set {setting}" in found.drawing.svg


def test_headline_says_both_figures():
    assert answer().headline == "Set 28.3 N·m for 34.0 N·m"
    assert answer(figure="25 lb ft").headline == "Set 28.2 N·m for 25.0 lbf·ft"


def test_what_is_on_the_nut_has_the_wrenchs_band_and_the_lengths():
    # by hand: 28.3 · 360/300 is 33.96; limits of 4 % and 6 % over √3, twice
    found = answer(wrench_type="click", wrench_high="60").value("applied").quantity
    assert magnitude_in(found, "N·m") == pytest.approx(33.96)
    assert uncertainty_in(found, "N·m") == pytest.approx(2 * 0.04 * 33.96 / 3**0.5)
    assert uncertainty_in(answer().value("applied").quantity, "N·m") == pytest.approx(2 * 0.06 * 33.96 / 3**0.5)
    budget = answer(extension="60 ± 1 mm", wrench_length="300 ± 10 mm").value("applied").budget
    assert [name for name, _ in budget] == ["The wrench", "Wrench lever length", "Extension length"]


def test_it_is_cautioned_always_and_more_where_the_mark_is_far():
    assert signals(answer(), "holds only with this extension") == ["notice"]
    assert signals(answer(), "Rounding to the mark") == []
    # by hand: 300/358 · 34 is 28.49; 28 is 1.7 % below
    assert signals(answer(graduation="1", extension="58"), "puts the torque on the nut off by") == []
    # by hand: 300/361 · 34 = 28.255; 27.5 is 2.7 % below
    assert signals(answer(graduation="2.5", extension="61"), "puts the torque on the nut off by 2.7%") == ["notice"]


def test_what_nobody_says_of_the_wrench_is_told():
    assert signals(answer(), "The accuracy of this wrench is not known: 6% is assumed.") == ["notice"]
    assert signals(answer(wrench_type="click"), "The accuracy of this wrench") == []
    assert signals(answer(), "Highest wrench setting is not typed") == ["notice"]
    assert signals(answer(wrench_high="60"), "Highest wrench setting is not typed") == []


def test_an_angle_is_asked_for_and_not_taken_for_nought():
    asked = asked_with("torque.extension", [f"{key}={text}" for key, text in PLAIN.items() if key != "angle"])
    assert [error.message for error in asked.lacking] == ["Enter the extension angle, in degrees"]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"angle": "180", "extension": "250"},
            "extension",
            "Extension length must be shorter: pointing back, it leaves less than a fifth of the wrench lever",
        ),
        (
            {"wrench_high": "28"},
            "wrench_high",
            "The setting must be 28.3 N·m; the wrench goes only to 28.0 N·m. Use a larger wrench or a "
            "shorter extension.",
        ),
        (
            {"wrench_low": "30"},
            "wrench_low",
            "The setting must be 28.3 N·m; the wrench starts at 30.0 N·m. Use a smaller wrench.",
        ),
        (
            {"wrench_high": "200"},
            "wrench_high",
            "The setting must be 28.3 N·m; below 40.0 N·m, 20% of its highest setting, the wrench may not be accurate. "
            "Use a smaller wrench.",
        ),
        ({"wrench_low": "60", "wrench_high": "60"}, "wrench_low", "Lowest wrench setting must be below the highest"),
        (
            {"graduation": "20"},
            "graduation",
            "No mark of this wrench comes within 4% of 28.3 N·m. The nearest is 20 N·m, 29.4% off. "
            "Use a wrench with a finer scale.",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert error_of(answer, **typed) == (field, message)


def test_a_lever_of_a_fifth_is_left_and_answered():
    # by hand: 300 − 239 is just over a fifth of 300; 8 · 300/61 is 39.34
    assert answer(figure="8", angle="180", extension="239").value("setting").quantity == "39.3 N·m"
    assert error_of(answer, figure="8", angle="180", extension="241")[0] == "extension"


@pytest.mark.parametrize(("high", "refused"), [("141.5", False), ("142", True)])
def test_a_fifth_of_the_highest_setting_is_in_reach(high, refused):
    # 20 % of 141.5 is the mark itself, 28.3
    if refused:
        assert error_of(answer, wrench_high=high)[0] == "wrench_high"
    else:
        assert answer(wrench_high=high).headline
