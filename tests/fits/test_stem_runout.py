"""A valve turned on vee blocks."""

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered

ASKED = "fits.stem_runout"
ONE = {"cylinders": "1", "runout_most": "0.025 mm"}


@pytest.mark.parametrize(
    ("reading", "verdict"),
    [("0.02", "in"), ("0.0249", "too close to call"), ("0.0251", "too close to call"), ("0.03", "out")],
)
def test_a_reading_near_its_limit_is_too_close_to_call(reading, verdict):
    """A dial within ± 0.003 mm: 2 · 0.003 ÷ √3 = 0.0035 mm."""
    answer = answered(ASKED, **ONE, inlet_stem_runout=reading, dial_error="0.003")
    assert answer.headline.endswith(f" · {verdict}")


def test_either_side_is_judged_alike():
    answer = answered(ASKED, **ONE, dial_error="0", inlet_stem_runout="0.01", exhaust_stem_runout="0.04")
    assert answer.headline == "Out: exhaust 1, 0.040 mm · in: inlet 1"


def test_one_reading_at_least_is_asked_for():
    with pytest.raises(InputErrors, match="Enter the exhaust stem run-out of cylinder 1, in millimetres, or any other"):
        answered(ASKED, **ONE)
