"""A head's face under the straight edge."""

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered, asked_with

ASKED = "fits.head_face"


@pytest.mark.parametrize(
    ("gaps", "headline"),
    [
        ("0 0.03 0.02 0", "0.030 mm · in"),
        ("0 0.03 0.05 0", "0.050 mm · too close to call"),
        ("0 0.03 0.07 0", "0.070 mm · out"),
    ],
)
def test_the_widest_gap_counts(gaps, headline):
    assert answered(ASKED, face_gaps=gaps, flatness_most="0.05 mm").headline == headline


def test_a_head_keeps_its_number():
    assert "head 2, head face flatness" in asked_with(ASKED, ["face_gaps.2=0 0.03"]).answer.says


def test_nothing_read_and_too_much_are_refused():
    with pytest.raises(InputErrors, match="Enter the gaps under the straight edge of head 1, in millimetres"):
        answered(ASKED)
    with pytest.raises(InputErrors, match="Gaps under the straight edge of head 1 must each be between 0 mm and 10 mm"):
        answered(ASKED, face_gaps="11")
