"""What a gauge should show: by ratio, inlet closing, starter and air; and what lies above or below it."""

from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answered, asked_with
from tests.answers import column, errors_of

EVEN = {"dry": "7.4; 7.3; 7.2; 7.3"}
RATIO = {"ratio": "7.6; 7.6; 7.6; 7.6", "stroke": "74", "rod_length": "132", "inlet_closing": "40"}


answer = partial(answered, "cylinders.expected", **{"cylinders": "4", "altitude": "0 m"} | RATIO)


def bar(found):
    return magnitude_in(found.value("expected").quantity, "bar")


def test_the_ratio_tells_what_to_expect():
    # by hand: share left at 40° after bottom 0.91, effective ratio 7.0; 7.0^1.2 is 10.3, less 1, times 1.013 bar
    found = answer(exponent_error="0.02", **EVEN)
    assert bar(found) == pytest.approx(9.46, abs=0.1)
    assert column(found, "beside") == ["below"] * 4
    assert found.headline.endswith("; below: 4 cylinders")
    assert "Below what its ratio gives: 1, 2, 3 and 4." in found.says


def test_with_a_wide_exponent_they_read_as_expected():
    found = answer(exponent_error="0.15", **EVEN)
    assert column(found, "beside") == ["as expected"] * 4
    assert found.says.endswith("The readings are as expected.")
    assert not found.warnings


def test_a_reading_above_its_ratio_is_cautioned():
    found = answer(exponent_error="0.02", dry="12; 9.4; 9.4; 9.4")
    assert column(found, "beside")[0] == "above"
    assert [caution.signal for caution in found.warnings] == ["notice"]
    assert "; above: 1" in found.headline


def test_without_a_reading_the_band_is_the_answer():
    found = answer(exponent_error="0.02")
    low, high = (float(part) for part in found.headline.removesuffix(" bar").split(" to "))
    assert low < bar(found) < high
    assert found.says == f"A gauge should show {found.headline} here."


@pytest.mark.parametrize(
    ("key", "less", "more", "why"),
    [
        ("inlet_closing", "80°", "10°", "squeezing begins later"),
        ("ratio", "5; 5; 5; 5", "7.5; 7.5; 7.5; 7.5", "it is squeezed further"),
        ("altitude", "3000 m", "0 m", "less air is there to squeeze"),
        ("exponent", "1.1", "1.3", "less heat is lost"),
    ],
)
def test_the_pressure_goes_the_way_that_physics_sends_it(key, less, more, why):
    assert bar(answer(**{key: less})) < bar(answer(**{key: more})), why


def test_the_lowest_ratio_is_the_one_worked_out_in_full():
    found = answer(ratio="7.6; 7.6; 7.0; 7.6")
    assert found.value("expected").label == "Expected in cylinder 3"
    # by hand: the piston at 40° after bottom has left 0.9098 of the stroke; 1 + 0.9098 · 6
    assert found.value("effective_ratio").quantity == pytest.approx(6.459, abs=2e-2)


def test_one_ratio_is_enough():
    known = {key: text for key, text in RATIO.items() if key != "ratio"} | {"ratio.2": "7.6"}
    found = answered("cylinders.expected", cylinders="4", altitude="0 m", dry="7.4; 9.5; 7.2; 7.3", **known)
    assert column(found, "beside") == [None, "as expected", None, None]


def test_twelve_cylinders_above_and_below_fit_the_headline():
    dry = "; ".join(["30"] * 6 + ["1"] * 6)
    found = answer(cylinders="12", ratio="; ".join(["7.6"] * 12), dry=dry, exponent_error="0.02")
    assert found.headline.endswith("above: 6 cylinders; below: 6 cylinders")


def test_without_a_ratio_it_says_what_it_needs():
    texts = ["cylinders=4", *(f"{key}={text}" for key, text in RATIO.items() if key != "ratio")]
    asked = asked_with("cylinders.expected", texts)
    assert [error.message for error in asked.lacking] == ["Enter the compression ratio of cylinder 1"]


def test_a_rod_is_longer_than_half_the_stroke():
    message = "Rod length must be more than half the stroke, which is 37.00 mm"
    assert errors_of(answer, rod_length="37") == [("rod_length", message)]


def test_the_exponent_s_limit_may_be_typed_with_its_sign():
    plain, signed = (answer(exponent_error=typed) for typed in ("0.05", "± 0.05"))
    assert signed.as_data() == plain.as_data() != answer().as_data()
