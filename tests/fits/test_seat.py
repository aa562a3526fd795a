"""A valve's contact line: its width and its place on the face."""

import pytest

from calculators import InputErrors, magnitude_in, uncertainty_in
from calculators.bench.asking import answered

ASKED = "fits.seat"
ONE = {"cylinders": "1", "calliper_error": "0"}
LINE = {"exhaust_seat_width": "1.6", "exhaust_line": "0.5"}


def test_what_is_left_inside_the_line():
    answer = answered(ASKED, **ONE, **LINE, exhaust_face="2.9")
    # by hand: 2.9 − 0.5 − 1.6
    assert magnitude_in(answer.value("inner").quantity, "mm") == pytest.approx(0.8)
    assert magnitude_in(answer.value("width").quantity, "mm") == 1.6
    assert magnitude_in(answer.value("rim").quantity, "mm") == 0.5


def test_two_widths_of_one_calliper_add_what_it_is_off_by():
    answer = answered(ASKED, cylinders="1", calliper_error="0.05", **LINE, exhaust_face="2.9")
    # by hand: 2.9 − 0.5 − 1.6, the calliper off twice the same way
    assert uncertainty_in(answer.value("inner").quantity, "mm") == pytest.approx(2 * 2 * 0.05 / 3**0.5)


def test_without_the_face_the_inner_edge_is_left_out():
    answer = answered(ASKED, **ONE, **LINE)
    assert answer.value("inner") is None
    assert answered(ASKED, **ONE, exhaust_line="0.5").value("width") is None


def test_each_side_has_its_own_limits():
    limits = {"exhaust_width_least": "1.4", "exhaust_width_most": "1.9", "inlet_width_least": "1.2"}
    answer = answered(ASKED, **ONE, **limits, exhaust_seat_width="1.3", inlet_seat_width="1.3")
    assert answer.headline == "Out: exhaust 1, 1.300 mm · in: inlet 1"
    assert "seat width 1.300 mm (at least 1.400, at most 1.900 mm)" in answer.says


@pytest.mark.parametrize(("line", "verdict"), [("0.29", "out"), ("0.30", "in"), ("1.0", "in"), ("1.01", "out")])
def test_the_line_stays_clear_of_both_edges(line, verdict):
    typed = {"exhaust_seat_width": "1.6", "exhaust_line": line, "exhaust_face": "2.9", "edge_least": "0.3"}
    assert answered(ASKED, **ONE, **typed).headline.endswith(f" · {verdict}")


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({}, "Enter the seat width of exhaust valve 1, in millimetres"),
        (
            {"inlet_width_least": "2 mm", "inlet_width_most": "1 mm"},
            "Least inlet seat width must be at most the greatest inlet seat width",
        ),
        (
            {"exhaust_width_least": "2 mm", "exhaust_width_most": "1 mm"},
            "Least exhaust seat width must be at most the greatest exhaust seat width",
        ),
    ],
)
def test_what_cannot_be_is_refused(typed, error):
    with pytest.raises(InputErrors, match=error):
        answered(ASKED, **ONE, **typed)
