"""Pushrods, tubes and rockers against libraries that place points in a plane."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize
from scipy.spatial.transform import Rotation
from shapely import Point, affinity

from calculators.formulas.pushrod_geometry import flange_offset, off_square, span_after, swing


@given(st.floats(50, 600), st.floats(0, 45), st.floats(-10, 30))
def test_span_is_the_distance_of_two_points(span, slope, shift):
    """shapely: the head's point is put at the slope, moved along the axis, and measured from the case's."""
    seat = affinity.rotate(Point(span, 0), slope, origin=(0, 0))
    assert span_after(span, slope, shift) == pytest.approx(Point(0, 0).distance(affinity.translate(seat, shift, 0)))


@settings(deadline=None)
@given(st.floats(10, 60), st.floats(-10, 10), st.floats(-4, 4))
def test_off_square_is_where_the_end_has_moved_by_its_reach(arm, before, reach):
    """scipy.optimize.brentq on where the arm's end stands, square to its own middle position."""
    start = arm * math.sin(math.radians(before))
    angle = optimize.brentq(lambda turned: arm * math.sin(turned) - start - reach, -math.pi / 2, math.pi / 2)
    assert off_square(before, reach, arm) == pytest.approx(math.degrees(angle), abs=1e-6)


@given(st.floats(5, 100), st.floats(0, 1.9))
def test_swing_spans_the_lift_as_a_chord(arm, part):
    """scipy Rotation turns the arm by the swing; shapely measures the chord: the lift."""
    turned = swing(part * arm, arm)
    end = Rotation.from_euler("z", turned, degrees=True).apply([arm, 0, 0])
    assert Point(arm, 0).distance(Point(*end[:2])) == pytest.approx(part * arm, abs=1e-6)


@given(st.floats(-10, 30), st.floats(0, 180))
def test_flange_offset_is_the_shift_seen_from_the_flange(shift, facing):
    """scipy Rotation: the shift along the axis, turned into the flange's own axes (normal, face)."""
    normal, face, _ = Rotation.from_euler("z", facing, degrees=True).apply([shift, 0, 0])
    along, opens = flange_offset(shift, facing)
    assert (opens, along) == pytest.approx((-normal, face), abs=1e-9)
