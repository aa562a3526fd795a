"""What a finger may touch for each nut of a map."""

from __future__ import annotations

import re

import pytest

from calculators.bench.stud_map import stud_map
from calculators.torque import studs

_REACH = re.compile(r'data-nut="(\w+)".*?<path class="reach" d="M([^"]+)Z"')


def reaches(names, positions):
    drawn = stud_map(tuple(names), tuple(positions), tuple(range(len(names)))).svg
    return {name: [tuple(map(float, at.split())) for at in path.split(" L")] for name, path in _REACH.findall(drawn)}


def area(outline):
    pairs = zip(outline, (*outline[1:], outline[0]), strict=True)
    return abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2


def test_two_nuts_far_apart_have_the_whole_square():
    found = reaches("AB", [(0, 0), (200, 0)])
    assert [area(one) for one in found.values()] == pytest.approx([80 * 80] * 2, rel=1e-3)


def test_two_nuts_close_together_part_in_the_middle_and_keep_48_units_each():
    found = reaches("ABC", [(0, 0), (28, 0), (244, 0)])  # 28 units apart, as 244 mm are 244 units
    left, right = found["A"], found["B"]
    assert max(x for x, _ in left) == pytest.approx(min(x for x, _ in right))
    for outline in (left, right):
        assert max(x for x, _ in outline) - min(x for x, _ in outline) == pytest.approx(40 + 14)


@pytest.mark.parametrize("pattern", studs.PATTERNS)
def test_no_two_nuts_of_any_pattern_share_ground(pattern):
    ready = studs.ready_made(pattern)
    found = reaches(ready.names, ready.positions)
    assert len(found) == len(ready.names)
    for name, outline in found.items():
        middle = tuple(sum(part) / len(outline) for part in zip(*outline, strict=True))
        for other, there in found.items():
            assert other == name or not inside(middle, there)


def inside(point, outline):
    """Tell by its turns whether a point lies within a convex outline."""
    turns = [
        (u - x) * (point[1] - y) - (v - y) * (point[0] - x)
        for (x, y), (u, v) in zip(outline, (*outline[1:], outline[0]), strict=True)
    ]
    return all(turn > 0 for turn in turns) or all(turn < 0 for turn in turns)
