import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.formulas.base_circle import Window, depth
from calculators.formulas.fewest_stops import deepest_stops

whole = st.builds(Window, st.integers(0, 719).map(float), st.integers(1, 600).map(float))
sets = st.lists(whole, min_size=1, max_size=8)


def shallowest(windows, stops):
    return min(max(depth(window, stop) for stop in stops) for window in windows)


@pytest.mark.parametrize(
    ("windows", "count"),
    [
        ([(0, 10)], 1),
        ([(0, 10), (10, 10)], 1),  # they touch at 10
        ([(0, 10), (11, 10)], 2),
        ([(700, 40), (10, 40)], 1),  # over the end of the cycle
        ([(0, 10), (200, 10), (400, 10)], 3),
        ([(0, 400), (300, 400), (600, 200)], 2),  # each two meet, all three nowhere
        ([(0, 300), (50, 20), (60, 500)], 1),
    ],
)
def test_takes_no_more_stops_than_are_needed(windows, count):
    windows = [Window(float(start), float(length)) for start, length in windows]
    stops = deepest_stops(windows)
    assert len(stops) == count
    assert shallowest(windows, stops) >= -1e-6


def test_keeps_to_the_places_allowed():
    assert deepest_stops([Window(0.0, 100.0)], places=[50.0, 90.0]) == (50.0,)
    assert deepest_stops([Window(0.0, 100.0)], places=[150.0]) is None


def test_of_equal_sets_takes_the_one_with_the_first_place():
    rings = [Window(start, 300.0) for start in (100.0, 280.0, 460.0, 640.0)]
    places = (0.0, 180.0, 360.0, 540.0)
    assert 0.0 in deepest_stops(rings, places)
    assert 180.0 in deepest_stops(rings, places[1:] + places[:1])


def test_places_a_lone_stop_in_the_middle_of_what_is_shared():
    assert deepest_stops([Window(600.0, 300.0), Window(660.0, 300.0)]) == (60.0,)


@given(sets, st.lists(st.integers(0, 719).map(float), min_size=1, max_size=7, unique=True))
@settings(deadline=None)
def test_among_given_places_none_lies_deeper_than_by_trying_all(windows, places):
    found = deepest_stops(windows, tuple(places))
    tried = [
        (count, -shallowest(windows, some))
        for count in range(1, len(places) + 1)
        for some in itertools.combinations(places, count)
        if shallowest(windows, some) >= -1e-6
    ]
    if found is None:
        assert not tried
    else:
        count, deepest = min(tried)
        assert len(found) == count
        assert shallowest(windows, found) >= -deepest - 0.5 - 1e-6  # sought to half a degree
