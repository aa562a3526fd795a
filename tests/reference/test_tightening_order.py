"""The tightening order against a search of every order there is."""

import itertools
import math
import time
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from calculators import read_card
from calculators._catalogue import calculator
from calculators.formulas.tightening_order import EXACT_TO, edge_order, imbalances, tightening_order

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
MARRAM_STUDS = ((-106, 47), (-14, 47), (14, 47), (106, 47), (-106, -43), (-14, -43), (14, -43), (106, -43))
HEXAGON = tuple((100 * math.cos(math.pi * k / 3), 100 * math.sin(math.pi * k / 3)) for k in range(6))
CROOKED = ((0, 0), (31, 4), (77, -9), (12, 58), (64, 49), (90, 71), (-20, 33))


def two_rows(columns):
    return tuple((80 * (column - (columns - 1) / 2), y) for y in (40, -40) for column in range(columns))


def ring(count):
    return tuple(
        (100 * math.cos(2 * math.pi * k / count), 100 * math.sin(2 * math.pi * k / count)) for k in range(count)
    )


@cache
def every_order(count):
    return np.array(list(itertools.permutations(range(count))))


def totals(positions, orders):
    """Sum, over the steps, of the length of the sum of the arms so far: plain array arithmetic."""
    arms = np.array(positions, dtype=float)
    arms -= arms.mean(axis=0)
    return np.linalg.norm(np.cumsum(arms[orders], axis=1), axis=2).sum(axis=1)


def total(positions, order):
    return totals(positions, np.array([order]))[0]


def least(positions):
    return totals(positions, every_order(len(positions))).min()


def grain(positions):
    """What rounding to a millionth of the reach may cost over all steps."""
    spread = np.array(positions, dtype=float)
    return 1e-6 * (len(positions) + 1) * np.linalg.norm(spread - spread.mean(axis=0), axis=1).max() + 1e-9


places = st.tuples(st.integers(-150, 150), st.integers(-150, 150))
patterns = st.lists(places, min_size=2, max_size=6, unique=True).map(tuple)


@pytest.mark.parametrize(
    "positions", [two_rows(2), two_rows(3), two_rows(4), MARRAM_STUDS, HEXAGON, ring(5), ring(7), CROOKED]
)
def test_no_order_at_all_is_squarer(positions):
    order = tightening_order(positions)
    assert sorted(order) == list(range(len(positions)))
    assert total(positions, order) == pytest.approx(least(positions), abs=grain(positions))


@given(patterns)
@settings(max_examples=60, deadline=None)
def test_no_order_is_squarer_on_any_pattern(positions):
    assert total(positions, tightening_order(positions)) <= least(positions) + grain(positions)


@pytest.mark.parametrize(("pattern", "columns"), [("4", 2), ("6", 3), ("8", 4)])
def test_calculator_gives_an_order_as_square_as_the_best(pattern, columns):
    report = calculator("torque-stages").answer({"target": "30 N·m", "pattern": pattern})
    names = next(value.quantity for value in report.values if value.key == "order").split(" – ")
    order = ["ABCDEFGH".index(name) for name in names]
    assert total(two_rows(columns), order) == pytest.approx(least(two_rows(columns)), abs=grain(two_rows(columns)))


def test_calculator_gives_the_demonstration_head_an_order_as_square_as_the_best():
    report = calculator("torque-stages").answer({}, MARRAM)
    names = next(value.quantity for value in report.values if value.key == "order").split(" – ")
    order = ["ABCDEFGH".index(name) for name in names]
    assert total(MARRAM_STUDS, order) == pytest.approx(least(MARRAM_STUDS), abs=grain(MARRAM_STUDS))
    # common practice, no source: begin at the middle, cross over, work outwards
    assert set(names[:4]) == set("BCFG")


@pytest.mark.parametrize("columns", [2, 4, 6])
def test_even_rows_are_in_balance_after_every_pair(columns):
    # statics: two studs straight across the centroid balance each other
    steps = imbalances(two_rows(columns), tightening_order(two_rows(columns)))
    assert steps[1::2] == pytest.approx([0] * columns, abs=1e-9)


