"""Order of studs: the small cases that can be seen at a glance."""

import itertools

import pytest

from calculators.formulas.tightening_order import EXACT_TO, centroid, edge_order, imbalances, tightening_order

SQUARE = ((-1, 1), (1, 1), (-1, -1), (1, -1))


def test_centroid_is_the_mean_of_the_studs():
    assert centroid(((0, 0), (6, 0), (0, 3))) == (2, 1)


def test_imbalance_after_each_stud_of_a_square():
    # by hand: one corner √2; two opposite corners 0; two neighbours 2
    assert imbalances(SQUARE, (0, 3, 1, 2)) == pytest.approx((2**0.5, 0, 2**0.5, 0))
    assert imbalances(SQUARE, (0, 1, 2, 3)) == pytest.approx((2**0.5, 2, 2**0.5, 0))


def test_a_square_is_tightened_across_its_corners():
    assert tightening_order(SQUARE) == (0, 3, 1, 2)


def test_two_studs_keep_their_order():
    assert tightening_order(((0, 0), (10, 0))) == (0, 1)


def test_three_studs_in_a_row_begin_in_the_middle():
    assert tightening_order(((0, 0), (10, 0), (20, 0)))[0] == 1


def test_among_equals_the_middle_comes_first():
    # two squares about one centre: any opposite pair first is equally square
    big = tuple((3 * x, 3 * y) for x, y in SQUARE)
    order = tightening_order(big + SQUARE)
    assert set(order[:4]) == {4, 5, 6, 7}


def test_edge_order_goes_round_without_jumping():
    order = edge_order(SQUARE)
    for here, there in itertools.pairwise(order):
        assert SQUARE[here][0] == SQUARE[there][0] or SQUARE[here][1] == SQUARE[there][1]


def test_edge_order_starts_at_the_stud_that_suits_it_best():
    pattern = ((0, 0), (10, 0), (30, 0), (30, 10), (0, 10))
    order = edge_order(pattern)
    starts = [order[start:] + order[:start] for start in range(len(order))]
    assert sum(imbalances(pattern, order)) == min(sum(imbalances(pattern, start)) for start in starts)


@pytest.mark.parametrize("count", [EXACT_TO, EXACT_TO + 1])
def test_order_is_whole_on_both_sides_of_the_exact_search(count):
    pattern = tuple((column * 30.0, row * 80.0) for row in range(2) for column in range(7))[:count]
    order = tightening_order(pattern)
    assert sorted(order) == list(range(count))
    assert sum(imbalances(pattern, order)) <= sum(imbalances(pattern, edge_order(pattern)))


def test_same_pattern_always_gets_the_same_order():
    pattern = ((0, 0), (31, 4), (77, -9), (12, 58), (64, 49))
    first = tightening_order(pattern)
    tightening_order.cache_clear()
    assert tightening_order(pattern) == first
