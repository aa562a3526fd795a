"""Studs against the tables of the standards."""

import pytest

from calculators import magnitude_in, stud_clamp
from calculators.formulas.bolted_joint import (
    external_shear_area,
)
from calculators.formulas.threads import (
    FASTENERS,
    STEELS,
    insert_major,
    minor_diameter,
    pitch_diameter,
    stress_area,
)

COARSE = {"M5": "M5 × 0.8", "M6": "M6 × 1", "M7": "M7 × 1", "M8": "M8 × 1.25", "M10": "M10 × 1.5", "M12": "M12 × 1.75"}
COARSE["M14"] = "M14 × 2"
CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")


# ISO 898-1, proof loads of coarse threads, N; seen in a fastener supplier's copy. The table rounds unevenly: 0.7 %.
@pytest.mark.parametrize(
    ("size", "area", "loads"),
    [
        ("M5", 14.2, (3200, 4400, 3980, 5400, 6250, 8230, 9230, 11800, 13800)),
        ("M6", 20.1, (4520, 6230, 5630, 7640, 8840, 11600, 13100, 16700, 19500)),
        ("M7", 28.9, (6500, 8960, 8090, 11000, 12700, 16800, 18800, 24000, 28000)),
        ("M8", 36.6, (8240, 11400, 10200, 13900, 16100, 21200, 23800, 30400, 35500)),
        ("M10", 58.0, (13000, 18000, 16200, 22000, 25500, 33700, 37700, 48100, 56300)),
        ("M12", 84.3, (19000, 26100, 23600, 32000, 37100, 48900, 54800, 70000, 81800)),
        ("M14", 115, (25900, 35600, 32200, 43700, 50600, 66700, 74800, 95500, 112000)),
    ],
)
def test_proof_loads_are_those_of_the_standard_s_table(size, area, loads):
    found = stress_area(FASTENERS[COARSE[size]])
    assert found == pytest.approx(area, rel=0.005)
    for name, load in zip(CLASSES, loads, strict=True):
        assert STEELS[name].proof * found == pytest.approx(load, rel=0.007), name


# ISO 898-1, least tensile loads of coarse threads, N; seen in a fastener supplier's copy
@pytest.mark.parametrize(
    ("size", "loads"),
    [
        ("M8", (14600, 15400, 18300, 19000, 22000, 29200, 32900, 38100, 44600)),
        ("M10", (23200, 24400, 29000, 30200, 34800, 46400, 52200, 60300, 70800)),
    ],
)
def test_breaking_loads_are_those_of_the_standard_s_table(size, loads):
    for name, load in zip(CLASSES, loads, strict=True):
        assert STEELS[name].breaking * stress_area(FASTENERS[COARSE[size]]) == pytest.approx(load, rel=0.005), name


# ISO 898-1, stress areas of fine threads, mm² (from memory)
@pytest.mark.parametrize(
    ("name", "area"),
    [
        ("M8 × 1", 39.2),
        ("M10 × 1.25", 61.2),
        ("M10 × 1", 64.5),
        ("M12 × 1.5", 88.1),
        ("M12 × 1.25", 92.1),
        ("M14 × 1.5", 125),
    ],
)
def test_fine_threads_have_the_standard_s_stress_area(name, area):
    assert stress_area(FASTENERS[name]) == pytest.approx(area, rel=0.005)


# ISO 724, pitch and minor diameters, mm (from memory)
@pytest.mark.parametrize(
    ("name", "middle", "minor"),
    [
        ("M6 × 1", 5.350, 4.917),
        ("M8 × 1.25", 7.188, 6.647),
        ("M10 × 1.5", 9.026, 8.376),
        ("M12 × 1.25", 11.188, 10.647),
    ],
)
def test_diameters_are_those_of_iso_724(name, middle, minor):
    thread = FASTENERS[name]
    assert pitch_diameter(thread.major, thread.pitch) == pytest.approx(middle, abs=5e-4)
    assert minor_diameter(thread.major, thread.pitch) == pytest.approx(minor, abs=5e-4)


# ASME B1.1, tensile stress areas, in² (from memory)
@pytest.mark.parametrize(
    ("name", "area"),
    [
        ("#10-24", 0.0175),
        ("#10-32", 0.0200),
        ("#12-24", 0.0242),
        ("#12-28", 0.0258),
        ("1/4-20", 0.0318),
        ("1/4-28", 0.0364),
        ("5/16-18", 0.0524),
        ("5/16-24", 0.0580),
        ("3/8-16", 0.0775),
        ("3/8-24", 0.0878),
        ("7/16-14", 0.1063),
        ("7/16-20", 0.1187),
        ("1/2-13", 0.1419),
        ("1/2-20", 0.1599),
    ],
)
def test_unified_threads_have_the_standard_s_stress_area(name, area):
    assert stress_area(FASTENERS[name]) / 25.4**2 == pytest.approx(area, abs=1e-4)


# SAE J429, table 1, psi: proof, yield, tensile; seen in a fastener supplier's copy
@pytest.mark.parametrize(
    ("name", "proof", "yielding", "breaking"),
    [
        ("grade 1", 33, 36, 60),
        ("grade 2", 55, 57, 74),
        ("grade 5", 85, 92, 120),
        ("grade 8", 120, 130, 150),
    ],
)
def test_grades_are_those_of_sae_j429(name, proof, yielding, breaking):
    steel = STEELS[name]
    # 1 ksi = 6.894 757 MPa (NIST SP 811 (2008), B.8)
    assert [steel.proof, steel.yielding, steel.breaking] == pytest.approx(
        [6.894757 * ksi for ksi in (proof, yielding, breaking)], rel=1e-6
    )


# ASME B18.29.2M, tapped hole for a wire insert: least pitch and major diameter, mm (from memory)
@pytest.mark.parametrize(("name", "middle", "major"), [("M6 × 1", 6.650, 7.299), ("M10 × 1.5", 10.974, 11.949)])
def test_the_hole_of_an_insert_is_the_standard_s(name, middle, major):
    thread = FASTENERS[name]
    wide = insert_major(thread.major, thread.pitch)
    assert wide == pytest.approx(major, abs=1e-3)
    assert pitch_diameter(wide, thread.pitch) == pytest.approx(middle, abs=1e-3)


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
