"""Evening chambers: never beyond the largest, never beyond a wall."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.even_volumes import even_volumes, room_to_wall

CHAMBERS = st.lists(st.tuples(st.floats(30, 90), st.none() | st.floats(0, 10)), min_size=1, max_size=12)


def test_all_come_to_the_largest_where_walls_allow():
    assert [one.out for one in even_volumes((49.1, 49.5, 48.2), (5.0, 5.0, 5.0))] == pytest.approx([0.4, 0.0, 1.3])


def test_a_wall_that_was_not_measured_loses_nothing():
    (_, small) = even_volumes((50.0, 49.0), (None, None))
    assert (small.out, small.short) == (0.0, 1.0)


@given(CHAMBERS)
def test_nothing_goes_beyond_the_largest_or_the_wall(chambers):
    volumes, rooms = zip(*chambers, strict=True)
    for volume, room, one in zip(volumes, rooms, even_volumes(volumes, rooms), strict=True):
        assert 0 <= one.out <= (room or 0.0)
        assert one.short >= 0
        assert volume + one.out + one.short == pytest.approx(max(volumes))


def test_a_wall_already_too_thin_has_no_room():
    assert room_to_wall(20.0, 3.9, 4.0) == 0
    # by hand: 20 cm² · 0.5 mm
    assert room_to_wall(20.0, 4.5, 4.0) == pytest.approx(1.0)
