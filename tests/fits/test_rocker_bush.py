"""A rocker's bush on its shaft."""

import pytest

from calculators import InputErrors, magnitude_in
from calculators.bench.asking import answered

ASKED = "fits.rocker_bush"
ONE = {"cylinders": "1", "guide_error": "0", "micrometer_error": "0"}


def test_the_bush_less_the_shaft():
    answer = answered(ASKED, **ONE, inlet_rocker_bush="18.05", inlet_rocker_shaft="17.98", bush_most="0.11 mm")
    assert magnitude_in(answer.value("bush").quantity, "mm") == pytest.approx(0.07)
    assert answer.headline == "0.070 mm · in"


@pytest.mark.parametrize(
    ("bush", "verdict"),
    [("18.05", "in"), ("18.09", "too close to call"), ("18.10", "too close to call"), ("18.11", "out")],
)
def test_two_gauges_leave_some_too_close_to_call(bush, verdict):
    """2 ÷ √3 · √(0.01² + 0.004²) = 0.0124 mm about 0.11 mm."""
    typed = {"cylinders": "1", "exhaust_rocker_bush": bush, "exhaust_rocker_shaft": "17.985"}
    assert answered(ASKED, **typed, bush_most="0.11 mm").headline.endswith(f" · {verdict}")


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({}, "Enter the rocker bush of exhaust rocker 1, in millimetres"),
        ({"inlet_rocker_bush": "18"}, "Enter the rocker shaft of inlet rocker 1, in millimetres"),
        (
            {"inlet_rocker_bush": "18", "inlet_rocker_shaft": "18.1"},
            "Rocker shaft of inlet rocker 1 must be at most its rocker bush",
        ),
    ],
)
def test_what_cannot_be_is_refused(typed, error):
    with pytest.raises(InputErrors, match=error):
        answered(ASKED, **ONE, **typed)
