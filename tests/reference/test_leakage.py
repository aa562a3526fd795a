"""Flow through holes, leakage and altitude against outside figures and libraries."""

import math

import ambiance
import fluids
import pytest
from CoolProp.CoolProp import PropsSI

from calculators import magnitude_in
from calculators._catalogue import calculator
from calculators.formulas.leakage import CRITICAL, flow_factor, leak_share, mass_flow
from calculators.formulas.standard_atmosphere import GAS_CONSTANT

_HOLE = math.pi / 4 * 0.001**2
_AIR = 101325.0


def test_critical_ratio_is_the_table_s():
    """Aeronautical Engineer's Data Book, p. 255: 0.5283 for air; fluids to six figures."""
    assert pytest.approx(0.5283, abs=5e-5) == CRITICAL
    assert pytest.approx(fluids.compressible.P_critical_flow(1.0, 1.4), rel=1e-9) == CRITICAL


def test_choked_flow_is_the_textbook_s():
    """Aeronautical Engineer's Data Book: mass flow × √T ÷ (p A) = 0.0404 in SI units."""
    assert flow_factor(0.0) / math.sqrt(287.05) == pytest.approx(0.0404, abs=5e-5)


@pytest.mark.parametrize(("mach", "ratio"), [(0.5, 0.8430), (0.9, 0.5913)])
def test_unchoked_flow_at_a_tabled_mach_number(mach, ratio):
    """Compressible-flow tables: pressure ratio at the Mach number; flow from that number, √γ·M·(1 + M²/5)⁻³."""
    by_mach = math.sqrt(1.4) * mach * (1 + 0.2 * mach**2) ** -3
    assert flow_factor(ratio) == pytest.approx(by_mach, rel=3e-4)


def test_flow_inverts_the_relief_valve_standard():
    """API 520 by the library fluids: the area that passes our choked flow is our area."""
    flow = mass_flow(_AIR + 551581, _AIR, 293.15, _HOLE)
    area = fluids.safety_valve.API520_A_g(
        m=flow, T=293.15, Z=1.0, MW=8314.462618 / GAS_CONSTANT, k=1.4, P1=_AIR + 551581, P2=_AIR, Kd=1.0
    )
    assert area == pytest.approx(_HOLE, rel=1e-3)


@pytest.mark.parametrize(("gauge", "flow", "tolerance"), [(551581, 1.21135e-3, 2e-3), (30000, 0.208947e-3, 5e-4)])
def test_flow_of_one_millimetre_is_cantera_s(gauge, flow, tolerance):
    """cantera 3.2.0, air as an ideal gas with real heats, isentropic to the throat (run once)."""
    assert mass_flow(_AIR + gauge, _AIR, 293.15, _HOLE) == pytest.approx(flow, rel=tolerance)


@pytest.mark.parametrize("gauge", [5000, 30000, 80000])
def test_unchoked_flow_is_that_of_real_air(gauge):
    """CoolProp: real air let down at constant entropy, density × √(2 × drop of enthalpy)."""
    before = _AIR + gauge
    entropy = PropsSI("S", "T", 293.15, "P", before, "Air")
    drop = PropsSI("H", "T", 293.15, "P", before, "Air") - PropsSI("H", "S", entropy, "P", _AIR, "Air")
    theirs = PropsSI("D", "S", entropy, "P", _AIR, "Air") * math.sqrt(2 * drop) * _HOLE
    assert mass_flow(before, _AIR, 293.15, _HOLE) == pytest.approx(theirs, rel=1e-3)


@pytest.mark.parametrize("held", [5.0, 4.2, 3.0, 0.5])
def test_the_hole_is_what_the_relief_valve_standard_sizes(held):
    """API 520 by the library fluids: the areas that pass one flow into the cylinder and out of it."""
    into, out = (
        fluids.safety_valve.API520_A_g(m=1e-3, T=288.15, Z=1.0, MW=28.964, k=1.4, P1=before, P2=behind, Kd=1.0)
        for before, behind in ((5.5e5 + _AIR, held * 1e5 + _AIR), (held * 1e5 + _AIR, _AIR))
    )
    report = calculator("cylinder-tests").answer(
        {"cylinders": "1", "heads": "1", "held": f"{held}", "supply": "5.5", "orifice": "1 mm", "discharge": "1"}
    )
    table = next(table for table in report.tables if table.key == "leakage")
    place = [column.key for column in table.columns].index("hole")
    assert magnitude_in(table.rows[0].cells[place], "mm") == pytest.approx(math.sqrt(out / into), rel=1e-3)


def test_eighty_and_sixty_is_a_quarter():
    """FAA AC 43.13-1B, change 1, paragraph 8-14: the tester's 80 psi; 60 of 80 is a quarter lost (arithmetic)."""
    assert leak_share(80.0, 60.0) == 25.0


@pytest.mark.parametrize("altitude", [500, 1500, 3000])
def test_the_limit_goes_with_the_air_of_the_library(altitude):
    """ambiance (ICAO standard atmosphere): air pressure there over that at sea level."""
    geometric = ambiance.CONST.r * altitude / (ambiance.CONST.r - altitude)
    theirs = ambiance.Atmosphere(geometric)
    report = calculator("cylinder-tests").answer(
        {
            "cylinders": "2",
            "heads": "1 / 2",
            "dry": "7 7",
            "least_pressure": "6.5 bar",
            "altitude": f"{altitude} m",
            "air_temperature": f"{float(theirs.temperature[0]) - 273.15:.6f}",
        }
    )
    here = next(value for value in report.values if value.key == "least_here")
    assert magnitude_in(here.quantity, "bar") == pytest.approx(6.5 * float(theirs.pressure[0]) / _AIR, rel=1e-6)
