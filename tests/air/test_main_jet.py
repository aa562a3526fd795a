"""The main jet for the air: what is wanted, which of the drawer, and what is said where none is near."""

from functools import partial
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in
from calculators.bench.asking import answered
from calculators.bench.units import bare
from tests.answers import messages_of, signals
from tests.examples import examples

PLACE = {"altitude": "0 m", "air_temperature": "15 °C", "main_jet": "125"}
SURE = {"thermometer_error": "0", "hygrometer_error": "0", "barometer_error": "0"}


answer = partial(answered, "air.main_jet", **PLACE)


def wanted(found):
    return bare(found.value("main_jet").quantity)[0]


def test_in_the_air_where_the_jets_are_right_they_stay():
    found = answer(jet_drawer="120 130", air_pressure="1013.25 hPa")
    assert found.headline == "Main jet 125 may stay"
    assert found.says == "Main jet 125 may stay: in this air it runs 0.0% richer than where the jets are right."
    assert wanted(found) == pytest.approx(125)


def test_jet_follows_the_density_in_dry_air():
    # by hand: 90 000/101 325 Pa and 288.15/303.15 K is 0.844 281 of the weight; fuel √ = 0.918 848, bore ⁴√ = 0.958 566
    typed = {"air_humidity": "0%", "base_humidity": "0%", "air_temperature": "30 °C", "air_pressure": "900 hPa"}
    found = answer(**typed, **(SURE | {"main_jet": "100"}))
    assert wanted(found) == pytest.approx(95.8566, abs=1e-3)
    assert magnitude_in(found.value("mixture_shift").quantity, "%") == pytest.approx(-8.1152, abs=1e-3)
    assert wanted(answer(**typed, **(SURE | {"main_jet": "100"}), jet_numbers="flow")) == pytest.approx(
        91.8848, abs=1e-3
    )


def test_the_jet_where_it_is_right_may_be_another_air():
    # by hand: the same air at both places, whatever it is
    typed = {"altitude": "1500 m", "air_temperature": "5 °C", "base_altitude": "1500 m", "base_temperature": "5 °C"}
    assert wanted(answer(**typed)) == pytest.approx(125)


@given(altitude=st.integers(0, 3000), higher=st.integers(50, 2000))
@settings(max_examples=examples(30), deadline=None)
def test_higher_wants_a_smaller_jet(altitude, higher):
    low, high = (wanted(answer(altitude=f"{metres} m")) for metres in (altitude, altitude + higher))
    assert high < low


def test_nearest_jet_of_the_drawer_is_chosen():
    found = answer(altitude="3000 m", air_temperature="-4.5 °C", jet_drawer="105 110 115")
    assert found.headline == "Fit main jet 115 in place of 125"
    (table,) = found.tables
    assert [row.cells[0] for row in table.rows if row.chosen] == ["115"]
    assert [row.cells[0] for row in table.rows][-1] == "125, fitted"


def test_the_only_jet_may_not_stay_where_it_is_far_off():
    found = answer(main_jet="130", altitude="3000 m")
    assert found.headline == "Main jet 130 is the nearest you have"
    assert signals(found, "Buy a smaller one") == ["notice"]


def test_a_lean_nearest_jet_is_warned_of():
    lean = answer(altitude="-400 m", air_temperature="-30 °C")
    assert signals(lean, "Take the next larger jet") == ["notice"]
    assert not signals(answer(), "Take the next larger jet")
    assert not signals(answer(), "Buy a smaller one")


def test_fuel_is_warned_of_before_any_jet():
    first = answer().warnings[0]
    assert (first.signal, "catches fire" in first.text) == ("warning", True)


@pytest.mark.parametrize("drawer", ["", "100 250", "20 900", " ".join(map(str, range(80, 104)))])
def test_every_drawer_is_drawn_within_the_drawing(drawer):
    root = ElementTree.fromstring(answer(jet_drawer=drawer).drawing.svg)  # noqa: S314 (our own text)
    circles = list(root.iter("{http://www.w3.org/2000/svg}circle"))
    assert circles
    assert all(0 <= float(circle.get("cx")) <= 340 for circle in circles)


def test_jets_are_numbers_in_a_row():
    message = "Jets in the drawer must be numbers in a row, like 115 117.5 120 122.5 125 130"
    assert messages_of(answer, jet_drawer="x") == [message]
