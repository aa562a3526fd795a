"""A piston in its bore."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import cautions, errors_of
from tests.physics import falls, goes_as_physics_sends_it

ASKED = "fits.piston"
SURE = {"cylinders": "1", "bore_error": "0", "bore_scatter": "0", "micrometer_error": "0"}
SIX = "80.06 80.06 80.06 80.06 80.06 80.06"


sure = partial(answered, ASKED, **SURE)


def test_the_mean_across_the_thrust_less_the_piston():
    answer = answered(ASKED, **SURE, bore_across="80.06 80.04 80.02", piston="79.93")
    assert magnitude_in(answer.value("piston_clearance").quantity, "mm") == pytest.approx(0.11)
    assert answer.headline == "0.110 mm, no limit given"


def test_one_bore_gauge_is_off_alike_in_all_its_readings():
    typed = {"bore_across": SIX, "piston": "79.972", "clearance_most": "0.10 mm"}
    answer = answered(ASKED, **SURE | typed | {"bore_error": "0.02 mm"})
    # JCGM 100:2008, 4.3.7 and 5.2.4: six readings of one gauge are no surer than one, 2 · 0.02 ÷ √3
    clearance = answer.value("piston_clearance").quantity
    assert uncertainty_in(clearance, "mm") == pytest.approx(2 * 0.02 / 3**0.5)
    assert answer.headline == "0.088 mm · too close to call"
    # by hand: the scatter falls with √6, the gauge does not; the micrometer is another instrument
    gauges = {"bore_error": "0.02 mm", "bore_scatter": "0.006 mm", "micrometer_error": "0.004 mm"}
    besides = answered(ASKED, **SURE | typed | gauges).value("piston_clearance").quantity
    assert uncertainty_in(besides, "mm") == pytest.approx(2 / 3**0.5 * (0.02**2 + 0.006**2 / 6 + 0.004**2) ** 0.5)


LIMITS = {"clearance_least": "0.04 mm", "clearance_most": "0.17 mm"}


def test_a_tight_piston_seizes():
    tight = answered(ASKED, **SURE, **LIMITS, bore_across="80.04", piston="80.03")
    assert tight.warnings[0].signal == "warning"
    assert tight.warnings[0].text == (
        "Cylinder 1: a piston with too little clearance seizes when hot, and an engine that seizes on the road can "
        "kill. "
        "Do not fit it."
    )
    assert not any("does not go back" in text for text in cautions(tight))


def test_a_loose_piston_does_not_go_back_as_it_is():
    loose = answered(ASKED, **SURE, **LIMITS, bore_across="80.04", piston="79.5")
    assert not any("seizes" in text for text in cautions(loose))
    assert any("Do not refit a part that is out" in text for text in cautions(loose))


@pytest.mark.parametrize(
    ("piston", "headline"),
    [
        ("79.999", "0.041 mm · in"),
        ("80.000", "0.040 mm · in"),
        ("80.001", "0.039 mm · out"),
        ("79.870", "0.170 mm · in"),
        ("79.869", "0.171 mm · out"),
    ],
)
def test_the_limits_themselves_are_allowed(piston, headline):
    assert answered(ASKED, **SURE, **LIMITS, bore_across="80.04", piston=piston).headline == headline


def test_a_bore_without_its_piston_is_no_fault():
    typed = ["cylinders=2", "bore_across=80.04; 80.04", "piston.2=79.93"]
    assert asked_with(ASKED, typed).answer.headline == "0.110 mm, no limit given"


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({}, ("piston.1", "Enter the piston diameter of cylinder 1, in millimetres")),
        ({"piston": "79.9"}, ("bore_across.1", "Enter the bore across the thrust of cylinder 1, in millimetres")),
        (
            {"bore_across": "80.04", "piston": "80.05"},
            ("piston.1", "Piston diameter of cylinder 1 must be at most its bore"),
        ),
        (
            {"clearance_least": "0.2 mm", "clearance_most": "0.1 mm"},
            ("clearance_least", "Least piston clearance must be at most the greatest piston clearance"),
        ),
    ],
)
def test_what_cannot_be_is_refused_by_name(typed, error):
    assert error in errors_of(sure, **typed)


test_the_clearance_goes_as_physics_sends_it = goes_as_physics_sends_it(
    lambda **typed: answered(ASKED, **SURE, bore_across="80.04", **typed),
    falls("piston", (79.5, 79.9), "piston_clearance", "a larger piston fills more"),
)
