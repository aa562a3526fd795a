"""A pushrod turned on vee blocks."""

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered

ASKED = "fits.pushrod"
ONE = {"cylinders": "1", "pushrod_most": "0.30 mm"}


@pytest.mark.parametrize(
    ("runout", "headline"),
    [("0.2", "0.200 mm · in"), ("0.31", "0.310 mm · too close to call"), ("0.32", "0.320 mm · out")],
)
def test_a_reading_near_its_limit_is_too_close_to_call(runout, headline):
    """A dial within ± 0.01 mm: 2 · 0.01 ÷ √3 = 0.0115 mm."""
    assert answered(ASKED, **ONE, inlet_pushrod_runout=runout).headline == headline


def test_one_reading_at_least_is_asked_for():
    with pytest.raises(
        InputErrors, match="Enter the exhaust pushrod run-out of cylinder 1, in millimetres, or any other"
    ):
        answered(ASKED, **ONE)
