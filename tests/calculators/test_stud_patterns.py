"""Ready-made patterns stand where they say."""

import math

import pytest

from calculators.formulas.stud_patterns import PITCH, in_line, ring, two_rows


@pytest.mark.parametrize("studs", range(4, 21, 2))
def test_two_rows_stand_one_pitch_apart_both_ways(studs):
    places = two_rows(studs)
    assert len(places) == studs
    assert [y for _, y in places] == [PITCH / 2] * (studs // 2) + [-PITCH / 2] * (studs // 2)
    xs = [x for x, _ in places[: studs // 2]]
    assert xs == [xs[0] + PITCH * place for place in range(studs // 2)]
    assert sum(xs) == pytest.approx(0)


@pytest.mark.parametrize("studs", [3, 5])
def test_neighbours_in_a_ring_stand_one_pitch_apart(studs):
    places = ring(studs)
    assert places[0][0] == pytest.approx(0)
    for here, there in zip(places, places[1:] + places[:1], strict=True):
        assert math.dist(here, there) == pytest.approx(PITCH)


def test_a_line_is_even_about_its_middle():
    assert in_line(4) == ((-120, 0), (-40, 0), (40, 0), (120, 0))
