"""Openings of any shape held against shapely, the chamber plan against scipy."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon, box

from calculators.formulas.even_volumes import even_volumes
from calculators.formulas.opening_shape import RoundedRectangle, Traced, shared_area

FINE = 256  # parts of a quarter turn in shapely's round corners


def of_shapely(shape):
    if isinstance(shape, Traced):
        return Polygon(shape.points)
    half_width, half_height = shape.width / 2 - shape.corner, shape.height / 2 - shape.corner
    core = box(-half_width, -half_height, half_width, half_height)
    if half_width == 0 and half_height == 0:
        core = Point(0, 0)
    elif half_width == 0 or half_height == 0:
        core = LineString([(-half_width, -half_height), (half_width, half_height)])
    return translate(core.buffer(shape.corner, quad_segs=FINE), shape.x, shape.y)


@st.composite
def rounded(draw):
    width, height = draw(st.floats(20, 50)), draw(st.floats(20, 50))
    corner = draw(st.integers(0, 100)) / 200 * min(width, height)  # shapely fails at hair-thin corners
    return RoundedRectangle(width, height, corner, draw(st.floats(-5, 5)), draw(st.floats(-5, 5)))


@st.composite
def traced(draw):
    count = draw(st.integers(3, 24))
    radii = draw(st.lists(st.floats(8, 30), min_size=count, max_size=count))
    points = tuple(
        (radius * math.cos(2 * math.pi * step / count), radius * math.sin(2 * math.pi * step / count))
        for step, radius in enumerate(radii)
    )
    return Traced(points)


@given(rounded() | traced())
@settings(max_examples=80, deadline=None)
def test_areas_are_shapely_s(shape):
    # shapely: area of the buffered core, or of the polygon
    assert shape.area == pytest.approx(of_shapely(shape).area, rel=1e-4)


@given(rounded() | traced(), st.floats(-40, 40), st.floats(-40, 40))
@settings(max_examples=150, deadline=None)
def test_the_depth_of_a_point_is_shapely_s_distance(shape, x, y):
    # shapely: distance to the edge, with the sign of being inside
    polygon, point = of_shapely(shape), Point(x, y)
    distance = polygon.exterior.distance(point) * (1 if polygon.contains(point) else -1)
    assert shape.inside((x, y)) == pytest.approx(distance, abs=2e-3)


@given(st.lists(rounded() | traced(), min_size=1, max_size=3))
@settings(max_examples=80, deadline=None)
def test_what_openings_share_is_shapely_s_intersection(shapes):
    # shapely: intersection of all polygons
    polygons = [of_shapely(shape) for shape in shapes]
    shared = polygons[0]
    for polygon in polygons[1:]:
        shared = shared.intersection(polygon)
    assert shared_area(tuple(shapes)) == pytest.approx(
        shared.area, rel=5e-3, abs=0.6
    )  # by rays: a spike between two is cut short


@given(traced())
@settings(max_examples=40, deadline=None)
def test_a_trace_round_a_middle_does_not_cross_itself(shape):
    assert of_shapely(shape).is_valid
    assert not shape.crosses_itself


@given(st.lists(st.tuples(st.integers(-20, 20), st.integers(-20, 20)), min_size=4, max_size=8, unique=True))
@settings(max_examples=150, deadline=None)
def test_a_trace_crosses_itself_where_shapely_says_so(points):
    # shapely: is_simple of the closed ring; it takes a spike back along a side for simple, and so do we
    ring = zip(points, points[1:] + points[:1], points[2:] + points[:2], strict=True)
    assume(all((b[0] - a[0]) * (c[1] - b[1]) != (b[1] - a[1]) * (c[0] - b[0]) for a, b, c in ring))
    assert Traced(tuple(points)).crosses_itself is not LineString([*points, points[0]]).is_simple


@given(st.lists(st.tuples(st.floats(40, 60), st.floats(0, 5)), min_size=2, max_size=6))
@settings(max_examples=40, deadline=None)
def test_no_other_plan_within_the_walls_leaves_less_spread_below_the_largest(chambers):
    # scipy.optimize.linprog: least sum of shortfalls against the largest, each within its wall
    volumes, rooms = (np.array(part) for part in zip(*chambers, strict=True))
    gap = volumes.max() - volumes
    best = linprog(-np.ones(len(gap)), bounds=[(0, min(room, one)) for room, one in zip(rooms, gap, strict=True)])
    plan = even_volumes(tuple(volumes), tuple(rooms))
    assert sum(one.short for one in plan) == pytest.approx(gap.sum() + best.fun, abs=1e-6)
