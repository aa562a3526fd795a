import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import quantity
from calculators.formulas.firing import (
    begun_at,
    even_intervals,
    misnamed,
    on_overlap,
    pulley_angle,
    rotor_angle,
    stops,
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


def test_begun_at_keeps_each_interval_behind_its_own_cylinder():
    assert begun_at(1, (3, 4, 2, 1), (150, 210, 170, 190)) == ((1, 3, 4, 2), (190, 150, 210, 170))


def test_forwards_each_turn_is_the_interval_before_the_cylinder():
    plan = stops((1, 3, 4, 2), (150, 210, 170, 190))
    assert [stop.cylinder for stop in plan] == [1, 3, 4, 2]
    assert [stop.turn for stop in plan] == [0, 150, 210, 170]
    assert [stop.crank for stop in plan] == [stop.turned for stop in plan] == [0, 150, 360, 530]


def test_backwards_the_order_is_reversed_and_each_turn_is_the_interval_after_the_cylinder():
    plan = stops((1, 3, 4, 2), (150, 210, 170, 190), backwards=True)
    assert [stop.cylinder for stop in plan] == [1, 2, 4, 3]
    assert [stop.turn for stop in plan] == [0, 190, 170, 210]
    assert [stop.turned for stop in plan] == [0, 190, 360, 570]
    assert [stop.crank for stop in plan] == [0, 530, 360, 150]


def test_a_single_has_one_stop_and_no_turn():
    (only,) = stops((1,), (720.0,), backwards=True)
    assert (only.cylinder, only.turn, only.turned, only.crank) == (1, 0, 0, 0)


@given(engines(), st.booleans())
def test_every_cylinder_is_met_once_within_one_cycle(engine, backwards):
    plan = stops(*engine, backwards)
    assert sorted(stop.cylinder for stop in plan) == list(range(1, len(plan) + 1))
    assert all(later.turned > earlier.turned for earlier, later in pairwise(plan))
    assert plan[-1].turned < 720
    assert math.isclose(sum(stop.turn for stop in plan), plan[-1].turned, abs_tol=1e-9)


@given(engines())
def test_turning_backwards_holds_the_crank_at_the_same_places(engine):
    ahead = {stop.cylinder: stop.crank for stop in stops(*engine)}
    behind = {stop.cylinder: stop.crank for stop in stops(*engine, backwards=True)}
    assert ahead == behind
    for stop in stops(*engine, backwards=True)[1:]:
        assert math.isclose(stop.turned + stop.crank, 720, abs_tol=1e-9)


@given(engines())
def test_a_companion_is_named_just_where_one_stands_a_turn_away(engine):
    plan = stops(*engine)
    for stop in plan:
        away = {other.cylinder for other in plan if abs((other.crank - stop.crank) % 720 - 360) < 0.5}
        found = on_overlap(stop.cylinder, plan)
        assert found in away if away else found is None


@pytest.mark.parametrize(("gap", "companion"), [(359.4, None), (359.6, 2), (360.4, 2), (360.6, None)])
def test_two_marks_are_one_within_half_a_degree(gap, companion):
    assert on_overlap(1, stops((1, 2), (gap, 720 - gap))) == companion


@pytest.mark.parametrize(
    ("crank", "mark"),
    [(0, 0), (90, 90), (359, 359), (359.6, 0), (360, 0), (360.4, 0), (361, 1), (540, 180), (630, 270)],
)
def test_the_pulley_turns_twice_in_a_cycle(crank, mark):
    assert pulley_angle(crank) == mark


def test_angles_may_carry_a_unit():
    plan = stops((1, 2), (quantity(315, "°"), quantity(405, "°")))
    assert rotor_angle(plan[1].crank) == quantity(157.5, "°")
    assert pulley_angle(plan[1].crank, quantity(720, "°")) == quantity(315, "°")


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
