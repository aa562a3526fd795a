"""Openings held against shapely, the chamber plan against scipy, the gas against closed forms and CoolProp."""

import itertools
import math

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon, box

from calculators.formulas.even_volumes import even_volumes
from calculators.formulas.opening_shape import RoundedRectangle, Traced, shared_area
from calculators.formulas.port_flow import (
    curtain_area,
    gas_speed,
    mach_index,
    piston_speed,
    sound_speed,
    throat_area,
)

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
    assert shared_area(tuple(shapes)) == pytest.approx(shared.area, rel=2e-3, abs=0.6)


def test_a_common_pair_of_openings_is_summed_to_a_thousandth():
    pipe, port = RoundedRectangle(37.0, 31.0, 15.5), RoundedRectangle(36.0, 31.0, 15.5, 0.4, -0.7)
    exact = of_shapely(pipe).intersection(of_shapely(port)).area
    assert shared_area((pipe, port)) == pytest.approx(exact, rel=1e-3)


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


def test_mean_piston_speeds():
    # identity: 86 mm at 6000 r/min 17.2 m/s; 100 mm at 3000 r/min 10.0 m/s
    assert piston_speed(86.0, 6000.0) == pytest.approx(17.2)
    assert piston_speed(100.0, 3000.0) == pytest.approx(10.0)


def test_mean_gas_speed_past_a_valve_s_head():
    # identity: bore 86, valve 33, 17.2 m/s: 116.815 m/s
    assert gas_speed(17.2, 86.0, math.pi / 4 * 33.0**2) == pytest.approx(116.815, abs=1e-3)


def test_annulus_and_curtain():
    # identity: ring 40/8 1206.371 58 mm²; curtain 40 × 10 1256.637 06 mm²
    assert throat_area(40.0, 8.0) == pytest.approx(1206.37158, abs=1e-5)
    assert curtain_area(40.0, 10.0) == pytest.approx(1256.63706, abs=1e-5)


@pytest.mark.parametrize("celsius", [0.0, 20.0, 40.0, 80.0])
def test_the_speed_of_sound_is_that_of_real_air(celsius):
    # CoolProp: dry air at 101 325 Pa (343.344 m/s at 20 °C)
    assert sound_speed(celsius) == pytest.approx(PropsSI("A", "T", celsius + 273.15, "P", 101325, "Air"), rel=2e-3)


def test_the_index_of_a_two_litre_four():
    # by hand from Taylor's definition: (86 ÷ 33)² · 17.2 ÷ (0.35 · 343.2) = 0.972 48
    assert mach_index(86.0, 33.0, 17.2, 0.35, 343.2) == pytest.approx(0.97248, abs=1e-5)


@given(st.lists(st.tuples(st.floats(40, 60), st.floats(0, 5)), min_size=2, max_size=6))
@settings(max_examples=40, deadline=None)
def test_no_other_plan_within_the_walls_leaves_less_spread_below_the_largest(chambers):
    # scipy.optimize.linprog: least sum of shortfalls against the largest, each within its wall
    volumes, rooms = (np.array(part) for part in zip(*chambers, strict=True))
    gap = volumes.max() - volumes
    best = linprog(-np.ones(len(gap)), bounds=[(0, min(room, one)) for room, one in zip(rooms, gap, strict=True)])
    plan = even_volumes(tuple(volumes), tuple(rooms))
    assert sum(one.short for one in plan) == pytest.approx(gap.sum() + best.fun, abs=1e-6)


def test_a_round_pipe_off_its_port_is_proud_by_the_offset_and_half_the_difference():
    # shapely's Hausdorff distance of two circles: offset + difference of the radii
    for offset, radius in itertools.product((0.5, 2.0), (17.0, 18.0)):
        pipe, port = RoundedRectangle(36.0, 36.0, 18.0), RoundedRectangle(2 * radius, 2 * radius, radius, offset, 0.0)
        far = of_shapely(pipe).exterior.hausdorff_distance(of_shapely(port).exterior)
        assert max(pipe.inside(point) for point in port.outline) == pytest.approx(far, abs=5e-3)
