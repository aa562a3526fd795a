"""Every unit's factor, held against two sources that are not ours."""

import math
import re
from itertools import combinations
from pathlib import Path

import pytest
from scipy import constants

import calculators
from calculators import Quantity, magnitude_in, quantity
from calculators._units import _UNITS

UNITS_FILE = Path(calculators.__file__).with_name("units.txt")

# Printed factors: NIST SP 811 (2008), Appendix B.8, seen in secondary copies that quote it digit
# by digit; prefixes: the same, Table 5; newton and pascal: Table 3; minute: Table 6; percent: 7.10.2.
# Where a factor is printed in bold it is exact; the others are rounded to seven digits.
# Second source: scipy.constants (CODATA and the international yard and pound); None where it has none.
PRINTED = {
    "micro-": ("1 E-06", True, "", constants.micro),
    "milli-": ("1 E-03", True, "", constants.milli),
    "centi-": ("1 E-02", True, "", constants.centi),
    "hecto-": ("1 E+02", True, "", constants.hecto),
    "deca-": ("1 E+01", True, "", constants.deka),
    "kilo-": ("1 E+03", True, "", constants.kilo),
    "mega-": ("1 E+06", True, "", constants.mega),
    "percent": ("1 E-02", True, "", None),
    "degree": ("1.745 329 E-02", False, "radian", constants.degree),
    "revolution": ("6.283 185 E+00", False, "radian", 2 * constants.pi),
    "minute": ("6 E+01", True, "second", constants.minute),
    "hour": ("3.6 E+03", True, "second", constants.hour),
    "day": ("8.64 E+04", True, "second", constants.day),
    "mile": ("1.609 344 E+03", True, "meter", constants.mile),
    "inch": ("2.54 E-02", True, "meter", constants.inch),
    "foot": ("3.048 E-01", True, "meter", constants.foot),
    "thou": ("2.54 E-05", True, "meter", constants.mil),
    "liter": ("1.0 E-03", True, "meter ** 3", constants.liter),
    "cubic_inch": ("1.638 706 E-05", False, "meter ** 3", constants.inch**3),
    "pound": ("4.535 924 E-01", False, "kilogram", constants.pound),
    "standard_gravity": ("9.806 65 E+00", True, "meter / second ** 2", constants.g),
    "newton": ("1 E+00", True, "kilogram * meter / second ** 2", None),
    "pound_force": ("4.448 222 E+00", False, "newton", constants.pound_force),
    "kilogram_force": ("9.806 65 E+00", True, "newton", constants.kilogram_force),
    "pascal": ("1 E+00", True, "newton / meter ** 2", None),
    "bar": ("1.0 E+05", True, "pascal", constants.bar),
    "psi": ("6.894 757 E+03", False, "pascal", constants.psi),
    # conventional columns: water 1000 kg/m³, mercury 13 595.1 kg/m³; scipy's mmHg is 1/760 of an atmosphere
    "millimeter_of_water": ("9.806 65 E+00", True, "pascal", constants.g),
    "millimeter_of_mercury": ("1.333 224 E+02", False, "pascal", constants.g * 13.5951),
    "centimeter_of_mercury": ("1.333 224 E+03", False, "pascal", constants.g * 135.951),
    "inch_of_mercury": ("3.386 389 E+03", False, "pascal", constants.g * 13.5951 * 25.4),
    "newton_meter": ("1 E+00", True, "newton * meter", None),
    "pound_force_foot": ("1.355 818 E+00", False, "newton * meter", constants.pound_force * constants.foot),
    "pound_force_inch": ("1.129 848 E-01", False, "newton * meter", constants.pound_force * constants.inch),
    "kilogram_force_meter": ("9.806 65 E+00", True, "newton * meter", constants.kilogram_force),
}

