"""Threads: the series as the standards list them, and geometry that holds for every one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.threads import (
    FASTENERS,
    NEIGHBOURS,
    STEELS,
    clearance_hole,
    drill_for,
    insert_major,
    least_major,
    minor_diameter,
    nut_face,
    pitch_diameter,
    stress_area,
    thread_left,
)

EVERY = pytest.mark.parametrize("thread", FASTENERS.values(), ids=list(FASTENERS))


def test_every_thread_has_a_name_of_its_own():
    names = [*FASTENERS, *(thread.name for thread in NEIGHBOURS)]
    assert len(set(names)) == len(names)


def test_series_run_from_5_to_14_millimetres_and_from_number_10_to_half_an_inch():
    metric = {thread.major for thread in FASTENERS.values() if thread.per_inch is None}
    inch = {round(thread.major / 25.4, 4) for thread in FASTENERS.values() if thread.per_inch}
    assert metric == {5, 6, 7, 8, 10, 12, 14}
    assert inch == {0.19, 0.216, 0.25, 0.3125, 0.375, 0.4375, 0.5}


# ISO 261, coarse and fine series; ASME B1.1, UNC and UNF
@pytest.mark.parametrize(
    ("name", "series", "major", "pitch"),
    [
        ("M8 × 1.25", "metric coarse", 8, 1.25),
        ("M8 × 1", "metric fine", 8, 1),
        ("M12 × 1.25", "metric fine", 12, 1.25),
        ("5/16-18", "unified coarse", 7.9375, 25.4 / 18),
        ("5/16-24", "unified fine", 7.9375, 25.4 / 24),
    ],
)
def test_a_thread_stands_in_its_series(name, series, major, pitch):
    thread = FASTENERS[name]
    assert (thread.name, thread.series, thread.major) == (name, series, pytest.approx(major))
    assert thread.pitch == pytest.approx(pitch)


@EVERY
def test_diameters_of_a_thread_lie_in_each_other(thread):
    minor = minor_diameter(thread.major, thread.pitch)
    assert minor < pitch_diameter(thread.major, thread.pitch) < least_major(thread) < thread.major
    assert 3.1416 / 4 * (minor - 0.2 * thread.pitch) ** 2 < stress_area(thread) < 3.1416 / 4 * thread.major**2


@EVERY
def test_a_nut_bears_outside_its_hole_and_the_hole_passes_the_stud(thread):
    assert thread.major < clearance_hole(thread) < nut_face(thread) < 2 * thread.major + 1


@EVERY
def test_an_insert_s_thread_begins_outside_the_stud(thread):
    # the insert's own wire fills what lies between, so its bore is the stud's: minor of the hole above the stud's major
    wide = insert_major(thread.major, thread.pitch)
    assert minor_diameter(wide, thread.pitch) > thread.major
    assert minor_diameter(wide, thread.pitch) - thread.major < 0.25 * thread.pitch


@given(thread=st.sampled_from(list(FASTENERS.values())), share=st.floats(0.3, 1))
def test_a_drill_leaves_the_share_it_was_sought_for(thread, share):
    drill = drill_for(thread.major, thread.pitch, share)
    assert thread_left(thread.major, thread.pitch, drill) == pytest.approx(share, rel=1e-9)


@pytest.mark.parametrize("steel", STEELS.values(), ids=list(STEELS))
def test_a_steel_is_proved_below_its_yield_and_yields_before_it_breaks(steel):
    assert 0 < steel.proof < steel.yielding < steel.breaking
    assert steel.graded == steel.name.startswith("grade")


@pytest.mark.parametrize("name", [name for name in STEELS if "." in name])
def test_a_property_class_says_its_strength(name):
    # ISO 898-1: the first number is a hundredth of the nominal strength, the second the ratio to yield, times ten
    first, second = map(int, name.split("."))
    assert STEELS[name].breaking == pytest.approx(100 * first, rel=0.051)
    assert STEELS[name].yielding == pytest.approx(10 * first * second, rel=0.07)


def test_the_least_major_diameter_is_the_tolerance_below_the_greatest():
    # by hand, from ISO 965-1, 6g (from memory), at a pitch of 1 mm: 15 + 11 below nominal, then 180 − 3.15, in µm
    assert least_major(FASTENERS["M6 × 1"]) == pytest.approx(6 - 0.20285, abs=1e-9)


def test_an_inch_clearance_hole_is_so_much_over_size():
    # ASME B18.2.8, normal fit (from memory): 9/32 in for 1/4 in, 9/16 in for 1/2 in
    quarter, half = (
        next(one for one in FASTENERS.values() if one.major == pytest.approx(25.4 * size)) for size in (0.25, 0.5)
    )
    assert clearance_hole(quarter) == pytest.approx(25.4 * 9 / 32)
    assert clearance_hole(half) == pytest.approx(25.4 * 9 / 16)
