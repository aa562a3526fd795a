"""Air and mixture: the jet for the air, the throttles, the exhaust gas, and every mistake by name."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card, uncertainty_in
from calculators._air.mixture import PLUGS
from calculators._catalogue import Calculator
from calculators._units import bare
from calculators.air_and_mixture import FORM, TITLE, compute
from tests.examples import examples

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
AIR = Calculator("air-and-mixture", TITLE, "", FORM, compute)
PLACE = {"altitude": "0 m", "air_temperature": "15 °C"}
SURE = {"thermometer_error": "0", "hygrometer_error": "0", "barometer_error": "0", "flow_error": "0"}
SURE |= {"flow_scatter": "0", "vacuum_scatter": "0"}
GAS = {"co": "2%", "co2": "13.5%", "o2": "0.5%"}


def answer(**typed):
    return AIR.answer(PLACE | typed, MARRAM)


def value(report, key):
    return next(value for value in report.values if value.key == key)


def keys(report):
    return {value.key for value in report.values}


def moves(report):
    return [row.cells[-1] for row in next(table for table in report.tables if table.key == "throttles").rows]


def flows(*readings, **typed):
    return answer(throttles=str(len(readings)), **{f"flow.{at}": one for at, one in enumerate(readings, 1)}, **typed)


def vacuums(*readings, **typed):
    return answer(throttles=str(len(readings)), **{f"vacuum.{at}": one for at, one in enumerate(readings, 1)}, **typed)


def error_of(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    error = caught.value.errors[0]
    return error.field, error.message


# the air and the jet


def test_in_the_air_where_the_jets_are_right_they_stay():
    report = answer(jet_drawer="120 130", air_pressure="1013.25 hPa")
    assert report.lead == ("Main jet 125 may stay: in this air it runs 0.0% richer than where the jets are right.")
    assert bare(value(report, "main_jet").quantity)[0] == pytest.approx(125)
    assert bare(value(report, "charge").quantity.magnitude)[0] == pytest.approx(100)


def test_the_only_jet_may_not_stay_where_it_is_far_off():
    report = answer(main_jet="130", jet_drawer="", altitude="3000 m")
    assert report.lead.startswith("Main jet 130 is the nearest you have: in this air it runs ")
    assert any("A smaller one is worth buying" in caution.text for caution in report.cautions)


def test_jet_follows_the_density_in_dry_air():
    # by hand: 90 000/101 325 Pa and 288.15/303.15 K is 0.844 281 of the weight; fuel √ = 0.918 848, bore ⁴√ = 0.958 566
    typed = {"air_humidity": "0%", "base_humidity": "0%", "air_temperature": "30 °C", "air_pressure": "900 hPa"}
    report = answer(**typed, **SURE, main_jet="100")
    assert value(report, "main_jet").quantity == pytest.approx(95.8566, abs=1e-3)
    assert magnitude_in(value(report, "mixture_shift").quantity, "%") == pytest.approx(-8.1152, abs=1e-3)
    by_flow = answer(**typed, **SURE, main_jet="100", jet_numbers="flow")
    assert value(by_flow, "main_jet").quantity == pytest.approx(91.8848, abs=1e-3)


def test_temperature_and_pressure_in_other_units_give_the_same():
    # 86 °F is 30 °C; 900 hPa is 26.577 inHg (NIST SP 811 (2008), B.8: 3386.389 Pa)
    one = answer(air_temperature="30 °C", air_pressure="900 hPa")
    other = answer(air_temperature="86 °F", air_pressure="26.57699 inHg")
    assert bare(value(other, "main_jet").quantity)[0] == pytest.approx(
        bare(value(one, "main_jet").quantity)[0], rel=1e-6
    )


def test_pressure_reduced_to_the_sea_is_brought_up_again():
    # ISO 2533: 1000 m has 898.7456 hPa where the sea has 1013.25
    typed = {"altitude": "1000 m", "air_temperature": "8.5 °C", "air_pressure": "1013.25 hPa"}
    assert magnitude_in(value(answer(**typed, pressure_at="sea"), "pressure").quantity, "hPa") == pytest.approx(
        898.7456, abs=1e-3
    )
    assert magnitude_in(value(answer(**typed), "pressure").quantity, "hPa") == pytest.approx(1013.25)
    assert error_of(pressure_at="sea") == ("air_pressure", "Enter the air pressure, in hectopascals")


def test_without_a_barometer_the_weather_is_the_largest_uncertainty():
    budget = value(answer(), "density").budget
    assert budget[0][0] == "Weather, no barometer read"
    assert value(answer(air_pressure="1010 hPa"), "density").budget[0][0] == "Air temperature"
    typed = value(answer(air_pressure="1010 ± 30 hPa"), "density").budget
    assert typed[0][0] == "Air pressure"


@given(altitude=st.integers(0, 3000), higher=st.integers(50, 2000))
@settings(max_examples=examples(30))
def test_higher_wants_a_smaller_jet(altitude, higher):
    low, high = (
        bare(value(answer(altitude=f"{metres} m"), "main_jet").quantity)[0] for metres in (altitude, altitude + higher)
    )
    assert high < low


def test_nearest_jet_of_the_drawer_is_chosen_and_a_lean_one_warned_of():
    high = answer(altitude="3000 m", air_temperature="-4.5 °C", jet_drawer="105 110 115")
    assert high.lead.startswith("Fit main jet 115 in place of 125: ")
    table = next(table for table in high.tables if table.key == "jet_list")
    assert [row.cells[0] for row in table.rows if row.chosen] == ["115"]
    lean = answer(altitude="-400 m", air_temperature="-30 °C")
    assert [caution.signal for caution in lean.cautions if "Take the next larger jet" in caution.text] == ["caution"]
    rich = answer(altitude="4000 m")
    assert [caution.signal for caution in rich.cautions if "worth buying" in caution.text] == ["notice"]


# the throttles


def test_without_readings_nothing_is_said_of_throttles():
    report = answer()
    assert "spread" not in keys(report)
    assert not report.figures


def test_most_stay_and_the_others_are_moved_to_them():
    report = flows("6.0", "6.1", "7.0", "5.0", **SURE)
    assert moves(report) == ["stays", "stays", "close it", "open it"]
    # by hand: (7 − 5)/6.025 = 33.2 %
    assert magnitude_in(value(report, "spread").quantity, "%") == pytest.approx(33.195, abs=1e-3)
    assert "The throttles are 33.2% apart: open throttle 4 and close throttle 3 to 6.05." in report.lead


def test_more_vacuum_is_a_throttle_too_far_shut():
    report = vacuums("60", "60.5", "50", "68")
    assert moves(report) == ["stays", "stays", "close it", "open it"]


def test_the_throttle_that_stays_is_the_mark():
    report = flows("6.0", "6.1", "7.0", stays="3", **SURE)
    assert moves(report) == ["open it", "open it", "stays"]
    assert "to 7.00." in report.lead


def test_within_the_allowed_spread_all_stay():
    report = flows("6.0", "6.1", "6.2", **SURE)
    assert moves(report) == ["stays"] * 3
    assert "The throttles are in balance, 3.3% apart." in report.lead
    assert flows("6", "6", **SURE).lead.endswith("in balance, 0.0% apart.")


def test_what_the_gauge_cannot_tell_is_too_close_to_call():
    report = flows("6.0", "6.4", flow_scatter="0.5")
    assert "too close to call with this gauge" in report.lead
    assert moves(report) == ["stays", "too close to call"]


def test_what_one_gauge_is_off_by_moves_no_throttle():
    # JCGM 100:2008, 5.2.4: it is the same in both readings, and drops out of their difference
    report = flows("6.0", "6.8", flow_error="2", flow_scatter="0.05")
    assert moves(report) == ["open it", "stays"]
    # by hand: two scatters of 0.05 in 6.4
    assert bare(value(report, "spread").quantity.magnitude)[1] == pytest.approx(100 * 2 * 0.05 * 2**0.5 / 3**0.5 / 6.4)


def test_the_mean_of_many_throttles_is_no_surer_than_the_gauge():
    sure = SURE | {"vacuum_scatter": "0.6 kPa"}
    mean = value(vacuums("50", "51", "52", vacuum_error="2 kPa", **sure), "mean_vacuum").quantity
    # by hand: the gauge's 2 kPa stay, the scatter's 0.6 kPa fall with √3
    assert uncertainty_in(mean, "kPa") == pytest.approx(2 / 3**0.5 * (2**2 + 0.6**2 / 3) ** 0.5)


@given(
    st.lists(st.floats(3, 9).map(lambda one: round(one, 2)), min_size=2, max_size=6),
    st.floats(0.01, 0.5).map(lambda one: round(one, 3)),
)
@settings(max_examples=examples(40))
def test_never_in_balance_when_the_uncertainty_crosses_the_limit(readings, limit):
    report = flows(*map(str, readings), flow_scatter=str(limit))
    spread, expanded = bare(value(report, "spread").quantity.magnitude)
    if spread + (expanded or 0) > 5 + 1e-6:
        assert "in balance" not in report.lead


def test_vacuum_is_told_in_every_unit():
    # 50 kPa is 14.765 inHg, 375.03 mmHg (NIST SP 811 (2008), B.8: 3386.389 Pa, 133.3224 Pa)
    report = vacuums("50", "50", vacuum_error="0", air_pressure="1000 hPa", **SURE)
    mean = value(report, "mean_vacuum").quantity
    assert magnitude_in(mean, "inHg") == pytest.approx(14.765, abs=5e-4)
    assert magnitude_in(mean, "mmHg") == pytest.approx(375.03, abs=5e-3)
    assert magnitude_in(value(report, "pipe_pressure").quantity, "kPa") == pytest.approx(50)


def test_twelve_throttles_are_drawn_with_one_letter_each():
    report = flows(*["6"] * 11, "7", **SURE)
    figure = next(figure for figure in report.figures if figure.key == "balance")
    assert "o open, c close" in figure.svg


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"flow.1": "6"}, "flow.2", "Enter the flow reading of throttle 2"),
        ({"vacuum.2": "60"}, "vacuum.1", "Enter the vacuum of throttle 1, in kilopascals"),
        (
            {"flow.1": "6", "vacuum.2": "60"},
            "vacuum.2",
            "Vacuum must be empty where flow readings are typed, or all flow readings",
        ),
        (
            {"throttles": "1", "flow.1": "6"},
            "throttles",
            "Number of throttles must be 2 or more to compare their readings",
        ),
        ({"flow.1": "6", "flow.2": "6", "stays": "3"}, "stays", "Throttle that stays must be between 1 and 2"),
        (
            {"altitude": "5000 m", "vacuum.1": "60", "vacuum.2": "40"},
            "vacuum.1",
            "Vacuum of throttle 1 must be less than the air pressure, 58 kPa",
        ),
        ({"flow.1": "0"}, "flow.1", "Flow reading of throttle 1 must be between 0.1 and 1000"),
        ({"vacuum.1": "101"}, "vacuum.1", "Vacuum of throttle 1 must be between 0.1 kPa and 100 kPa"),
        ({"throttles": "13"}, "throttles", "Number of throttles must be between 1 and 12"),
        ({"spread_allowed": "0.4"}, "spread_allowed", "Spread allowed between throttles must be between 0.5% and 50%"),
        ({"altitude": ""}, "altitude", "Enter the altitude, in metres"),
        ({"altitude": "5001"}, "altitude", "Altitude must be between −430 m and 5000 m"),
        ({"air_temperature": ""}, "air_temperature", "Enter the air temperature, in degrees Celsius"),
        ({"air_temperature": "61"}, "air_temperature", "Air temperature must be between −40 °C and 60 °C"),
        ({"air_temperature": "141 °F"}, "air_temperature", "Air temperature must be between −40 °C and 60 °C"),
        (
            {"air_temperature": "141", "air_temperature.unit": "°F"},
            "air_temperature",
            "Air temperature must be between −40 °F and 140 °F",
        ),
        ({"air_humidity": "101"}, "air_humidity", "Relative humidity must be between 0% and 100%"),
        ({"air_pressure": "1101"}, "air_pressure", "Air pressure must be between 450 hPa and 1100 hPa"),
        ({"main_jet": "19"}, "main_jet", "Main jet fitted must be between 20 and 900"),
        ({"jet_numbers": "colour"}, "jet_numbers", "Meaning of the jet numbers must be one of: diameter, flow"),
        (
            {"jet_drawer": "x"},
            "jet_drawer",
            "Jets in the drawer must be numbers in a row, like 115 117.5 120 122.5 125 130",
        ),
        ({"co2": "0"}, "co2", "Carbon dioxide must be between 0.1% and 18%"),
        ({"hc": "-1"}, "hc", "Unburnt fuel in ppm must be between 0 and 30000"),
        ({"o2": "21"}, "o2", "Oxygen must be between 0% and 20.9%"),
        ({"plug": "blue"}, "plug", f"Look of the plug must be one of: {', '.join(PLUGS)}"),
        (
            {"co2": "14", "o2": "10"},
            "co2",
            "Carbon dioxide must be less: carbon dioxide, oxygen and half the carbon monoxide make 24.0%, "
            "more oxygen than air has. Set the analyser to nought in clean air.",
        ),
        (
            {"idle_co_least": "3", "idle_co_most": "2"},
            "idle_co_most",
            "Most CO at idle must be no less than the least",
        ),
        ({"thermometer_error": "21"}, "thermometer_error", "Error limit of the thermometer must be between 0 and 20"),
        (
            {"base_temperature": "-41"},
            "base_temperature",
            "Temperature where the jets are right must be between −40 °C and 60 °C",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert error_of(**typed) == (field, message)


# exhaust gas and plug


def test_lambda_needs_three_gases():
    # by hand: (13.5 + 1 + 0.5 + (1.7261/4 · 3.5/(3.5 + 2/13.5) − 0.0088) · 15.5) ÷ (1.422 725 · 15.5) = 0.965
    report = answer(**GAS)
    found = value(report, "lambda")
    assert bare(found.quantity)[0] == pytest.approx(0.9650, abs=5e-5)
    assert "The exhaust shows λ 0.97, slightly rich, as at idle." in report.lead
    for missing in GAS:
        assert "lambda" not in keys(answer(**{key: text for key, text in GAS.items() if key != missing}))


def test_a_leak_is_thought_of_before_a_lean_mixture():
    report = answer(co="0.2%", co2="11%", o2="5%")
    assert any("leaking pipe or flange" in caution.text for caution in report.cautions)
    assert not any("leaking pipe or flange" in caution.text for caution in answer(**GAS).cautions)


@pytest.mark.parametrize(
    ("reading", "verdict"), [("2.5%", "in"), ("5 ± 0.1%", "out"), ("0.5%", "out"), ("3.5 ± 0.2%", "too close to call")]
)
def test_carbon_monoxide_is_judged_by_the_makers_band(reading, verdict):
    assert value(answer(co=reading), "co").label == f"CO at idle, {verdict}"


def test_without_a_band_carbon_monoxide_is_not_judged():
    assert "co" not in keys(answer(co="2%", idle_co_least="", idle_co_most=""))
    assert "co" in keys(answer(co="2%", idle_co_least=""))


def test_a_plug_is_read_as_guidance():
    assert "plug" not in keys(answer())
    for look in set(PLUGS) - {"none"}:
        assert value(answer(plug=look), "plug").quantity == PLUGS[look][1]


def test_carbon_monoxide_kills_and_that_is_said_first():
    assert (answer().cautions[0].signal, "carbon monoxide" in answer().cautions[0].text) == ("danger", True)
