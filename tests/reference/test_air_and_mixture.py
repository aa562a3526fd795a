"""Air, jets and exhaust gas against libraries and balances that are not ours."""

import ambiance
import psychrolib
import pytest
from CoolProp.HumidAirProp import HAPropsSI
from scipy.optimize import brentq

from calculators._catalogue import Calculator
from calculators._units import bare
from calculators.air_and_mixture import FORM, TITLE, compute
from calculators.formulas.exhaust_gas import HYDROGEN, OXYGEN, WATER_GAS, air_ratio
from calculators.formulas.jet_choice import fuel_share
from calculators.formulas.moist_air import densities, vapour_pressure_saturated
from calculators.formulas.standard_atmosphere import air_pressure, standard_temperature

PLACES = [(101325, 20, 0.5), (101325, 25, 0.5), (101325, 30, 0.8), (90000, 35, 0.9), (80000, 5, 0.2), (101325, 15, 0)]


@pytest.mark.parametrize(("pressure", "celsius", "humidity"), PLACES)
def test_moist_air_weighs_what_psychrolib_says(pressure, celsius, humidity):
    # PsychroLib 2.5.0, after ASHRAE Handbook, Fundamentals (2017), chapter 1; it leaves out the enhancement factor
    psychrolib.SetUnitSystem(psychrolib.SI)
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
    theirs = psychrolib.GetMoistAirDensity(celsius, ratio, pressure)
    density, dry = densities(float(pressure), celsius + 273.15, humidity)
    assert density == pytest.approx(theirs, rel=2e-4)
    assert dry == pytest.approx(theirs / (1 + ratio), rel=3e-4)


@pytest.mark.parametrize(("pressure", "celsius", "humidity"), PLACES)
def test_moist_air_weighs_what_coolprop_says(pressure, celsius, humidity):
    # CoolProp 8.0.0, real humid air after ASHRAE RP-1485: heavier by 0.04 %
    volume = HAPropsSI("Vha", "T", celsius + 273.15, "P", pressure, "R", humidity)
    assert densities(float(pressure), celsius + 273.15, humidity)[0] == pytest.approx(1 / volume, rel=6e-4)


@pytest.mark.parametrize("celsius", [1, 10, 20, 30, 40, 50, 60])
def test_saturation_agrees_with_psychrolib_but_for_the_enhancement(celsius):
    psychrolib.SetUnitSystem(psychrolib.SI)
    theirs = psychrolib.GetSatVapPres(celsius)
    assert theirs * 1.0015 <= vapour_pressure_saturated(celsius + 273.15, 101325.0) <= theirs * 1.0075


@pytest.mark.parametrize("celsius", [-40, -20, -10])
def test_frost_makes_no_difference_to_the_density(celsius):
    # WMO counts humidity over water that has not frozen, psychrolib over ice: in weight nothing that shows
    psychrolib.SetUnitSystem(psychrolib.SI)
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, 0.8, 101325)
    theirs = psychrolib.GetMoistAirDensity(celsius, ratio, 101325)
    assert densities(101325.0, celsius + 273.15, 0.8)[0] == pytest.approx(theirs, rel=2e-4)


@pytest.mark.parametrize(
    ("altitude", "share"), [(500, 0.952873), (1000, 0.907463), (1500, 0.863728), (2000, 0.821625), (3000, 0.742140)]
)
def test_fuel_at_altitude_goes_with_the_root_of_the_standard_density(altitude, share):
    # ambiance 1.3.1 (ISO 2533) for the density; the root is Heywood's for a fixed choke
    theirs = float(ambiance.Atmosphere(altitude).density[0] / ambiance.Atmosphere(0).density[0])
    assert theirs == pytest.approx(share, rel=1e-3)  # geometric against geopotential
    here, base = (
        densities(air_pressure(height, standard_temperature(height)), standard_temperature(height), 0.0)
        for height in (altitude, 0)
    )
    assert here[0] / base[0] == pytest.approx(share, rel=2e-6)
    assert fuel_share(here, base) == pytest.approx(share**0.5, rel=2e-6)


