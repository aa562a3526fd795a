"""Studs against textbook examples, and areas measured by a geometry library."""

import math

import pytest
from shapely.geometry import LineString, Polygon

from calculators import magnitude_in, stud_clamp
from calculators.formulas.bolted_joint import (
    bearing_arm,
    combined_stress,
    external_shear_area,
    internal_shear_area,
    screw_arm,
)
from calculators.formulas.threads import (
    FASTENERS,
    STEELS,
    minor_diameter,
    pitch_diameter,
    stress_area,
)


def test_torque_of_a_power_screw_is_the_textbook_s():
    # Shigley's Mechanical Engineering Design, Example 8-1 (from memory): square thread, d 32, pitch 4, double start,
    # f = fc = 0.08, collar 40 mm, 6.4 kN: 15.94 N·m for the thread, 10.24 N·m for the collar. A square thread has no
    # flank rise, so it is taken out of the friction.
    friction = 0.08 * math.cos(math.radians(30))
    assert 6.4 * screw_arm(8, 30, friction) == pytest.approx(15.94, abs=0.005)
    assert 6.4 * bearing_arm(40, 40, 0.08) == pytest.approx(10.24, abs=1e-9)


# VDI 2230 (2001), M8 × 1, friction 0.12, 90 % of the yield point: a supplier's table, seen
@pytest.mark.parametrize(
    ("steel", "pull", "torque"), [("8.8", 20200, 26.1), ("10.9", 29700, 38.3), ("12.9", 34700, 44.9)]
)
def test_pull_and_torque_are_the_tables_of_vdi_2230(steel, pull, torque):
    thread = FASTENERS["M8 × 1"]
    screw = screw_arm(1, pitch_diameter(8, 1), 0.12)
    assert pull * (screw + bearing_arm(11.6, 9, 0.12)) / 1000 == pytest.approx(torque, rel=0.005)
    # the table's section for stress is (d2 + d3) / 2, which is the stress area's
    share = combined_stress(pull, pull * screw, stress_area(thread)) / STEELS[steel].yielding
    assert share == pytest.approx(0.90, abs=0.005)


def test_long_formula_is_the_inclined_plane():
    # exact screw: F (d2 / 2) tan(lead angle + friction angle); 49.153 N·m for M10 × 1.5, 30 kN, 0.12, Db 12.8 mm
    assert 30 * (screw_arm(1.5, 9.026, 0.12) + bearing_arm(14.6, 11, 0.12)) == pytest.approx(49.153, abs=0.005)


def test_handbook_factor_gives_a_supplier_s_dry_torque():
    # 3/8-16 grade 2, dry, K 0.20: 20 lbf·ft for 3 197 lbf, a fastener supplier's table, seen
    typed = {"thread": "3/8-16", "steel": "grade 2", "torque": "20 lbf·ft", "engagement": "1 in"}
    report = stud_clamp.compute(stud_clamp.FORM.read(typed))
    (row,) = [row for row in report.tables[0].rows if row.cells[0] == "dry"]
    assert row.cells[-1] * 1000 / 4.4482216 == pytest.approx(3197, rel=0.002)


def ridge(pitch, at):
    """Width of the ridges of a basic 60° profile at a height over its pitch line, measured by shapely, per pitch."""
    height = pitch * math.sqrt(3) / 2
    tooth = Polygon([(-pitch / 2, -height / 2), (pitch / 2, -height / 2), (0, height / 2)])
    return tooth.intersection(LineString([(-pitch, at), (pitch, at)])).length


@pytest.mark.parametrize("name", ["M6 × 1", "M10 × 1.5", "3/8-24"])
def test_sheared_areas_are_what_a_geometry_library_measures(name):
    # shapely: the case's ridge is cut at the stud's major diameter, the stud's at the case's minor diameter
    thread = FASTENERS[name]
    middle = pitch_diameter(thread.major, thread.pitch)
    inside = ridge(thread.pitch, (middle - thread.major) / 2)
    outside = ridge(thread.pitch, (minor_diameter(thread.major, thread.pitch) - middle) / 2)
    turns = 20 / thread.pitch
    assert internal_shear_area(thread.major, thread.pitch, 20) == pytest.approx(
        math.pi * thread.major * turns * inside, rel=1e-9
    )
    bore = minor_diameter(thread.major, thread.pitch)
    assert external_shear_area(thread.major, thread.pitch, 20) == pytest.approx(
        math.pi * bore * turns * outside, rel=1e-9
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
