"""Studs against a rule of the trade, and their sum."""

import pytest

from calculators import magnitude_in, stud_clamp
from calculators.formulas.bolted_joint import external_shear_area
from calculators.formulas.threads import (
    FASTENERS,
    stress_area,
)


def test_a_stud_s_own_length_of_steel_thread_outlasts_its_core():
    # common practice, no source: a steel nut about 0.8 diameters high breaks the bolt before its thread goes
    for thread in FASTENERS.values():
        area = external_shear_area(thread.major, thread.pitch, 0.8 * thread.major)
        assert 0.6 * area > 1.0 * stress_area(thread)


def test_total_is_the_sum_of_the_studs():
    typed = {"thread": "M10 × 1.5", "steel": "8.8", "torque": "34", "engagement": "20", "studs": "8"}
    values = {value.key: value for value in stud_clamp.compute(stud_clamp.FORM.read(typed)).values}
    for end in ("least", "most"):
        one, whole = (magnitude_in(values[f"{end}_{what}"].quantity, "N") for what in ("pull", "total"))
        assert whole == pytest.approx(8 * one, rel=1e-12)
