"""What a chamber holds by its dimensions: a dome over a cone over a step."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import errors_of

STEP = {"step_diameter": "80", "step_height": "10"}


shape = partial(answered, "measuring.chamber_shape", **STEP)


def test_a_straight_step_by_hand():
    # π/4 · 8² · 1 = 50.265482
    assert magnitude_in(shape().value("volume").quantity, "cm³") == pytest.approx(50.265482, abs=1e-6)


def test_dome_cone_and_step_add_up_and_the_valves_are_taken_off():
    # half a ball of ⌀60: 56.548668; cone ⌀80 to 60, 8 high: π · 0.8/12 · (64 + 48 + 36) = 30.997046; step 50.265482
    found = shape(dome_diameter="60", dome_height="30", cone_wide="80", cone_narrow="60", cone_height="8", parts="-3")
    whole = magnitude_in(found.value("volume").quantity, "cm³")
    assert whole == pytest.approx(56.548668 + 30.997046 + 50.265482 - 3, abs=1e-5)
    assert (
        "Chamber in section, from the sealing face up: a step of 80 mm, 10 mm high, "
        "then a cone from 80 to 60 mm, 8 mm high, then a dome of 60 mm, 30 mm high."
    ) in found.drawing.svg


def test_one_gauges_error_adds_up_in_all_dimensions():
    """π/4 D² h, both 0.1 mm off: (π/2 D h + π/4 D²) · 0.01/√3 · 2 = (12.566 + 50.265) · 0.011547 = 0.7255 cm³."""
    assert uncertainty_in(shape().value("volume").quantity, "cm³") == pytest.approx(0.7255, abs=1e-3)
    assert uncertainty_in(shape(dimension_error="0").value("volume").quantity, "cm³") is None


def test_it_goes_on_to_a_chamber_that_was_not_filled():
    asked = asked_with("measuring.chambers", ["cylinders=1", *(f"{key}={text}" for key, text in STEP.items())])
    assert asked.known["shape"].by == "measuring.chamber_shape"
    assert asked.answer.headline == "50.27 cm³"


def test_without_dimensions_it_is_lacking_and_not_wrong():
    asked = asked_with("measuring.chamber_shape", [])
    assert (asked.answer, asked.errors) == (None, ())
    assert [error.message for error in asked.lacking] == ["Enter the dimensions of a step, a cone or a dome"]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"step_height": ""}, "step_height", "Enter the step height, in millimetres, or leave all of the step empty"),
        (
            {"cone_wide": "80", "cone_height": "8"},
            "cone_narrow",
            "Enter the cone diameter at the narrow end, in millimetres, or leave all of the cone empty",
        ),
        (
            {"cone_wide": "60", "cone_narrow": "80", "cone_height": "8"},
            "cone_narrow",
            "Cone diameter at the narrow end must be at most that at the wide end",
        ),
        (
            {"dome_diameter": "60", "dome_height": "31"},
            "dome_height",
            "Dome height must be at most half the dome diameter",
        ),
        (
            {"parts": "-60"},
            "parts",
            "Valves, plug and pockets must take up less than the dome, the cone and the step hold",
        ),
        (
            {"step_diameter": "", "step_height": "", "parts": "-3"},
            "parts",
            "Valves, plug and pockets must be empty if no dimensions are typed",
        ),
    ],
)
def test_each_mistake_is_said_beside_its_box(typed, field, message):
    errors = dict(errors_of(shape, **typed))
    assert errors == {field: message}