@given(patterns, st.data())
@settings(max_examples=40, deadline=None)
def test_names_of_studs_do_not_matter(positions, data):
    renamed = tuple(data.draw(st.permutations(positions)))
    assert total(renamed, tightening_order(renamed)) == pytest.approx(
        total(positions, tightening_order(positions)), abs=grain(positions)
    )


@given(patterns, st.floats(0, 2 * math.pi), st.floats(0.01, 100), st.booleans(), places)
@settings(max_examples=40, deadline=None)
def test_turning_scaling_mirroring_and_moving_the_head_do_not_matter(positions, turn, scale, mirror, shift):
    cos, sin = scale * math.cos(turn), scale * math.sin(turn)
    flip = -1 if mirror else 1
    moved = tuple((cos * x - sin * flip * y + shift[0], sin * x + cos * flip * y + shift[1]) for x, y in positions)
    assert total(moved, tightening_order(moved)) / scale == pytest.approx(
        total(positions, tightening_order(positions)), abs=2 * grain(positions)
    )


@given(st.lists(places, min_size=2, max_size=9, unique=True).map(tuple))
@settings(max_examples=40, deadline=None)
def test_never_worse_than_going_round_the_edge(positions):
    assert total(positions, tightening_order(positions)) <= total(positions, edge_order(positions)) + grain(positions)


@given(st.integers(13, 20), st.randoms(use_true_random=False))
@settings(max_examples=6, deadline=None)
def test_large_patterns_get_a_whole_order_no_worse_than_the_edge(count, random):
    positions = tuple({(random.randint(-150, 150), random.randint(-150, 150)) for _ in range(count)})
    assume(len(positions) > EXACT_TO)
    order = tightening_order(positions)
    assert sorted(order) == list(range(len(positions)))
    assert total(positions, order) <= total(positions, edge_order(positions)) + grain(positions)


def shortest_path_total(positions):
    """The least total by scipy's Dijkstra through all sets of studs, one stud more at each edge."""
    arms = np.array(positions, dtype=float)
    arms -= arms.mean(axis=0)
    count = len(arms)
    sets = np.arange(1 << count)
    holds = (sets[:, None] >> np.arange(count)) & 1
    lopsided = np.linalg.norm(holds @ arms, axis=1)
    here, stud = np.nonzero(holds == 0)
    there = here | (1 << stud)
    # an edge of weight nought is no edge to scipy; one more on each of the count edges changes no choice
    edges = csr_array((lopsided[there] + 1, (here, there)), shape=(len(sets), len(sets)))
    return dijkstra(edges, indices=0)[-1] - count


@pytest.mark.parametrize(
    "positions", [two_rows(5), two_rows(6), ring(11), tuple((37 * k % 101, 61 * k % 89) for k in range(EXACT_TO))]
)
def test_order_is_the_shortest_path_as_far_as_the_search_is_exact(positions):
    # scipy.sparse.csgraph.dijkstra
    found = total(positions, tightening_order(positions))
    assert found == pytest.approx(shortest_path_total(positions), abs=grain(positions))


@pytest.mark.parametrize(
    "positions",
    [two_rows(7), ring(13), ring(14)] + [tuple((37 * k % 101, 61 * k % 89) for k in range(n)) for n in (13, 14)],
)
def test_bounded_search_stays_within_a_twentieth_of_the_shortest_path(positions):
    # scipy.sparse.csgraph.dijkstra; the margin is what the calculator's wording, not proved the best, leaves open
    least_total = shortest_path_total(positions)
    assert least_total - grain(positions) <= total(positions, tightening_order(positions)) <= 1.05 * least_total


@pytest.mark.parametrize("count", [EXACT_TO, 20])
def test_largest_patterns_are_answered_in_bounded_time(count):
    positions = tuple((37 * k % 101 - 50.0, 61 * k % 89 - 44.0) for k in range(count))
    started = time.perf_counter()
    assert sorted(tightening_order(positions)) == list(range(count))
    assert time.perf_counter() - started < 2


@given(patterns, st.randoms(use_true_random=False))
@settings(max_examples=40, deadline=None)
def test_imbalance_is_the_length_of_the_summed_arms(positions, random):
    order = random.sample(range(len(positions)), len(positions))
    assert math.fsum(imbalances(positions, order)) == pytest.approx(total(positions, order), abs=1e-6)
