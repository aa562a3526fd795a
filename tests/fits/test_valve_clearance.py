"""Room between valve and piston: which reading counts, which instrument read it, and what a meeting is warned of."""

import pytest

from calculators import InputErrors, uncertainty_in
from calculators.bench.asking import answered

ASKED = "fits.valve_clearance"
ONE = {"cylinders": "1"}


def test_the_least_of_a_valves_readings_counts():
    answer = answered(ASKED, **ONE, exhaust_gaps="3.4 2.9 2.8 3.1", inlet_gaps="2.9")
    assert answer.says.startswith("All parts judged are in: exhaust valve 1, room to the piston 2.800 mm")


@pytest.mark.parametrize(
    ("read_by", "headline"),
    [("clay", "2.040 mm · too close to call"), ("springs", "2.040 mm · in")],
)
def test_a_dial_tells_what_a_calliper_on_clay_cannot(read_by, headline):
    """± 0.05 mm of the calliper: 2 · 0.05 ÷ √3 = 0.058 mm; ± 0.01 mm of the dial: 0.012 mm."""
    assert answered(ASKED, **ONE, inlet_gaps="2.04", read_by=read_by).headline == headline


def test_each_side_has_a_least_of_its_own():
    answer = answered(ASKED, **ONE, exhaust_gaps="2.3", inlet_gaps="2.3")
    assert "Out: exhaust valve 1, room to the piston 2.300 mm (at least 2.500 mm)" in answer.says
    assert "The others are in" in answer.says
    loose = answered(ASKED, **ONE, exhaust_gaps="2.3", inlet_gaps="2.3", exhaust_least="1.5", inlet_least="2.6")
    assert "Out: inlet valve 1" in loose.says


def test_a_valve_that_would_strike_is_warned_of_by_name():
    answer = answered(ASKED, cylinders="2", exhaust_gaps="0.4; 3", inlet_gaps="3; 0.9")
    (warning,) = answer.warnings
    assert warning.signal == "warning"
    assert warning.text.startswith("Exhaust valve 1 and inlet valve 2: a valve that meets its piston bends")
    assert answered(ASKED, **ONE, exhaust_gaps="3").warnings == ()


def test_a_close_one_is_no_pass():
    (warning,) = answered(ASKED, **ONE, inlet_gaps="2.02").warnings
    assert warning.text.startswith("Too close to call is not a pass")


def test_one_gauge_leaves_one_uncertainty():
    found = answered(ASKED, **ONE, inlet_gaps="2.6 2.5").values[0].quantity
    assert uncertainty_in(found, "mm") == pytest.approx(2 * 0.05 / 3**0.5, rel=1e-6)


def test_says_that_lash_makes_it_read_too_large():
    assert any("no lash" in note for note in answered(ASKED, **ONE, inlet_gaps="3").notes)


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({}, "Enter the room between exhaust valve and piston of cylinder 1, in millimetres, or any other"),
        ({"inlet_gaps": "31"}, "Room between inlet valve and piston of cylinder 1 must each be between 0 mm and 30 mm"),
        ({"inlet_gaps": " ".join(["3"] * 11)}, "Room between inlet valve and piston of cylinder 1"),
    ],
)
def test_each_mistake_is_named(typed, message):
    with pytest.raises(InputErrors, match=message):
        answered(ASKED, **ONE | typed)
