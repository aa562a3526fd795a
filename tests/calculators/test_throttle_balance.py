"""Which throttles may stay."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.throttle_balance import middle, staying

readings = st.lists(st.floats(0.1, 100), min_size=2, max_size=8).map(tuple)


@given(readings, st.floats(0, 50))
def test_those_that_stay_lie_within_the_width(found, width):
    kept = [found[place] for place in staying(found, width)]
    assert kept
    assert max(kept) - min(kept) <= width * (1 + 1e-9) + 1e-6


@given(readings, st.floats(0, 50), st.integers(0, 7))
def test_the_fixed_one_is_always_among_them(found, width, fixed):
    fixed %= len(found)
    assert fixed in staying(found, width, fixed)


@given(readings, st.floats(0, 50))
def test_no_more_could_stay(found, width):
    # counted one by one: every window that begins at a reading
    most = max(sum(low <= one <= low + width for one in found) for low in found)
    assert len(staying(found, width)) >= most


def test_of_two_windows_the_one_nearer_to_the_mean_stays():
    assert staying((1.0, 2.0, 2.1, 4.0, 4.1), 0.2) == (1, 2)
    assert middle((1.0, 2.0, 4.0)) == pytest.approx(2.5)
