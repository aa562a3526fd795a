"""Thread finder: every thread is found by its own size, and its neighbours are named."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.thread_finder import candidates
from calculators.formulas.threads import FASTENERS, NEIGHBOURS, least_major

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
    assert all(candidate.in_pitch is None for candidate in found)


def test_what_fits_comes_first():
    order = [candidate.fit for candidate in candidates(ALL, 9.88, 0.05, 1.5)]
    assert order == sorted(order, key=("fits", "may fit", "near, but not it").index)


def test_nothing_near_gives_nothing():
    assert candidates(ALL, 11.2, 0.05, 0.5) == ()
