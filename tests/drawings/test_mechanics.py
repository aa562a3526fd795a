"""What a mechanic would copy from a drawing is as it is on the bench. Common practice, no source."""

from __future__ import annotations

from collections import Counter

import pytest

from calculators.drawings import drawn
from calculators.drawings.kit import parts
from calculators.drawings.kit.plate import CLOSED
from tests.drawings.test_plates import CARDS


def shapes(drawing, name):
    """Return left, top, right and foot of each closed outline of a part, in the order they are painted."""
    found = []
    for part, piece in drawn(drawing, CARDS["marram-f4"]).painted:
        if part == name and piece.look in CLOSED:
            places = [place for stroke in piece.path.lines() for place in stroke]
            across, down = [x for x, _ in places], [y for _, y in places]
            found.append((min(across), min(down), max(across), max(down)))
    return found


@pytest.mark.parametrize("bore", [50, 80, 120])
def test_the_pin_of_a_piston_stands_clear_of_its_grooves(bore):
    *belt, boss, _ = [piece.path.lines()[0] for piece in parts.piston(bore).pieces][1:]
    assert max(x for x, _ in boss) + 1 < min(x for groove in belt for x, _ in groove)


def test_the_lobe_lifts_the_arm_off_a_contact_that_stands_still():
    shut, opened = shapes("static-lamp", "contact")[:2], shapes("static-lamp", "contact")[2:]
    (fixed, moving), (fixed_open, moving_open) = shut, opened
    assert fixed[1] == fixed_open[1]
    assert moving[3] == pytest.approx(fixed[1])
    assert moving_open[3] < fixed_open[1] - 3


def test_the_needle_s_tail_touches_the_tongue_and_its_point_is_in_the_seat():
    (tongue,), (needle,), seats = (shapes("float-level", name) for name in ("tongue", "valve", "valve seat"))
    assert tongue[1] < needle[1] <= tongue[3]
    assert all(top < needle[3] < foot for _, top, _, foot in seats)


def test_the_case_s_face_carries_the_spacer():
    cases, spacers = shapes("spacer-and-deck", "case"), shapes("spacer-and-deck", "spacer")
    for case, spacer in zip(cases, spacers, strict=True):
        carried = min(case[3], spacer[3]) - max(case[1], spacer[1])
        assert carried > 0.8 * (spacer[3] - spacer[1])


def test_the_rocker_shaft_has_the_same_parts_pulled_apart_and_together():
    names = "clip", "washer", "rocker", "spring", "post", "nut"
    above, below = (
        Counter(
            {name: sum((top > 220) is low for _, top, _, _ in shapes("rocker-shaft-order", name)) for name in names}
        )
        for low in (False, True)
    )
    assert above == below
    assert all(above.values())


def test_the_spring_of_the_rocker_shaft_reaches_from_rocker_to_post():
    springs, rockers, posts = (
        [shape for shape in shapes("rocker-shaft-order", name) if shape[1] > 220]
        for name in ("spring", "rocker", "post")
    )
    assert min(left for left, *_ in springs) == pytest.approx(rockers[0][2], abs=1)
    assert max(right for _, _, right, _ in springs) == pytest.approx(posts[0][0], abs=4)


def test_the_stand_bears_between_the_wheels():
    pieces = shapes("jack-and-stands", "stand")
    middle = (min(left for left, *_ in pieces) + max(right for _, _, right, _ in pieces)) / 2
    wheels = sorted({shape[0] + 24 for shape in shapes("jack-and-stands", "vehicle") if 38 < shape[2] - shape[0] < 50})
    assert wheels[0] + 20 < middle < wheels[-1] - 20
    engine = shapes("jack-and-stands", "engine")[0]
    assert engine[2] < min(left for left, *_ in pieces)


def test_the_dial_stands_on_the_spring_cap():
    tip = shapes("valve-room", "dial gauge")[2]
    caps = shapes("valve-room", "cap")
    across = (tip[0] + tip[2]) / 2
    assert any(left < across < right and top - 1 < tip[3] < foot for left, top, right, foot in caps)


def test_the_shaft_s_oil_hole_points_to_the_head():
    hole = shapes("rocker-pads", "oil hole")[0]
    shaft, stem = shapes("rocker-pads", "shaft")[0], shapes("rocker-pads", "stem")[-1]
    assert hole[3] > shaft[3]
    assert stem[3] > hole[3]
    rocker = shapes("rocker-pads", "rocker")[-1]
    assert hole[0] < shaft[0] - 40
    assert hole[2] > shaft[2] + 40
    assert rocker[0] < hole[0]


def test_a_pull_down_draws_the_breaker_bar_to_the_long_bar_below_it():
    breaker, long_bar = shapes("flywheel-lock", "breaker bar")[0], shapes("flywheel-lock", "long bar")[0]
    assert breaker[3] < long_bar[1]
    assert breaker[0] < shapes("flywheel-lock", "flywheel")[1][0]


def test_only_one_cylinder_s_two_rods_are_compared():
    rods = [shape for shape in shapes("pushrod-seat", "pushrod") if shape[1] > 220 and shape[2] - shape[0] > 200]
    assert len(rods) == 2