# What one of each printed symbol is in coherent SI units, by the same two sources.
BY_SYMBOL = {
    "mm": ("1 E-03", True, "meter", constants.milli),
    "cm": ("1 E-02", True, "meter", constants.centi),
    "m": ("1 E+00", True, "meter", None),
    "in": ("2.54 E-02", True, "meter", constants.inch),
    "thou": ("2.54 E-05", True, "meter", constants.mil),
    "ft": ("3.048 E-01", True, "meter", constants.foot),
    "N·m": ("1 E+00", True, "newton * meter", None),
    "lbf·ft": ("1.355 818 E+00", False, "newton * meter", constants.lbf * constants.foot),
    "lbf·in": ("1.129 848 E-01", False, "newton * meter", constants.lbf * constants.inch),
    "kgf·m": ("9.806 65 E+00", True, "newton * meter", constants.kgf),
    "daN·m": ("1 E+01", True, "newton * meter", constants.deka),
    "cm³": ("1 E-06", True, "meter ** 3", constants.centi**3),
    "l": ("1.0 E-03", True, "meter ** 3", constants.litre),
    "in³": ("1.638 706 E-05", False, "meter ** 3", constants.inch**3),
    "°": ("1.745 329 E-02", False, "radian", constants.degree),
    "%": ("1 E-02", True, "", None),
    "N": ("1 E+00", True, "newton", None),
    "lbf": ("4.448 222 E+00", False, "newton", constants.lbf),
    "kgf": ("9.806 65 E+00", True, "newton", constants.kgf),
    "kN": ("1 E+03", True, "newton", constants.kilo),
    "N/mm": ("1 E+03", True, "newton / meter", constants.kilo),
    "lbf/in": ("1.751 268 E+02", False, "newton / meter", constants.lbf / constants.inch),
    "kgf/mm": ("9.806 65 E+03", True, "newton / meter", constants.kgf * constants.kilo),
    "MPa": ("1 E+06", True, "pascal", constants.mega),
    "hPa": ("1 E+02", True, "pascal", constants.hecto),
    "mmHg": ("1.333 224 E+02", False, "pascal", constants.g * 13.5951),
    "cmHg": ("1.333 224 E+03", False, "pascal", constants.g * 135.951),
    "inHg": ("3.386 389 E+03", False, "pascal", constants.g * 13.5951 * 25.4),
    "mmH₂O": ("9.806 65 E+00", True, "pascal", constants.g),
    "km/h": ("2.777 778 E-01", False, "meter / second", constants.kmh),
    "mph": ("4.4704 E-01", True, "meter / second", constants.mph),
    "m/s": ("1 E+00", True, "meter / second", None),
    "min": ("6 E+01", True, "second", constants.minute),
    "h": ("3.6 E+03", True, "second", constants.hour),
    "d": ("8.64 E+04", True, "second", constants.day),
    "kg/m³": ("1 E+00", True, "kilogram / meter ** 3", None),
    "lb/ft³": ("1.601 846 E+01", False, "kilogram / meter ** 3", constants.pound / constants.foot**3),
    "bar": ("1.0 E+05", True, "pascal", constants.bar),
    "kPa": ("1 E+03", True, "pascal", constants.kilo),
    "psi": ("6.894 757 E+03", False, "pascal", constants.psi),
    "r/min": ("1.047 198 E-01", False, "radian / second", 2 * constants.pi / constants.minute),
}


def names_in_the_file():
    lines = [line for line in UNITS_FILE.read_text(encoding="utf-8").splitlines() if "=" in line and line[0] != "#"]
    return {line.partition("=")[0].strip() for line in lines if not re.search(r"\[|offset", line)}


def in_si(name, si):
    if name.endswith("-"):
        return Quantity(1.0, f"{name[:-1]}meter").m_as("meter")
    return Quantity(1.0, name).m_as(si)


def agrees_with_print(factor, printed, exact):
    expected = float(printed.replace(" ", ""))
    if exact:
        return math.isclose(factor, expected, rel_tol=1e-12)
    digits = len(re.sub(r"\D", "", printed.split("E")[0]))
    half_a_last_digit = 0.5 * 10.0 ** (math.floor(math.log10(expected)) - digits + 1)
    return abs(factor - expected) <= half_a_last_digit


def test_every_unit_of_the_file_has_a_check():
    assert names_in_the_file() == PRINTED.keys()


def test_every_printed_symbol_has_a_check():
    assert {unit.symbol for unit in _UNITS if unit.kind != "temperature"} == BY_SYMBOL.keys()
    assert {unit.symbol for unit in _UNITS if unit.kind == "temperature"} == {"°C", "°F", "K"}


