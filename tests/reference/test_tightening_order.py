"""The tightening order against a search of every order there is."""

import itertools
import math
import time
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from calculators.bench.asking import answered
from calculators.bench.desk import Desk
from calculators.formulas.tightening_order import EXACT_TO, edge_order, imbalances, square_order
from tests.cards import MARRAM
from tests.processor import is_within

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
    """What may be given away, a millionth of the reach a stud and step, for the order that works outward."""
    spread = np.array(positions, dtype=float)
    return (
        1e-7 * len(positions) * (2 + len(positions)) * np.linalg.norm(spread - spread.mean(axis=0), axis=1).max() + 1e-9
    )


places = st.tuples(st.integers(-150, 150), st.integers(-150, 150))
patterns = st.lists(places, min_size=2, max_size=6, unique=True).map(tuple)


@pytest.mark.parametrize(
    "positions", [two_rows(2), two_rows(3), two_rows(4), MARRAM_STUDS, HEXAGON, ring(5), ring(7), CROOKED]
)
def test_no_order_at_all_is_squarer(positions):
    order = square_order(positions).order
    assert sorted(order) == list(range(len(positions)))
    assert total(positions, order) == pytest.approx(least(positions), abs=grain(positions))


@given(patterns)
@settings(max_examples=60, deadline=None)
def test_no_order_is_squarer_on_any_pattern(positions):
    found = square_order(positions)
    assert found.proved
    assert total(positions, found.order) == pytest.approx(least(positions), abs=grain(positions))
    assert found.imbalance == pytest.approx(total(positions, found.order), abs=1e-6)


@pytest.mark.parametrize(("pattern", "columns"), [("4", 2), ("6", 3), ("8", 4)])
def test_the_question_gives_an_order_as_square_as_the_best(pattern, columns):
    found = answered("torque.wrench", target="30 N·m", pattern=pattern)
    names = found.value("order").quantity.split(" – ")
    order = ["ABCDEFGH".index(name) for name in names]
    assert total(two_rows(columns), order) == pytest.approx(least(two_rows(columns)), abs=grain(two_rows(columns)))


def test_the_question_gives_the_demonstration_head_an_order_as_square_as_the_best():
    found = Desk({}, MARRAM, example=True).ask("torque.wrench").answer
    names = found.value("order").quantity.split(" – ")
    order = ["ABCDEFGH".index(name) for name in names]
    assert total(MARRAM_STUDS, order) == pytest.approx(least(MARRAM_STUDS), abs=grain(MARRAM_STUDS))
    # common practice, no source: begin at the middle, cross over, work outwards
    assert set(names[:4]) == set("BCFG")


@pytest.mark.parametrize("columns", [2, 4, 6])
def test_even_rows_are_in_balance_after_every_pair(columns):
    # statics: two studs straight across the centroid balance each other
    steps = imbalances(two_rows(columns), square_order(two_rows(columns)).order)
    assert steps[1::2] == pytest.approx([0] * columns, abs=1e-9)


@given(patterns, st.data())
@settings(max_examples=40, deadline=None)
def test_names_of_studs_do_not_matter(positions, data):
    renamed = tuple(data.draw(st.permutations(positions)))
    assert total(renamed, square_order(renamed).order) == pytest.approx(
        total(positions, square_order(positions).order), abs=grain(positions)
    )


@given(patterns, st.floats(0, 2 * math.pi), st.floats(0.01, 100), st.booleans(), places)
@settings(max_examples=40, deadline=None)
def test_turning_scaling_mirroring_and_moving_the_head_do_not_matter(positions, turn, scale, mirror, shift):
    cos, sin = scale * math.cos(turn), scale * math.sin(turn)
    flip = -1 if mirror else 1
    moved = tuple((cos * x - sin * flip * y + shift[0], sin * x + cos * flip * y + shift[1]) for x, y in positions)
    assert total(moved, square_order(moved).order) / scale == pytest.approx(
        total(positions, square_order(positions).order), abs=2 * grain(positions)
    )


@given(st.lists(places, min_size=2, max_size=9, unique=True).map(tuple))
@settings(max_examples=40, deadline=None)
def test_never_worse_than_going_round_the_edge(positions):
    assert total(positions, square_order(positions).order) <= total(positions, edge_order(positions)) + grain(positions)


scattered = st.integers(13, 20).flatmap(
    lambda count: st.lists(places, min_size=count, max_size=count, unique=True).map(tuple)
)


@given(scattered)
@settings(max_examples=15, deadline=None)
def test_large_patterns_get_a_whole_order_no_worse_than_the_edge(positions):
    found = square_order(positions)
    assert sorted(found.order) == list(range(len(positions)))
    assert total(positions, found.order) <= total(positions, edge_order(positions)) + grain(positions)
    assert found.least <= found.imbalance


@given(scattered, st.data())
@settings(max_examples=10, deadline=None)
def test_names_of_studs_do_not_matter_to_the_bounded_search(positions, data):
    renamed = tuple(data.draw(st.permutations(positions)))
    assert total(renamed, square_order(renamed).order) == pytest.approx(
        total(positions, square_order(positions).order), abs=grain(positions)
    )


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
    found = total(positions, square_order(positions).order)
    assert found == pytest.approx(shortest_path_total(positions), abs=grain(positions))


def scatter(count, seed):
    """Places thrown at random, the same at every run."""
    chosen = np.random.default_rng(seed).integers(-150, 151, size=(count, 2))
    return tuple((float(x), float(y)) for x, y in chosen)


@pytest.mark.parametrize("positions", [scatter(12, seed) for seed in range(4)] + [scatter(11, 7)])
def test_an_order_called_proved_is_the_shortest_path(positions):
    # scipy.sparse.csgraph.dijkstra
    found = square_order(positions)
    least_total = shortest_path_total(positions)
    if found.proved:
        assert total(positions, found.order) == pytest.approx(least_total, abs=grain(positions))
    else:
        assert len(positions) > EXACT_TO
        assert found.least <= least_total + grain(positions)


@pytest.mark.parametrize(
    "positions", [two_rows(7), ring(13), ring(14), *(scatter(n, seed) for n in (13, 14) for seed in range(3))]
)
def test_bounded_search_stays_within_a_fiftieth_of_the_shortest_path(positions):
    # scipy.sparse.csgraph.dijkstra; the margin is what the calculator's wording, not proved the best, leaves open
    found = square_order(positions)
    least_total = shortest_path_total(positions)
    assert least_total - grain(positions) <= total(positions, found.order) <= 1.02 * least_total
    assert found.least <= least_total + grain(positions)


@pytest.mark.parametrize(("count", "seconds"), [(12, 0.02), (20, 0.1)])
def test_a_pattern_never_seen_before_is_answered_between_two_keystrokes(count, seconds):
    # as in the browser: a typed place changes with each key, so that nothing is remembered
    taken = []
    for seed in range(5):
        positions = scatter(count, 100 + seed)
        started = time.process_time()
        assert sorted(square_order(positions).order) == list(range(count))
        taken.append(time.process_time() - started)
    assert is_within(min(taken), seconds)


@given(patterns, st.randoms(use_true_random=False))
@settings(max_examples=40, deadline=None)
def test_imbalance_is_the_length_of_the_summed_arms(positions, random):
    order = random.sample(range(len(positions)), len(positions))
    assert math.fsum(imbalances(positions, order)) == pytest.approx(total(positions, order), abs=1e-6)
