"""Openings: edges, areas, what they share, and what is no opening."""

import math

import pytest

from calculators.formulas.opening_shape import RoundedRectangle, Traced, proud_depth, shared_area

SQUARE = Traced(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)))


def test_a_circle_is_a_rectangle_all_of_corners():
    circle = RoundedRectangle(40.0, 40.0, 20.0, 3.0, 4.0)
    assert circle.area == pytest.approx(math.pi * 400)
    assert circle.extent == (-17.0, -16.0, 23.0, 24.0)
    assert circle.inside((3.0, 4.0)) == pytest.approx(20)
    assert all(circle.inside(point) == pytest.approx(0, abs=1e-9) for point in circle.outline)


def test_an_outline_lies_on_the_edge_of_any_opening():
    for shape in (RoundedRectangle(38.0, 33.0, 6.0, 1.0, -2.0), RoundedRectangle(30.0, 20.0, 0.0), SQUARE):
        assert len(shape.outline) >= 32
        assert all(abs(shape.inside(point)) < 1e-9 for point in shape.outline)
        assert len(set(shape.outline)) == len(shape.outline)


def test_a_level_line_outside_runs_nowhere():
    assert RoundedRectangle(40.0, 20.0, 5.0).spans(10.0) == ()
    assert SQUARE.spans(11.0) == ()


def test_a_level_line_leaves_and_enters_a_hollow_trace():
    notched = Traced(((0, 0), (10, 0), (10, 10), (6, 10), (6, 5), (4, 5), (4, 10), (0, 10)))
    assert notched.spans(7.0) == ((0, 4), (6, 10))
    assert notched.spans(3.0) == ((0, 10),)


def test_openings_side_by_side_share_nothing():
    assert shared_area((SQUARE, RoundedRectangle(4.0, 4.0, 2.0, 30.0, 5.0))) == 0
    assert shared_area((SQUARE, RoundedRectangle(4.0, 4.0, 2.0, 5.0, 30.0))) == 0


def test_an_edge_in_the_lee_of_an_earlier_one_is_not_proud():
    wide, narrow = RoundedRectangle(40.0, 40.0, 20.0), RoundedRectangle(30.0, 30.0, 15.0)
    assert proud_depth([wide], (18.0, 0.0)) == pytest.approx(2)
    assert proud_depth([wide, narrow], (18.0, 0.0)) == pytest.approx(-3)


@pytest.mark.parametrize(
    ("points", "crosses"),
    [
        (((0, 0), (10, 10), (10, 0), (0, 10)), True),
        (((0, 0), (10, 0), (10, 10), (0, 10)), False),
        (((0, 0), (5, 0), (10, 0), (10, 10)), False),
        (((0, 0), (10, 0), (5, 0), (5, 5), (0, 5), (7, 0)), True),
        (((0, 0), (4, 0), (0, 3)), False),
    ],
)
def test_a_trace_that_crosses_itself_is_found(points, crosses):
    assert Traced(points).crosses_itself is crosses
