"""Gas in ports and past valves: what grows with what."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.port_flow import curtain_area, gas_speed, mach_index, piston_speed, sound_speed, throat_area


def test_curtain_and_throat_are_alike_at_a_quarter_of_the_diameter():
    assert curtain_area(36.0, 9.0) == pytest.approx(throat_area(36.0, 0.0))


def test_a_passage_as_wide_as_the_bore_has_the_piston_s_speed():
    assert gas_speed(12.0, 80.0, math.pi / 4 * 80**2) == pytest.approx(12.0)


@given(st.floats(500, 8000), st.floats(30, 45), st.floats(-20, 100))
def test_the_index_rises_with_speed_and_falls_with_valve_and_warmth(speed, valve, warmth):
    def index(speed, valve, warmth):
        return mach_index(80.0, valve, piston_speed(74.0, speed), 0.35, sound_speed(warmth))

    here = index(speed, valve, warmth)
    assert index(speed * 1.01, valve, warmth) > here
    assert index(speed, valve * 1.01, warmth) < here
    assert index(speed, valve, warmth + 1) < here
