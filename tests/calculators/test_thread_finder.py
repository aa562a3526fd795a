"""Thread finder: every thread is found by its own size, and its neighbours are named."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.thread_finder import candidates
from calculators.formulas.threads import FASTENERS, NEIGHBOURS, Thread, least_major

ALL = (*FASTENERS.values(), *NEIGHBOURS)


def names(found):
    return [candidate.thread.name for candidate in found]


@pytest.mark.parametrize("thread", ALL, ids=[thread.name for thread in ALL])
def test_every_thread_is_found_by_its_own_diameter_and_pitch(thread):
    middle = (thread.major + least_major(thread)) / 2
    found = candidates(ALL, middle, 0.02, thread.pitch)
    assert {candidate.thread.name: candidate.fit for candidate in found}[thread.name] == "fits"
    assert len(found) <= 6


# pairs that are taken for each other at the bench (common practice, no source)
@pytest.mark.parametrize(
    ("diameter", "pitch", "it", "taken_for"),
    [
        (9.88, 1.5, "M10 × 1.5", "3/8-16"),
        (7.85, 25.4 / 24, "5/16-24", "M8 × 1"),
        (7.85, 25.4 / 18, "5/16-18", "5/16-18 BSW"),
        (9.68, 25.4 / 28, "G 1/8", "1/8-27 NPT"),
        (4.75, 25.4 / 32, "#10-32", "M5 × 0.8"),
        (6.25, 25.4 / 20, "1/4-20", "1/4-20 BSW"),
    ],
)
def test_what_a_thread_is_confused_with_is_named(diameter, pitch, it, taken_for):
    found = candidates(ALL, diameter, 0.05, pitch)
    fits = {candidate.thread.name: candidate.fit for candidate in found}
    assert fits[it] in ("fits", "may fit")
    assert taken_for in fits


@given(thread=st.sampled_from(ALL), error=st.floats(0, 0.1), beyond=st.floats(0.001, 0.3))
def test_a_diameter_out_with_its_whole_error_never_fits(thread, error, beyond):
    high = thread.major + (0.6 if thread.series.startswith("taper") else 0)
    found = candidates((thread,), high + error + beyond, error, thread.pitch)
    assert all(candidate.fit == "near, but not it" for candidate in found)


@given(thread=st.sampled_from(ALL), error=st.floats(0.001, 0.1))
def test_a_diameter_at_the_limit_is_too_close_to_be_sure(thread, error):
    high = thread.major + (0.6 if thread.series.startswith("taper") else 0)
    (found,) = candidates((thread,), high, error, thread.pitch)
    assert found.fit == "may fit"


def test_without_a_pitch_the_diameter_alone_speaks():
    found = candidates(ALL, 9.85, 0.05, None, most=20)
    assert {"M10 × 1.5", "M10 × 1"} <= set(names(found))


# Ranked by share: a diameter 0.45 mm beyond is as far off as a pitch 7 % off.
@pytest.mark.parametrize(
    ("nearer", "farther"),
    [
        ((10.0, 1.5), (10.35, 1.5 / 1.06)),  # 0.3 / 0.45 = 0.667, and 0.06 / 0.07 = 0.857
        ((10.35, 1.5 / 1.05), (9.9, 1.5)),  # 0.05 / 0.07 = 0.714, and 0.4 / 0.45 = 0.889
    ],
)
def test_the_nearest_comes_first(nearer, farther):
    one, other = (Thread(name, "metric", *size) for name, size in (("nearer", nearer), ("farther", farther)))
    for listed in ((one, other), (other, one)):
        found = candidates(listed, 10.3, 0.0, 1.5)
        assert [(candidate.thread.name, candidate.fit) for candidate in found] == [
            ("nearer", "near, but not it"),
            ("farther", "near, but not it"),
        ]


def test_of_two_that_fit_the_one_with_the_nearer_pitch_comes_first():
    near, deep = Thread("near", "metric", 10.01, 1.5), Thread("deep", "metric", 10.12, 1.5 / 1.005)
    for listed in ((near, deep), (deep, near)):
        found = candidates(listed, 10.0, 0.0, 1.5)
        assert [(candidate.thread.name, candidate.fit) for candidate in found] == [("near", "fits"), ("deep", "fits")]


def test_what_lies_near_is_named_as_far_as_the_gauge_may_be_off():
    stud = FASTENERS["M14 × 2"]
    assert candidates((stud,), 14.47, 0.0, 2.0) == ()
    assert candidates((stud,), 14.47, 0.05, 2.0) != ()
    assert candidates((stud,), 13.9, 0.0, 2.16) == ()  # 8 % off
    assert candidates((stud,), 13.9, 0.0, 2.16, 0.04) != ()
    assert candidates((stud,), 13.9, 0.0, 2.2, 0.04) == ()  # 10 %, of which the gauge may have 2


def test_a_blade_that_sits_within_one_per_cent_fits():
    found = candidates((FASTENERS["M14 × 2"],), 13.9, 0.0, 2.015)
    assert [candidate.fit for candidate in found] == ["fits"]


def test_six_are_named_unless_more_are_asked_for():
    assert len(candidates(ALL, 9.85, 0.05, None, most=20)) > 6
    assert len(candidates(ALL, 9.85, 0.05, None)) == 6


def test_what_fits_comes_first():
    order = [candidate.fit for candidate in candidates(ALL, 9.88, 0.05, 1.5)]
    assert order == sorted(order, key=("fits", "may fit", "near, but not it").index)


def test_nothing_near_gives_nothing():
    assert candidates(ALL, 11.2, 0.05, 0.5) == ()
