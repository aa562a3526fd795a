"""A tappet's face under the straight edge."""

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered

ASKED = "fits.tappet_face"
ONE = {"cylinders": "1", "hollow_most": "0.02 mm"}


@pytest.mark.parametrize(
    ("gap", "headline"),
    [("0", "0.000 mm · in"), ("0.02", "0.020 mm · too close to call"), ("0.04", "0.040 mm · out")],
)
def test_a_hollow_near_its_limit_is_too_close_to_call(gap, headline):
    assert answered(ASKED, **ONE, inlet_tappet_gap=gap).headline == headline


def test_the_answer_says_why_a_hollow_is_wear_and_that_no_figure_is_published():
    notes = answered(ASKED, **ONE, inlet_tappet_gap="0").notes
    # US Army TM 9-8000, camshaft-to-tappet relationship: the lobe's slight taper mates with a crowned face
    assert any("crowned" in note and "TM 9-8000" in note and "no published manual" in note for note in notes)


def test_one_reading_at_least_is_asked_for():
    with pytest.raises(
        InputErrors, match="Enter the exhaust tappet hollow of cylinder 1, in millimetres, or any other"
    ):
        answered(ASKED, **ONE)
