"""Ceilings by distance, pressure between two speeds, and the days on which distances are full."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.running_in import (
    ceilings,
    day_reached,
    least_pressure,
    months_later,
)

START = date(2026, 11, 26)


def test_ceilings_rise_evenly_and_the_last_is_the_highest_speed():
    found = ceilings(4600, 0.67, 200, 600, 5, 50)
    assert [(one.begin, one.until) for one in found] == [
        (0, 200),
        (200, 300),
        (300, 400),
        (400, 500),
        (500, 600),
        (600, None),
    ]
    # by hand: 67 %, then a fifth of the remaining 33 % each time, down to whole fifties
    assert [one.speed for one in found] == [3050, 3350, 3650, 3950, 4250, 4600]


def test_a_share_that_falls_on_a_mark_stays_there():
    assert ceilings(4000, 0.7, 100, 200, 2, 100)[0].speed == 2800


def test_the_highest_speed_is_not_taken_down_to_a_mark():
    assert ceilings(4630, 0.6, 100, 200, 2, 50)[-1].speed == 4630


def test_a_rise_between_two_distances_waits_for_the_next():
    assert [one.begin for one in ceilings(4000, 0.6, 100, 201, 3, 50)] == [0, 100, 151, 201]


def test_rises_on_one_distance_are_one():
    assert [(one.begin, one.speed) for one in ceilings(4000, 0.6, 100, 101, 4, 50)] == [
        (0, 2400),
        (100, 2800),
        (101, 4000),
    ]


@given(
    st.floats(500, 20000),
    st.floats(0.3, 1),
    st.integers(10, 3000),
    st.integers(1, 5000),
    st.integers(2, 6),
    st.floats(10, 500),
)
def test_ceilings_join_never_fall_and_never_pass_their_share(highest, share, first, more, rises, mark):
    found = ceilings(highest, share, first, first + more, rises, mark)
    assert found[0].begin == 0
    assert (found[-1].until, found[-1].speed) == (None, highest)
    for one, later in pairwise(found):
        assert one.until == later.begin > one.begin
        assert one.speed <= later.speed
        assert one.speed <= one.share * highest * (1 + 1e-9)


@pytest.mark.parametrize(("speed", "pressure"), [(850, 0.8), (2500, 2.8), (1675, 1.8), (300, 0.8), (4000, 2.8)])
def test_least_pressure_lies_on_the_line_and_holds_beyond_its_ends(speed, pressure):
    assert least_pressure(speed, (850, 0.8), (2500, 2.8)) == pytest.approx(pressure)


@pytest.mark.parametrize(
    ("distance", "weekly", "days"), [(0, 150, 0), (50, 150, 2), (150, 150, 7), (149, 150, 6), (7, 1, 49)]
)
def test_a_distance_is_full_on_the_day_on_which_its_last_part_is_driven(distance, weekly, days):
    assert day_reached(START, distance, weekly) == START + timedelta(days=days)


@given(st.integers(0, 40000), st.integers(0, 40000), st.integers(5, 5000))
def test_a_longer_distance_is_never_full_sooner(one, other, weekly):
    nearer, farther = sorted((one, other))
    assert day_reached(START, nearer, weekly) <= day_reached(START, farther, weekly)


def test_a_month_that_lacks_the_day_gives_its_last():
    assert months_later(date(2026, 8, 31), 6) == date(2027, 2, 28)
    assert months_later(date(2027, 8, 31), 6) == date(2028, 2, 29)
    assert months_later(date(2026, 12, 15), 1) == date(2027, 1, 15)
    assert months_later(date(2026, 11, 25), 12) == date(2027, 11, 25)
