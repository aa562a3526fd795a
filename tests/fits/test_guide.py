"""A stem in its guide, as measured."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import errors_of

ASKED = "fits.guide"
SURE = {"cylinders": "1", "guide_error": "0", "micrometer_error": "0"}


sure = partial(answered, ASKED, **SURE)


def test_the_widest_of_the_guide_less_the_narrowest_of_the_stem():
    answer = answered(ASKED, **SURE, exhaust_stem="7.93 7.92", exhaust_guide="8.02 8.05")
    # by hand: 8.05 − 7.92
    assert magnitude_in(answer.value("guide_clearance").quantity, "mm") == pytest.approx(0.13)


def test_gauge_and_micrometer_are_two_instruments():
    typed = {"inlet_stem": "7.93", "inlet_guide": "8.05", "guide_error": "0.02", "micrometer_error": "0.01"}
    answer = answered(ASKED, **SURE | typed)
    spread = uncertainty_in(answer.value("guide_clearance").quantity, "mm")
    assert spread == pytest.approx(2 / 3**0.5 * (0.02**2 + 0.01**2) ** 0.5)


def test_inlet_and_exhaust_are_told_apart():
    typed = {"inlet_stem": "7.93", "inlet_guide": "8.20", "exhaust_stem": "7.93", "exhaust_guide": "8.00"}
    answer = answered(ASKED, **SURE, **typed, guide_clearance_most="0.16 mm")
    assert answer.headline == "Out: inlet 1, 0.270 mm · in: exhaust 1"
    assert answer.says == "Out: inlet valve 1, guide clearance 0.270 mm (at most 0.160 mm). The others are in."


def test_a_valve_half_read_is_asked_for_and_the_others_are_answered():
    typed = ["cylinders=1", "exhaust_stem=7.93", "exhaust_guide=8.0", "inlet_stem=7.93"]
    answer = asked_with(ASKED, typed).answer
    assert [caution.text for caution in answer.warnings] == [
        "Enter the guide readings of inlet valve 1, in millimetres, to have it judged."
    ]


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({}, ("exhaust_guide.1", "Enter the guide readings of exhaust valve 1, in millimetres")),
        ({"inlet_stem": "8"}, ("inlet_guide.1", "Enter the guide readings of inlet valve 1, in millimetres")),
        ({"inlet_guide": "8"}, ("inlet_stem.1", "Enter the stem readings of inlet valve 1, in millimetres")),
        (
            {"inlet_stem": "8.1", "inlet_guide": "8"},
            ("inlet_stem.1", "Stem readings of inlet valve 1 must be at most its guide"),
        ),
        ({"inlet_stem": "2"}, ("inlet_stem.1", "Stem readings of inlet valve 1 must each be between 3 mm and 25 mm")),
        (
            {"exhaust_guide": "26"},
            ("exhaust_guide.1", "Guide readings of exhaust valve 1 must each be between 3 mm and 25 mm"),
        ),
    ],
)
def test_what_cannot_be_is_refused_by_name(typed, error):
    assert error in errors_of(sure, **typed)
