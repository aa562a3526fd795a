"""Slider-crank, atmosphere and cranking pressure against outside figures and libraries."""

import math

import ambiance
import fluids
import pytest
from CoolProp.CoolProp import PropsSI
from scipy import integrate, optimize

from calculators._catalogue import calculator
from calculators.formulas.cranking_pressure import cranking_pressure
from calculators.formulas.slider_crank import effective_ratio, piston_travel, share_left
from calculators.formulas.standard_atmosphere import air_pressure, standard_temperature


@pytest.mark.parametrize(("angle", "travel"), [(30, 7.386405), (60, 26.433893), (90, 49.618183), (120, 69.433893)])
def test_travel_of_86_on_a_rod_of_143(angle, travel):
    """Integral of the piston's velocity by mpmath (run once)."""
    assert piston_travel(angle, 86.0, 143.0) == pytest.approx(travel, abs=1e-6)


@pytest.mark.parametrize(("stroke", "rod", "angle"), [(74.0, 132.0, 140.0), (69.0, 137.0, 123.0), (100.0, 160.0, 75.0)])
def test_travel_keeps_the_rod_s_length(stroke, rod, angle):
    """scipy.optimize.brentq on the constraint itself: crank pin and gudgeon pin are one rod apart."""
    crank = stroke / 2
    pin = crank * math.cos(math.radians(angle)), crank * math.sin(math.radians(angle))
    height = optimize.brentq(lambda y: math.hypot(y - pin[0], pin[1]) - rod, pin[0], pin[0] + rod, xtol=1e-12)
    assert piston_travel(angle, stroke, rod) == pytest.approx(crank + rod - height, abs=1e-9)


@pytest.mark.parametrize(("closing", "effective"), [(40, 9.68659), (50, 9.22804)])
def test_effective_ratio_of_a_square_86(closing, effective):
    """Ratio 10.5, rod 143: Heywood equation 2.6 (from memory), worked out in two forms that agree."""
    assert effective_ratio(10.5, share_left(closing, 86.0, 143.0)) == pytest.approx(effective, abs=1e-5)


@pytest.mark.parametrize("altitude", [0, 500, 1000, 2000, 3000, 5000])
def test_standard_air_is_the_standard_s(altitude):
    """ISO 2533 by the library ambiance, which takes geometric heights: ours is the geopotential height of each."""
    geometric = ambiance.CONST.r * altitude / (ambiance.CONST.r - altitude)
    theirs = ambiance.Atmosphere(geometric)
    assert standard_temperature(altitude) == pytest.approx(float(theirs.temperature[0]), rel=1e-9)
    assert air_pressure(altitude, standard_temperature(altitude)) == pytest.approx(float(theirs.pressure[0]), rel=1e-7)


def test_standard_air_of_the_american_standard_is_the_same():
    """US Standard Atmosphere 1976 by the library fluids; geometric 2000 m are geopotential 1999.37 m."""
    theirs = fluids.atmosphere.ATMOSPHERE_1976(2000.0)
    assert air_pressure(theirs.H, theirs.T) == pytest.approx(theirs.P, rel=1e-5)


@pytest.mark.parametrize(("altitude", "celsius"), [(1500, 30), (1500, -10), (3000, 20), (-300, 40)])
def test_warmer_and_colder_air_balances_its_weight(altitude, celsius):
    """scipy.integrate.quad over the weight of the air between sea level and there (hydrostatic balance)."""
    here = celsius + 273.15
    weight, _ = integrate.quad(lambda h: 9.80665 / (287.05287 * (here + 0.0065 * (altitude - h))), 0, altitude)
    assert air_pressure(altitude, here) == pytest.approx(101325 * math.exp(-weight), rel=1e-10)


@pytest.mark.parametrize("ratio", [5.0, 7.0, 10.5])
def test_without_loss_it_is_near_air_compressed_without_loss(ratio):
    """CoolProp, real air at constant entropy from 293.15 K: constant exponent 1.4 runs up to 2 % high of it."""
    density = PropsSI("D", "T", 293.15, "P", 101325, "Air")
    entropy = PropsSI("S", "T", 293.15, "P", 101325, "Air")
    theirs = PropsSI("P", "D", ratio * density, "S", entropy, "Air")
    ours = cranking_pressure(101325, ratio, 1.4) + 101325
    assert 1 < ours / theirs < 1.02


def test_all_heat_lost_is_near_air_compressed_at_one_temperature():
    """CoolProp, real air at 293.15 K: exponent 1 agrees within 0.5 %."""
    density = PropsSI("D", "T", 293.15, "P", 101325, "Air")
    theirs = PropsSI("P", "D", 7 * density, "T", 293.15, "Air")
    assert cranking_pressure(101325, 7.0, 1.0) + 101325 == pytest.approx(theirs, rel=5e-3)


def test_the_calculator_says_the_same():
    """Ratio 7.5791 by hand, 40° by scipy's constraint above, 1500 m and 20 °C by quadrature."""
    typed = {
        "bore": "80", "stroke": "74", "cylinders": "1", "heads": "1", "chamber": "49.5", "deck": "0.4",
        "thickness": "1", "pieces": "1", "target": "7.6", "rod_length": "132", "inlet_closing": "40",
        "altitude": "1500", "air_temperature": "20", "exponent": "1.25",
    }  # fmt: skip
    report = calculator("compression-and-spacers").answer(typed)
    values = {value.key: value.quantity for value in report.values}
    crank = 37.0
    pin = crank * math.cos(math.radians(140)), crank * math.sin(math.radians(140))
    height = optimize.brentq(lambda y: math.hypot(y - pin[0], pin[1]) - 132, pin[0], pin[0] + 132)
    effective = 1 + (crank + 132 - height) / 74 * 6.5791
    weight, _ = integrate.quad(lambda h: 9.80665 / (287.05287 * (293.15 + 0.0065 * (1500 - h))), 0, 1500)
    gauge = 1.01325 * math.exp(-weight) * (effective**1.25 - 1)
    assert values["effective_ratio"].nominal_value == pytest.approx(effective, abs=1e-4)
    assert values["cranking_pressure"].m_as("bar").nominal_value == pytest.approx(gauge, rel=1e-4)
