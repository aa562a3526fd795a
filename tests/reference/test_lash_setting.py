"""Screw, lever and heat held against handbook figures, exact constants, a solver of the linkage, and pint's units."""

import math
from pathlib import Path

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants
from scipy.optimize import brentq

from calculators import magnitude_in, read_card
from calculators.formulas.adjuster_screw import leverage, screw_turn
from calculators.formulas.thermal_growth import gap_growth
from calculators.lash_growth import COEFFICIENTS
from calculators.lash_growth import FORM as GROWTH_FORM
from calculators.lash_growth import compute as lash_growth

CARD = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")

# Callister, Fundamentals of Materials Science and Engineering, 3rd edition, Table B.6: 10⁻⁶/°C and 10⁻⁶/°F
TABLE_B6 = {
    "cast aluminium": (21.5, 11.9),  # alloy 356.0
    "wrought aluminium": (23.6, 13.1),  # alloy 6061
    "cast magnesium": (26.0, 14.4),  # alloy AZ91D
    "grey iron": (11.4, 6.3),  # grade G3000
    "ductile iron": (11.2, 6.2),  # grade 60-40-18
    "carbon steel": (11.7, 6.5),  # alloy 1020
    "alloy steel": (12.3, 6.8),  # alloy 4140
    "martensitic steel": (10.2, 5.7),  # alloy 440A
    "austenitic steel": (17.2, 9.6),  # alloy 304
    "titanium": (8.6, 4.8),  # Ti-6Al-4V
}


def test_the_coefficients_are_the_handbook_s():
    assert {name: celsius for name, (celsius, _) in TABLE_B6.items()} == COEFFICIENTS


@pytest.mark.parametrize(("celsius", "fahrenheit"), TABLE_B6.values(), ids=TABLE_B6)
def test_the_handbook_s_two_columns_agree(celsius, fahrenheit):
    # 1 °F is 5/9 K; the table rounds to a tenth
    assert celsius * 5 / 9 == pytest.approx(fahrenheit, abs=0.06)


def tip_height(ratio, shaft, pushrod):
    """Where the rocker's valve end stands when its pushrod end touches the pushrod: the angle found by scipy."""
    arm = 24.0
    angle = brentq(lambda tilt: shaft + arm * math.sin(tilt) - pushrod, -1.0, 1.0, xtol=1e-15)
    return shaft - ratio * arm * math.sin(angle)


moves = st.floats(-1.0, 1.0)


@given(st.floats(0.7, 2.5), moves, moves, moves)
def test_a_rocker_solved_as_a_linkage_gives_the_same_gap(ratio, shaft, pushrod, stem_tip):
    gap = tip_height(ratio, shaft, pushrod) - stem_tip
    assert gap_growth(ratio, shaft, pushrod, stem_tip) == pytest.approx(gap, abs=1e-9)


@given(st.floats(0.7, 2.5), st.floats(0.25, 3.0), st.floats(-60.0, 60.0))
def test_a_screw_turned_on_a_rocker_solved_as_a_linkage_moves_the_gap_so(ratio, pitch, turn):
    travel = pitch * turn / 360  # a clockwise turn, towards the pushrod or the stem
    in_pushrod_end = tip_height(ratio, 0.0, travel) - tip_height(ratio, 0.0, 0.0)
    under_pivot_nut = tip_height(ratio, -travel, 0.0) - tip_height(ratio, 0.0, 0.0)
    assert screw_turn(-in_pushrod_end, pitch, leverage("pushrod", ratio)) == pytest.approx(turn, abs=1e-6)
    assert screw_turn(-under_pivot_nut, pitch, leverage("pivot", ratio)) == pytest.approx(turn, abs=1e-6)


def test_a_thou_on_a_twenty_four_thread_screw_is_nine_degrees_less_a_bit():
    # scipy.constants: 24 threads to the inch move a thou in 24/1000 of a turn
    assert screw_turn(constants.mil, constants.inch / 24, 1.0) == pytest.approx(24 / 1000 * 360, rel=1e-12)


def test_pint_s_own_registry_turns_a_pitch_into_the_same_angle():
    ureg = pint.UnitRegistry()
    turned = (0.01 * ureg.mm) / (1 * ureg.mm / ureg.turn)
    assert screw_turn(0.01, 1.0, 1.0) == pytest.approx(turned.to("degree").magnitude, rel=1e-9)


def test_the_whole_estimate_agrees_with_a_linkage_whose_parts_are_grown_one_by_one():
    # every length grown by the handbook's coefficient, the rocker then solved by scipy
    def text(path):
        return float(CARD.text(path).split()[0])

    typed = GROWTH_FORM.prefilled(CARD) | {"temperature_error": "0"}
    report = lash_growth(GROWTH_FORM.read(typed, CARD))

    def grown(length, material, rise):
        return length * TABLE_B6[CARD.text(f"materials.{material}")][0] * 1e-6 * rise

    case = grown(text("valve_gear.cam_to_barrel_base"), "case", 60)
    barrel = grown(text("dimensions.barrel_length"), "barrel", 110)
    shaft = case + barrel + grown(text("valve_gear.barrel_seat_to_rocker_shaft"), "head", 120)
    rod = grown(text("valve_gear.cam_to_pushrod"), "tappet", 70) + grown(
        text("dimensions.pushrod_length"), "pushrod", 90
    )
    tip = case + barrel + grown(text("valve_gear.barrel_seat_to_valve_seat"), "head", 120)
    tip += grown(text("valve_gear.valve_length"), "exhaust_valve", 230)
    expected = text("clearances.exhaust") + tip_height(text("dimensions.rocker_ratio"), shaft, rod) - tip
    running = next(value for value in report.values if value.key == "exhaust_running")
    assert magnitude_in(running.quantity, "mm") == pytest.approx(expected, abs=1e-9)
