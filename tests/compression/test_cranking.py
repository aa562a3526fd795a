"""What a gauge should show while the starter turns."""

from functools import partial

import pytest

from calculators import InputErrors, magnitude_in
from calculators.bench.asking import answered
from tests.physics import falls, goes_as_physics_sends_it, rises

ENGINE = {"cylinders": "2", "ratio": "7.6; 7.5", "stroke": "74", "rod_length": "132", "inlet_closing": "40"}


cranking = partial(answered, "compression.cranking", **ENGINE)


def gauge(**typed):
    return magnitude_in(cranking(**typed).value("cranking_pressure").quantity, "bar")


def test_the_lowest_cylinder_leads():
    found = cranking()
    assert "in cylinder 2, which has the lowest ratio: of its 7.50 : 1" in found.says
    rows = found.tables[0].as_data()["rows"]
    assert rows[0]["pressure"] > rows[1]["pressure"] == pytest.approx(gauge())
    assert found.headline.endswith(" bar")


def test_the_gauge_shows_less_on_a_mountain_and_most_with_tight_rings():
    assert gauge(altitude="1500 m") < gauge() < gauge(exponent="1.3")
    assert gauge(inlet_closing="60") < gauge()


def test_most_of_the_gauge_s_uncertainty_comes_from_the_exponent():
    found = answered(
        "compression.cranking", **{key: text for key, text in ENGINE.items() if key != "ratio"}, bore="80",
        chamber="50.0; 50.5", deck="0.4; 0.4", spacer="1; 1",
    )  # fmt: skip
    budget = found.value("cranking_pressure").budget
    assert budget[0][0] == "Polytropic exponent"
    assert budget[0][1] > 0.99
    assert "The burette" in dict(budget)  # the ratio came as a value
    assert "±" not in cranking(exponent_error="0").headline


def test_a_starter_that_turns_is_warned_of():
    first = cranking().warnings[0]
    assert first.signal == "warning"
    for words in ("wheels chocked", "Nobody near the plug holes", "belt and fan can take off fingers"):
        assert words in first.text


def test_a_rod_is_longer_than_half_the_stroke():
    with pytest.raises(InputErrors, match="Rod length must be more than half the stroke, which is 37"):
        cranking(rod_length="37")


test_the_gauge_goes_as_physics_sends_it = goes_as_physics_sends_it(
    cranking,
    falls("altitude", (0, 3000), "cranking_pressure", "a given volume of air holds less of it where it is thinner"),
    rises("exponent", (1.12, 1.28), "cranking_pressure", "less heat is lost in squeezing"),
    falls("inlet_closing", (10, 80), "effective_ratio", "squeezing begins later"),
    falls("rod_length", (100, 200), "effective_ratio", "a longer rod is higher up"),
)