# NIST SP 811 (2008), B.8, prints t/°C = (t/°F − 32)/1.8, T/K = t/°C + 273.15 and T/K = (t/°F + 459.67)/1.8;
# second source: scipy.constants.convert_temperature. The points are the common ones of both scales.
@pytest.mark.parametrize("fahrenheit", [-459.67, -40, 0, 32, 68, 98.6, 212, 600])
def test_temperature_scales_agree_with_the_printed_rules_and_scipy(fahrenheit):
    celsius, kelvin = (fahrenheit - 32) / 1.8, (fahrenheit + 459.67) / 1.8
    assert constants.convert_temperature(fahrenheit, "F", "C") == pytest.approx(celsius, abs=1e-9)
    for number, symbol in ((fahrenheit, "°F"), (celsius, "°C"), (kelvin, "K")):
        for expected, wanted in ((fahrenheit, "°F"), (celsius, "°C"), (kelvin, "K")):
            assert magnitude_in(quantity(number, symbol), wanted) == pytest.approx(expected, abs=1e-9, rel=1e-12)


@pytest.mark.parametrize("name", PRINTED)
def test_unit_agrees_with_the_printed_factor(name):
    printed, exact, si, _ = PRINTED[name]
    assert agrees_with_print(in_si(name, si), printed, exact)


@pytest.mark.parametrize("name", [name for name, row in PRINTED.items() if row[3] is not None])
def test_unit_agrees_with_scipy(name):
    _, _, si, expected = PRINTED[name]
    assert in_si(name, si) == pytest.approx(expected, rel=1e-14)


@pytest.mark.parametrize("symbol", BY_SYMBOL)
def test_symbol_agrees_with_the_printed_factor(symbol):
    printed, exact, si, _ = BY_SYMBOL[symbol]
    assert agrees_with_print(quantity(1.0, symbol).m_as(si), printed, exact)


@pytest.mark.parametrize("symbol", [symbol for symbol, row in BY_SYMBOL.items() if row[3] is not None])
def test_symbol_agrees_with_scipy(symbol):
    _, _, si, expected = BY_SYMBOL[symbol]
    assert quantity(1.0, symbol).m_as(si) == pytest.approx(expected, rel=1e-14)


def test_print_check_catches_a_factor_one_digit_out():
    assert agrees_with_print(1.3558179483, "1.355 818 E+00", False)
    assert not agrees_with_print(1.355817, "1.355 818 E+00", False)
    assert not agrees_with_print(0.0254001, "2.54 E-02", True)


# Exact by definition: the inch is 25.4 mm (international yard and pound agreement, 1959), the pound
# 0.453 592 37 kg, standard gravity 9.806 65 m/s² (3rd CGPM, 1901); the rest follows from these.
@pytest.mark.parametrize(
    ("number", "symbol", "expected", "wanted"),
    [
        (1, "in", 25.4, "mm"),
        (1, "in³", 16.387064, "cm³"),
        (1, "thou", 0.0254, "mm"),
        (1, "lbf", 4.4482216152605, "N"),
        (1, "lbf·ft", 1.3558179483314004, "N·m"),
        (100, "N·m", 73.7562149277, "lbf·ft"),
        (1, "kgf·m", 7.233013851, "lbf·ft"),
        (3.4, "daN·m", 34, "N·m"),
        (1, "bar", 14.503773773, "psi"),
        (1, "l", 1000, "cm³"),
        (1, "mph", 1.609344, "km/h"),
        (1, "ft", 304.8, "mm"),
    ],
)
def test_conversion_reaches_the_known_value(number, symbol, expected, wanted):
    unit = next(unit for unit in _UNITS if unit.symbol == wanted)
    assert quantity(number, symbol).m_as(unit.definition) == pytest.approx(expected, rel=1e-10)


def test_units_of_one_kind_alone_convert_into_each_other():
    for one, other in combinations(_UNITS, 2):
        alike = quantity(1, one.symbol).is_compatible_with(other.definition)
        # angle and share are both bare numbers to the registry; the form tells them apart by their kind
        if {one.kind, other.kind} <= {"angle", "share"}:
            continue
        assert alike == (one.kind == other.kind), (one.symbol, other.symbol)
