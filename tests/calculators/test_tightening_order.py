"""Order of studs: the small cases that can be seen at a glance."""

import itertools

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from calculators.formulas.tightening_order import EXACT_TO, centroid, edge_order, imbalances, square_order

SQUARE = ((-1, 1), (1, 1), (-1, -1), (1, -1))


def test_centroid_is_the_mean_of_the_studs():
    assert centroid(((0, 0), (6, 0), (0, 3))) == (2, 1)


def test_imbalance_after_each_stud_of_a_square():
    # by hand: one corner √2; two opposite corners 0; two neighbours 2
    assert imbalances(SQUARE, (0, 3, 1, 2)) == pytest.approx((2**0.5, 0, 2**0.5, 0))
    assert imbalances(SQUARE, (0, 1, 2, 3)) == pytest.approx((2**0.5, 2, 2**0.5, 0))


def test_a_square_is_tightened_across_its_corners():
    assert square_order(SQUARE).order == (0, 3, 1, 2)


def test_two_studs_keep_their_order():
    assert square_order(((0, 0), (10, 0))).order == (0, 1)


def test_three_studs_in_a_row_begin_in_the_middle():
    assert square_order(((0, 0), (10, 0), (20, 0))).order[0] == 1


def test_among_equals_the_middle_comes_first():
    # two squares about one centre: any opposite pair first is equally square
    big = tuple((3 * x, 3 * y) for x, y in SQUARE)
    order = square_order(big + SQUARE).order
    assert set(order[:4]) == {4, 5, 6, 7}


def test_edge_order_goes_round_without_jumping():
    order = edge_order(SQUARE)
    for here, there in itertools.pairwise(order):
        assert SQUARE[here][0] == SQUARE[there][0] or SQUARE[here][1] == SQUARE[there][1]


@given(st.lists(st.tuples(st.integers(-120, 120), st.integers(-120, 120)), min_size=3, max_size=9, unique=True))
@example([(0, 0), (10, 0), (30, 0), (30, 10), (0, 10)])
def test_edge_order_starts_at_the_stud_that_suits_it_best(points):
    pattern = tuple(points)
    order = edge_order(pattern)
    starts = [order[start:] + order[:start] for start in range(len(order))]
    assert sum(imbalances(pattern, order)) == pytest.approx(
        min(sum(imbalances(pattern, start)) for start in starts), rel=1e-9, abs=1e-9
    )


@pytest.mark.parametrize("count", [EXACT_TO, EXACT_TO + 1])
def test_order_is_whole_on_both_sides_of_the_exact_search(count):
    pattern = tuple((column * 30.0, row * 80.0) for row in range(2) for column in range(7))[:count]
    order = square_order(pattern).order
    assert sorted(order) == list(range(count))
    assert sum(imbalances(pattern, order)) <= sum(imbalances(pattern, edge_order(pattern)))


def test_same_pattern_always_gets_the_same_order():
    pattern = ((0, 0), (31, 4), (77, -9), (12, 58), (64, 49))
    first = square_order(pattern)
    square_order.cache_clear()
    assert square_order(pattern) == first


def test_says_how_square_the_order_is():
    found = square_order(SQUARE)
    assert found.imbalance == found.least == pytest.approx(2 * 2**0.5)
    assert found.proved


def test_as_many_studs_as_are_always_proved_are_proved():
    crooked = tuple((37.0 * k % 101, 61.0 * k % 89) for k in range(EXACT_TO))
    assert square_order(crooked).proved


def test_least_is_below_what_was_found_where_nothing_is_proved():
    crooked = tuple((37.0 * k % 101, 61.0 * k % 89) for k in range(20))
    found = square_order(crooked)
    assert not found.proved
    assert 0.8 * found.imbalance < found.least < found.imbalance
    assert found.imbalance == pytest.approx(sum(imbalances(crooked, found.order)))


def test_twenty_studs_in_two_rows_are_proved_by_the_bound_alone():
    rows = tuple((80.0 * column, y) for y in (40.0, -40.0) for column in range(10))
    assert square_order(rows).proved


def test_studs_in_one_place_of_the_list_or_another_give_the_same_places():
    pattern = ((0, 0), (31, 4), (77, -9), (12, 58), (64, 49))
    turned = pattern[2:] + pattern[:2]
    assert [pattern[index] for index in square_order(pattern).order] == [
        turned[index] for index in square_order(turned).order
    ]
