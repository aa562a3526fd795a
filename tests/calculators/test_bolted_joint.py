"""Bolted joint: what physics says of any stud."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.bolted_joint import (
    HANDBOOK_K,
    LUBRICANTS,
    bearing_arm,
    combined_stress,
    external_shear_area,
    internal_shear_area,
    screw_arm,
)
from calculators.formulas.threads import FASTENERS, pitch_diameter, stress_area

THREADS = st.sampled_from(list(FASTENERS.values()))
FRICTION = st.floats(0.03, 0.6)


@given(thread=THREADS, friction=FRICTION, more=st.floats(0.001, 0.1))
def test_more_friction_takes_more_torque(thread, friction, more):
    pitch, middle = thread.pitch, pitch_diameter(thread.major, thread.pitch)
    assert screw_arm(pitch, middle, friction + more) > screw_arm(pitch, middle, friction)
    assert bearing_arm(14, 11, friction + more) > bearing_arm(14, 11, friction)


@given(thread=THREADS)
def test_without_friction_a_turn_lifts_by_the_pitch(thread):
    # energy: torque × 2 π = pull × pitch
    middle = pitch_diameter(thread.major, thread.pitch)
    assert screw_arm(thread.pitch, middle, 0) * 2 * math.pi == pytest.approx(thread.pitch, rel=1e-12)


@given(pull=st.floats(1, 1e5), twist=st.floats(0, 1e5), area=st.floats(10, 200))
def test_twist_adds_to_the_stress_of_the_pull(pull, twist, area):
    assert combined_stress(pull, twist, area) >= pull / area * (1 - 1e-12)
    assert combined_stress(pull, 0, area) == pytest.approx(pull / area)


@given(thread=THREADS, length=st.floats(2, 80))
def test_sheared_area_grows_with_length_and_the_case_s_is_the_larger(thread, length):
    inside = internal_shear_area(thread.major, thread.pitch, length)
    assert inside == pytest.approx(length * internal_shear_area(thread.major, thread.pitch, 1))
    assert external_shear_area(thread.major, thread.pitch, length) < inside


def test_slicker_conditions_have_less_friction():
    assert list(LUBRICANTS) == list(HANDBOOK_K) == ["dry", "oiled", "anti-seize"]
    for known in (list(LUBRICANTS.values()), list(HANDBOOK_K.values())):
        assert known == sorted(known, reverse=True)


def test_any_friction_within_the_ends_pulls_within_the_ends():
    # the ends are at the corners of the two frictions: no draw between may lie outside
    pick = random.Random(11)  # noqa: S311 (repeatable, no secret)
    low, high = LUBRICANTS["oiled"]
    ends = [screw_arm(1.5, 9.026, mu) + bearing_arm(14.6, 11, mu) for mu in (low, high)]
    for _ in range(500):
        arm = screw_arm(1.5, 9.026, pick.uniform(low, high)) + bearing_arm(14.6, 11, pick.uniform(low, high))
        assert ends[0] <= arm <= ends[1]


def test_a_studs_own_length_of_steel_thread_outlasts_its_core():
    # common practice, no source: a steel nut about 0.8 diameters high breaks the bolt before its thread goes
    for thread in FASTENERS.values():
        area = external_shear_area(thread.major, thread.pitch, 0.8 * thread.major)
        assert 0.6 * area > 1.0 * stress_area(thread)
