from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.firing import (
    begun_at,
    companion,
    even_intervals,
    firing_angles,
    misnamed,
    pulley_angle,
    unequal,
    uneven_intervals,
)


@st.composite
def engines(draw):
    """A firing order of 1 to 12 cylinders, begun at number one, and intervals that add up to 720."""
    count = draw(st.integers(1, 12))
    order = (1, *draw(st.permutations(range(2, count + 1))))
    shares = draw(st.lists(st.integers(1, 50), min_size=count, max_size=count))
    return order, tuple(720 * share / sum(shares) for share in shares)


@pytest.mark.parametrize(("count", "interval"), [(1, 720), (2, 360), (3, 240), (4, 180), (5, 144), (6, 120), (8, 90)])
def test_even_firing_parts_the_cycle_alike(count, interval):
    assert even_intervals(count) == (interval,) * count


def test_typed_intervals_are_drawn_out_to_one_cycle():
    assert uneven_intervals((405.0, 315.0), 2) == (405, 315)
    assert sum(uneven_intervals((120.1,) * 6, 6)) == pytest.approx(720)
    assert uneven_intervals((), 4) == (180,) * 4


@pytest.mark.parametrize(
    ("typed", "count", "fault"),
    [
        ((), 4, None),
        ((405, 315), 2, None),
        ((405, 315.1), 2, None),
        ((405, 315.2), 2, "must add up to 720°, not 720.2°"),
        ((700,), 1, "must add up to 720°, not 700°"),
        ((405, 315), 1, "must have 1 entry, one a cylinder, not 2, or be empty where it fires evenly"),
        ((720,), 2, "must have 2 entries, one a cylinder, not 1, or be empty where it fires evenly"),
    ],
)
def test_intervals_that_make_no_cycle_are_told(typed, count, fault):
    assert unequal(typed, count) == fault


def test_begun_at_keeps_each_interval_behind_its_own_cylinder():
    assert begun_at(1, (3, 4, 2, 1), (150, 210, 170, 190)) == ((1, 3, 4, 2), (190, 150, 210, 170))


def test_each_cylinder_fires_after_the_intervals_before_it():
    assert firing_angles((1, 3, 4, 2), (150, 210, 170, 190)) == {1: 0, 3: 150, 4: 360, 2: 530}
    assert firing_angles((1,), (720.0,)) == {1: 0}


@given(engines())
def test_firing_angles_rise_within_one_cycle(engine):
    angles = list(firing_angles(*engine).values())
    assert angles[0] == 0
    assert all(later > earlier for earlier, later in pairwise(angles))
    assert angles[-1] < 720


@given(engines())
def test_a_companion_is_named_just_where_one_stands_a_turn_away(engine):
    fires = firing_angles(*engine)
    for cylinder, crank in fires.items():
        away = {other for other, angle in fires.items() if abs((angle - crank) % 720 - 360) < 0.5}
        found = companion(cylinder, fires)
        assert found in away if away else found is None


@pytest.mark.parametrize(("gap", "other"), [(359.4, None), (359.6, 2), (360.4, 2), (360.6, None)])
def test_two_marks_are_one_within_half_a_degree(gap, other):
    assert companion(1, firing_angles((1, 2), (gap, 720 - gap))) == other


@pytest.mark.parametrize(
    ("crank", "mark"),
    [(0, 0), (90, 90), (359, 359), (359.6, 0), (360, 0), (360.4, 0), (361, 1), (540, 180), (630, 270)],
)
def test_the_pulley_turns_twice_in_a_cycle(crank, mark):
    assert pulley_angle(crank) == mark


@pytest.mark.parametrize(
    ("named", "count", "said"),
    [
        ((1, 4, 3, 2), 4, None),
        ((1,), 1, None),
        ((1, 4, 2, 2), 4, "must name each cylinder from 1 to 4 once; 3 is missing and 2 comes twice"),
        ((1, 2), 4, "must name each cylinder from 1 to 4 once; 3 and 4 are missing"),
        ((1, 1, 2, 2), 2, "must name each cylinder from 1 to 2 once; 1 and 2 come twice"),
        (
            (1, 5, 6),
            4,
            "must name each cylinder from 1 to 4 once; 2, 3 and 4 are missing and 5 and 6 are not among them",
        ),
        ((1, 2, 3), 2, "must name each cylinder from 1 to 2 once; 3 is not one of them"),
        ((2,), 1, "must name cylinder 1 once; 1 is missing and 2 is not one of them"),
    ],
)
def test_a_list_of_cylinders_is_told_what_is_wrong_with_it(named, count, said):
    assert misnamed(named, count) == said


@pytest.mark.parametrize("count", [2, 4])
def test_every_cylinder_has_its_own_interval(count):
    with pytest.raises(ValueError, match="zip"):
        firing_angles((1, 3, 2), (240.0,) * count)
