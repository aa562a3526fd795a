"""The cam: its centres from four events, and by how much it stands late."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import cells, error_of, read_off, signals

CAM = {"inlet_opens": "8", "inlet_closes": "40", "exhaust_opens": "42", "exhaust_closes": "6"}


answer = partial(answered, "timing.cam", **CAM)


def test_a_cam_is_told_from_its_four_events():
    # by hand: 8 + 180 + 40 = 228°; 114 − 8 = 106°; 114 − 6 = 108°; overlap 14°; separation 107°
    found = answer()
    assert found.headline == "Centres: inlet 106.0°, exhaust 108.0°"
    assert found.says.startswith("By the maker's figures the inlet's lobe centre is 106.0° after overlap top")
    assert (read_off(found, "overlap", "°"), read_off(found, "separation", "°")) == (14, 107)
    assert [magnitude_in(row["duration"], "°") for row in cells(found)] == [228, 228]
    assert [magnitude_in(row["centre"], "°") for row in cells(found)] == [106, 108]
    assert found.value("cam_verdict") is None


def test_a_cam_a_tooth_late_is_found_out():
    # by hand: 12° later throughout; one tooth of 60 is 12°
    found = answer(inlet_opens_read="-4", inlet_closes_read="52", cam_teeth="60")
    assert read_off(found, "cam_late", "°") == pytest.approx(12)
    assert found.headline == "12.0° late, near 1 tooth: out"
    assert found.says == "The cam is 12.0° late, near 1 tooth: out."
    assert signals(found, "can bend valves") == ["notice"]
    assert read_off(found, "per_tooth", "°") == pytest.approx(12)


def test_two_teeth_early_from_both_valves():
    # by hand: 24° earlier throughout
    found = answer(
        inlet_opens_read="32",
        inlet_closes_read="16",
        exhaust_opens_read="66",
        exhaust_closes_read="-18",
        cam_teeth="60",
    )
    assert found.headline == "24.0° early, near 2 teeth: out"


def test_a_cam_that_stands_right_is_in():
    found = answer(exhaust_opens_read="43", exhaust_closes_read="5")
    assert found.value("cam_verdict").quantity == "in"
    assert found.headline == "1.0° early: in"
    assert signals(found, "can bend valves") == []
    assert signals(found, "fires while you turn it") == ["warning"]


@pytest.mark.parametrize(("late", "verdict"), [("2.3", "in"), ("2.6", "too close to call"), ("3.7", "out")])
def test_the_cam_is_judged_with_all_of_its_uncertainty(late, verdict):
    # by hand: limit 3°, U of 2 √(0.5² + 0.2²/2) / √3, 0.6°
    typed = {"inlet_opens_read": str(8 - float(late)), "inlet_closes_read": str(40 + float(late))}
    found = answer(**typed)
    assert found.value("cam_verdict").quantity == verdict
    assert bool(signals(found, "can bend valves")) == (verdict != "in")


def test_what_the_wheel_is_off_by_is_in_the_cam_whole():
    # by hand: set 0.5° wrong, every event comes 0.5° later or earlier, and the cam with it, from one valve or from two
    one = {"inlet_opens_read": "8", "inlet_closes_read": "40", "wheel_read_to": "0"}
    both = one | {"exhaust_opens_read": "42", "exhaust_closes_read": "6"}
    for typed in (one, both):
        late = answer(**typed).value("cam_late").quantity
        assert uncertainty_in(late, "°") == pytest.approx(2 * 0.5 / 3**0.5)
    # and in no duration
    assert not uncertainty_in(cells(answer(**both))[0]["duration_read"], "°")


def test_what_each_reading_is_read_to_evens_out():
    # by hand: ± 0.2° each at two readings, half of each in the centre; at four, a quarter
    one = {"inlet_opens_read": "8", "inlet_closes_read": "40", "wheel_error": "0"}
    both = one | {"exhaust_opens_read": "42", "exhaust_closes_read": "6"}
    for typed, readings in ((one, 2), (both, 4)):
        late = answer(**typed).value("cam_late").quantity
        assert uncertainty_in(late, "°") == pytest.approx(2 * 0.2 / 3**0.5 / readings**0.5)


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"inlet_opens_read": "5"}, "inlet_closes_read", "Enter the measured inlet closing after bottom, in degrees"),
        ({"inlet_closes_read": "5"}, "inlet_opens_read", "Enter the measured inlet opening before top, in degrees"),
        (
            {"exhaust_closes_read": "5"},
            "exhaust_opens_read",
            "Enter the measured exhaust opening before bottom, in degrees",
        ),
        (
            {"inlet_opens": "-60", "inlet_closes": "-60"},
            "inlet_closes",
            "Inlet events must leave the valve open for 90° or more; check their signs",
        ),
        (
            {"exhaust_opens_read": "-60", "exhaust_closes_read": "-60"},
            "exhaust_opens_read",
            "Exhaust events must leave the valve open for 90° or more; check their signs",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert error_of(answer, **typed) == (field, message)


def test_half_a_pair_is_lacking_and_not_wrong():
    asked = asked_with("timing.cam", [*(f"{key}={text}" for key, text in CAM.items()), "inlet_opens_read=5"])
    assert asked.errors == ()
    assert [error.field for error in asked.lacking] == ["inlet_closes_read"]


def test_both_cams_are_drawn_and_what_was_measured_below():
    assert "as measured" not in answer().drawing.svg
    svg = answer(inlet_opens_read="-4", inlet_closes_read="52").drawing.svg
    assert "inlet from −8.0° to 220.0°" in svg
    assert "inlet from 4.0° to 232.0° as measured" in svg
    assert "exhaust from −222.0° to 6.0°" in svg  # by hand: 180 + 42 before overlap top, 6 after it
