"""What the air is worth: its weight, its share of a charge, and every refusal of the air's own boxes."""

from functools import partial

import pytest

from calculators.bench.asking import answered, asked_with
from calculators.bench.units import bare
from tests.answers import read_off
from tests.physics import falls, goes_as_physics_sends_it

PLACE = {"altitude": "0 m", "air_temperature": "15 °C"}


answer = partial(answered, "air.air_worth", **PLACE)


def test_the_air_where_the_jets_are_right_is_worth_all():
    found = answer(air_pressure="1013.25 hPa")
    assert found.headline == "100.0% of the air where the jets are right"
    assert found.says.startswith("The air here weighs 1.221 kg/m³.")


def test_dry_air_goes_with_pressure_and_temperature():
    # by hand: 90 000/101 325 Pa times 288.15/303.15 K is 0.844 281
    found = answer(air_humidity="0%", base_humidity="0%", air_temperature="30 °C", air_pressure="900 hPa")
    assert read_off(found, "charge", "%") == pytest.approx(84.4281, abs=1e-3)
    assert found.headline.startswith("84.4%")
    assert "84.4%" in found.drawing.svg


def test_pressure_reduced_to_the_sea_is_brought_up_again():
    # ISO 2533: 1000 m has 898.7456 hPa where the sea has 1013.25
    typed = {"altitude": "1000 m", "air_temperature": "8.5 °C", "air_pressure": "1013.25 hPa"}
    assert read_off(answer(**typed, pressure_at="sea"), "pressure", "hPa") == pytest.approx(898.7456, abs=1e-3)
    assert read_off(answer(**typed), "pressure", "hPa") == pytest.approx(1013.25)


def test_a_report_s_pressure_is_asked_for_where_it_is_said_to_be_one():
    typed = [f"{key}={text}" for key, text in (PLACE | {"pressure_at": "sea"}).items()]
    asked = asked_with("air.air_worth", typed)
    assert [error.message for error in asked.lacking] == ["Enter the air pressure, in hectopascals"]
    assert asked.errors == ()


def test_without_a_barometer_the_weather_is_the_largest_uncertainty():
    assert answer().value("density").budget[0][0] == "Weather, no barometer read"
    assert answer(air_pressure="1010 hPa").value("density").budget[0][0] == "Air temperature"
    assert answer(air_pressure="1010 ± 30 hPa").value("density").budget[0][0] == "Air pressure"


def test_other_units_give_the_same():
    # 86 °F is 30 °C; 900 hPa is 26.577 inHg (NIST SP 811 (2008), B.8: 3386.389 Pa)
    one = answer(air_temperature="30 °C", air_pressure="900 hPa")
    other = answer(air_temperature="86 °F", air_pressure="26.57699 inHg")
    assert read_off(other, "density", "kg/m³") == pytest.approx(read_off(one, "density", "kg/m³"), rel=1e-6)


GAS_LAW = "a given volume of air holds less of it where pressure is lower or temperature higher"
test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer,
    *(
        falls(reading, between, number, why, typed=typed)
        for number in ("density", "charge")
        for reading, between, why, typed in (
            ("altitude", (0, 3000), GAS_LAW, {}),
            ("air_temperature", (-20, 45), GAS_LAW, {}),
            (
                "air_humidity",
                (0, 100),
                "water vapour is lighter than dry air and takes its place",
                {"air_temperature": "30 °C"},
            ),
        )
    ),
)


def test_it_hands_the_pressure_outside_on_with_its_uncertainty():
    (worked,) = answer().worked
    best, expanded = bare(worked.value.magnitude)
    # 2 % of weather either way, taken as even: 2 · 0.02 · 101.325 ÷ √3
    assert (best, expanded) == (pytest.approx(101.325), pytest.approx(2 * 0.02 * 101.325 / 3**0.5))


def test_an_error_limit_may_be_typed_with_its_sign():
    signed = answer(thermometer_error="± 3", hygrometer_error="± 9%", barometer_error="± 5 hPa")
    assert signed.as_data() == answer(thermometer_error="3", hygrometer_error="9%", barometer_error="5 hPa").as_data()
