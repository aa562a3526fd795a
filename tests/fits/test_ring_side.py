"""A ring in its groove."""

import pytest

from calculators import InputErrors, magnitude_in
from calculators.bench.asking import answered
from tests.physics import Judged, is_in_only_with_its_whole_uncertainty, meets, number, says

ASKED = "fits.ring_side"
ONE = {"cylinders": "1", "side_most": "0.14 mm"}


def test_the_widest_groove_counts():
    answer = answered(ASKED, **ONE, side_gap="0.05 0.07 0.06")
    assert magnitude_in(answer.value("side_clearance").quantity, "mm") == 0.07
    assert answer.headline == "0.070 mm · in"


@pytest.mark.parametrize(
    ("gap", "headline"),
    [("0.12", "0.120 mm · in"), ("0.13", "0.130 mm · too close to call"), ("0.16", "0.160 mm · out")],
)
def test_a_reading_near_its_limit_is_too_close_to_call(gap, headline):
    """Feelers within ± 0.01 mm: 2 · 0.01 ÷ √3 = 0.0115 mm."""
    assert answered(ASKED, **ONE, side_gap=gap).headline == headline


def test_all_in_says_from_which_to_which():
    answer = answered(ASKED, cylinders="2", side_most="0.14 mm", side_gap="0.05 0.07; 0.06")
    assert answer.headline == "All 2 in: 0.060 to 0.070 mm"


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({}, "Enter the ring side clearances of cylinder 1, in millimetres"),
        ({"side_gap": "-1"}, "Ring side clearances of cylinder 1 must each be between 0 mm and 10 mm"),
    ],
)
def test_what_cannot_be_is_refused(typed, error):
    with pytest.raises(InputErrors, match=error):
        answered(ASKED, **ONE, **typed)


test_it_is_in_only_with_its_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    lambda **typed: answered(ASKED, **{"cylinders": "1", "side_gap": "0.07 0.06"} | typed),
    Judged("side_most", meets("side_clearance"), number("side_clearance"), says("parts 1 verdict")),
)