def test_a_warm_day_in_low_pressure_wants_less_fuel():
    # by hand, ideal gas: 900 hPa and 30 °C against 1013.25 hPa and 15 °C is 0.844 281, its root 0.918 848
    here, base = densities(90000.0, 303.15, 0.0), densities(101325.0, 288.15, 0.0)
    assert here[0] / base[0] == pytest.approx(0.844281, abs=1e-6)
    assert fuel_share(here, base) == pytest.approx(0.918848, abs=1e-6)


def dry_exhaust(ratio, hydrogen, oxygen, water_gas):
    """CO, CO₂ and O₂, % of the dry gas, of CH_yO_z burnt with λ: atom balance and, where rich, the water-gas shift.

    Nitrogen is 3.773 to one of oxygen (Heywood, 1988, 3.2). No nitric oxide, nothing left unburnt.
    """
    air = ratio * (1 + hydrogen / 4 - oxygen / 2)
    total = oxygen + 2 * air

    def rest(co):
        h2o = total - 2 * (1 - co) - co
        return co * h2o - water_gas * (1 - co) * (hydrogen / 2 - h2o)

    if ratio >= 1:
        co, h2, o2 = 0.0, 0.0, (total - 2 - hydrogen / 2) / 2
    else:
        lowest = max(0.0, 2 - total)  # no water less than none
        co = brentq(rest, lowest + 1e-12, min(1.0, 2 - total + hydrogen / 2) - 1e-12)
        h2, o2 = hydrogen / 2 - (total - 2 + co), 0.0
    dry = 1 + h2 + o2 + 3.773 * air
    return tuple(100 * part / dry for part in (co, 1 - co, o2))


@pytest.mark.parametrize("ratio", [0.75, 0.8, 0.85, 0.9, 0.95, 0.99, 1.0, 1.05, 1.1, 1.3])
def test_lambda_is_what_the_atoms_were_balanced_with(ratio):
    co, co2, o2 = dry_exhaust(ratio, HYDROGEN, OXYGEN, WATER_GAS)
    assert air_ratio(co, co2, o2, 0.0) == pytest.approx(ratio, rel=1e-6)


@pytest.mark.parametrize("ratio", [0.8, 0.9, 1.0, 1.1])
def test_lambda_holds_for_other_petrol_and_another_equilibrium(ratio):
    # CH1.87 and K = 3.7, as a university's course program on exhaust composition has them: within 2 %
    co, co2, o2 = dry_exhaust(ratio, 1.87, 0.0, 3.7)
    assert air_ratio(co, co2, o2, 0.0) == pytest.approx(ratio, rel=0.02)


def test_whole_answer_agrees_with_the_libraries():
    typed = {
        "altitude": "1000 m", "air_temperature": "25 °C", "air_humidity": "60%", "air_pressure": "900 hPa",
        "main_jet": "130", "jet_drawer": "120 122.5 125 127.5",
    }  # fmt: skip
    report = Calculator("air-and-mixture", TITLE, "", FORM, compute).answer(typed)
    found = {value.key: value for value in report.values}
    psychrolib.SetUnitSystem(psychrolib.SI)
    weights = []
    for celsius, humidity, pressure in ((25, 0.6, 90000), (15, 0.5, 101325)):
        ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
        density = psychrolib.GetMoistAirDensity(celsius, ratio, pressure)
        weights.append((density, density / (1 + ratio)))
    (here, here_dry), (base, base_dry) = weights
    share = here_dry / base_dry / (here / base) ** 0.5
    assert bare(found["main_jet"].quantity)[0] == pytest.approx(130 * share**0.5, rel=3e-4)
    assert found["density"].quantity.magnitude.nominal_value == pytest.approx(here, rel=2e-4)
