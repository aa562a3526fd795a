"""The rim of a valve's head."""

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered

ASKED = "fits.valve_margin"
ONE = {"cylinders": "1", "margin_least": "0.9 mm"}


@pytest.mark.parametrize(
    ("margin", "headline"),
    [("1.2", "1.200 mm · in"), ("0.92", "0.920 mm · too close to call"), ("0.84", "0.840 mm · out")],
)
def test_a_reading_near_its_limit_is_too_close_to_call(margin, headline):
    """A calliper within ± 0.05 mm: 2 · 0.05 ÷ √3 = 0.058 mm."""
    assert answered(ASKED, **ONE, exhaust_margin=margin).headline == headline


def test_a_thin_rim_is_warned_of_by_name():
    answer = answered(ASKED, **ONE, exhaust_margin="0.5", inlet_margin="0.4")
    (warning,) = answer.warnings
    assert warning.signal == "warning"
    assert warning.text.startswith("Exhaust valve 1 and inlet valve 1: a valve with too thin a rim burns")
    assert answered(ASKED, **ONE, exhaust_margin="1.3").warnings == ()


def test_one_reading_at_least_is_asked_for():
    with pytest.raises(InputErrors, match="Enter the exhaust valve margin of cylinder 1, in millimetres, or any other"):
        answered(ASKED, **ONE)
