"""The search for the best spacers, case by case; against brute force it stands in tests/reference."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas import spacer_choice
from calculators.formulas.spacer_choice import (
    Question,
    TooManyChoices,
    best_choice,
    candidates,
    least_step,
    stacks_of,
    windows,
)


def asked(sizes, stock, heads, wanted, *, most=2, lengths=None, level=0.05, least=0.0):
    """Ask for stacks as near as may be to the heights wanted, none below ``least``."""
    stacks = stacks_of(tuple(sizes), most)
    return Question(
        heads=heads,
        stacks=stacks,
        stock=tuple(stock),
        deviations=tuple(tuple(abs(stack.height - height) for stack in stacks) for height in wanted),
        allowed=tuple(tuple(stack.height >= least - 1e-9 for stack in stacks) for _ in wanted),
        lengths=tuple(lengths or [0.0] * len(wanted)),
        level=level,
    )


def heights(question, choice):
    return [pytest.approx(question.stacks[stack].height) for stack in choice]


def pieces(question, choice):
    return [question.stacks[stack].pieces for stack in choice]


def test_an_empty_drawer_has_one_stack_and_it_is_none():
    assert [stack.pieces for stack in stacks_of((), 3)] == [()]


@given(st.lists(st.integers(1, 900), unique=True, max_size=5), st.integers(1, 3))
def test_stacks_are_all_the_multisets_in_order_of_height(sizes, most):
    stacks = stacks_of(tuple(size / 100 for size in sizes), most)
    kinds = len(sizes)
    count = 1
    for step in range(most):  # C(kinds + most, most)
        count = count * (kinds + 1 + step) // (step + 1)
    assert len({tuple(sorted(stack.pieces)) for stack in stacks}) == len(stacks) == count
    assert [stack.grains for stack in stacks] == sorted(stack.grains for stack in stacks)


def test_takes_the_nearest_stack():
    question = asked((0.25, 1.0), (9, 9), ((0, 1),), (1.2, 1.2))
    assert heights(question, best_choice(question)) == [1.25, 1.25]


def test_of_equal_heights_takes_the_fewest_pieces():
    question = asked((0.5, 1.0), (9, 9), ((0,),), (1.0,))
    assert pieces(question, best_choice(question)) == [(1,)]


def test_of_equal_heights_and_pieces_takes_the_thickest_piece():
    question = asked((0.25, 0.5, 0.75, 1.0), (9, 9, 9, 9), ((0,),), (1.25,))
    assert pieces(question, best_choice(question)) == [(3, 0)]


def test_worst_barrel_counts_before_the_sum():
    # one height for three: 0.5 is 0.5 off once, 1.0 is 0.4 off twice; 0.5 would have the least sum
    question = asked((0.5, 0.9), (9, 9), ((0, 1, 2),), (0.5, 0.5, 1.3), most=1)
    assert heights(question, best_choice(question)) == [0.9, 0.9, 0.9]


def test_sum_counts_where_the_worst_is_equal():
    # the second head is 1.0 off whatever happens; the first must still be served as well as it can be
    question = asked((0.5,), (9,), ((0,), (1,)), (0.5, 2.0), most=2)
    assert heights(question, best_choice(question)) == [0.5, 1.0]


def test_never_takes_more_pieces_than_the_drawer_has():
    question = asked((0.5, 1.0), (9, 1), ((0, 1),), (1.0, 1.0))
    assert sorted(pieces(question, best_choice(question))) == [(0, 0), (1,)]


def test_a_scarce_piece_goes_where_it_spares_the_most():
    question = asked((0.6, 1.0), (9, 1), ((0,), (1,)), (0.8, 1.0), most=1)
    assert heights(question, best_choice(question)) == [0.6, 1.0]


def test_unlike_barrels_are_brought_level():
    question = asked((0.25, 0.5), (9, 9), ((0, 1),), (0.5, 0.5), lengths=(104.0, 104.25))
    assert heights(question, best_choice(question)) in ([0.5, 0.25], [0.75, 0.5])


def test_the_level_tolerance_is_met_at_its_edge_and_not_beyond():
    sizes, stock, heads, wanted = (0.25, 0.3), (9, 9), ((0, 1),), (0.25, 0.3)
    at_the_edge = asked(sizes, stock, heads, wanted, most=1, level=0.05)
    assert heights(at_the_edge, best_choice(at_the_edge)) == [0.25, 0.3]
    below = asked(sizes, stock, heads, wanted, most=1, level=0.0499)
    assert len(set(best_choice(below))) == 1


def test_barrels_under_different_heads_need_not_be_level():
    question = asked((0.25,), (9,), ((0,), (1,)), (0.0, 0.5))
    assert heights(question, best_choice(question)) == [0.0, 0.5]


def test_heads_may_name_their_cylinders_in_any_order():
    question = asked((0.25, 1.0), (9, 9), ((2, 0), (1,)), (0.25, 1.0, 0.25), most=1)
    assert heights(question, best_choice(question)) == [0.25, 1.0, 0.25]


def test_no_choice_where_the_drawer_is_too_small():
    question = asked((0.5,), (1,), ((0, 1),), (0.5, 0.5), least=0.5)
    assert best_choice(question) is None


def test_names_each_size_that_the_drawer_is_short_of():
    question = asked((0.25, 0.5, 1.0), (1, 3, 0), ((0, 1),), (0.5, 1.0))
    by_pieces = {stack.pieces: index for index, stack in enumerate(question.stacks)}
    assert question.shortages([by_pieces[1, 0], by_pieces[2, 0]]) == [(0, 2), (2, 1)]
    assert question.shortages([by_pieces[1, 0], by_pieces[1, 1]]) == []


def test_tells_how_far_apart_the_tops_stand():
    question = asked((0.25, 0.5), (9, 9), ((1, 2),), (0.0, 0.0, 0.0), most=1, lengths=(90.0, 104.0, 104.1))
    assert question.step((1, 2), (0, 0)) == pytest.approx(0.1)
    assert question.step((1, 2), (1, 0)) == pytest.approx(0.15)
    assert question.step((2,), (2,)) == 0


def test_no_choice_where_no_stack_brings_the_tops_level():
    question = asked((0.25,), (9,), ((0, 1),), (0.0, 0.0), lengths=(104.0, 104.1))
    assert best_choice(question) is None
    assert not any(windows(question, question.costs(), (0, 1)))
    assert least_step(question, (0, 1)) == pytest.approx(0.1)


def test_refuses_rather_than_hang():
    sizes = (0.101, 0.213, 0.333, 0.457, 0.571, 0.689, 0.797, 0.911)
    wanted = [1.0 + cylinder / 37 for cylinder in range(12)]
    question = asked(sizes, (2,) * 8, (tuple(range(6)), tuple(range(6, 12))), wanted, most=3, level=0.3, least=0.55)
    with pytest.raises(TooManyChoices):
        best_choice(question)


def test_work_is_bounded(monkeypatch):
    question = asked((0.25, 0.5), (9, 1), ((0, 1),), (0.5, 0.5))
    assert best_choice(question)
    monkeypatch.setattr(spacer_choice, "WORK", 1)
    with pytest.raises(TooManyChoices):
        best_choice(question)


def test_what_an_unlimited_drawer_would_give_is_told_without_a_search(monkeypatch):
    scarce = asked((0.25, 0.5, 1.0), (1, 1, 0), ((0, 1), (2, 3)), (1.0, 1.1, 0.4, 0.6))
    full = asked((0.25, 0.5, 1.0), (9, 9, 9), ((0, 1), (2, 3)), (1.0, 1.1, 0.4, 0.6))
    assert scarce.unstinted == full.unstinted == best_choice(full)
    monkeypatch.setattr(spacer_choice, "WORK", 0)
    assert heights(full, best_choice(full)) == [1.0, 1.0, 0.5, 0.5]


@given(
    st.lists(st.integers(1, 40), min_size=1, max_size=4, unique=True),
    st.lists(st.tuples(st.integers(0, 80), st.sampled_from((0, 0, 5))), min_size=1, max_size=4),
    st.sampled_from((0, 0.05, 0.3)),
)
def test_the_searches_find_what_is_told_without_them_where_the_drawer_is_full(sizes, barrels, level):
    question = asked(
        [size / 20 for size in sizes],
        (99,) * len(sizes),
        (tuple(range(len(barrels))),),
        [height / 20 for height, _ in barrels],
        lengths=[100 + more / 100 for _, more in barrels],
        level=level,
    )
    unstinted = question.unstinted
    costs = question.costs()
    found, _ = spacer_choice._search(question, costs, max, 10**6, depth_first=True)
    assert (found is None) == (unstinted is None)
    if unstinted is not None:
        worst = max(costs[cylinder][stack] for cylinder, stack in enumerate(found))
        sums = spacer_choice._with_parts(question, costs, worst)
        assert spacer_choice._search(question, sums, int.__add__, 10**6, depth_first=False)[0] == unstinted


def test_candidates_of_like_barrels_are_each_stack_under_all_of_them():
    question = asked((0.25, 0.5), (9, 9), ((0, 1),), (0.5, 0.5))
    found, count = candidates(question, (0, 1), None, 40)
    assert count == len(found) == len(question.stacks)
    assert all(one == other for one, other in found)
    assert found[0] == best_choice(question)


def test_candidates_of_unlike_barrels_are_every_combination_of_heights_best_first():
    question = asked((0.25, 0.5), (9, 9), ((0, 1),), (0.5, 0.25), lengths=(104.0, 104.25))
    found, count = candidates(question, (0, 1), None, 40)
    distinct = len({stack.grains for stack in question.stacks})
    assert count == len(found) == len(set(found)) == distinct**2
    weights = [question.weighed((0, 1), stacks) for stacks in found]
    assert weights == sorted(weights)


def test_candidates_are_ranked_by_their_worst_barrel_before_the_sum():
    question = asked((0.5, 0.9), (9, 9), ((0, 1, 2),), (0.5, 0.5, 1.3), most=1)
    found, _ = candidates(question, (0, 1, 2), None, 40)
    assert [question.stacks[stacks[0]].height for stacks in found] == [0.9, 0.5, 0.0]


def test_the_chosen_stays_among_the_candidates_however_few_are_shown():
    question = asked((0.25, 0.5), (9, 9), ((0, 1),), (0.5, 0.5))
    last = (len(question.stacks) - 1,) * 2
    found, count = candidates(question, (0, 1), last, 3)
    assert len(found) == 3
    assert last in found
    assert count == len(question.stacks)


def test_a_mixed_choice_counts_as_one_candidate_more():
    question = asked((0.5, 1.0), (9, 1), ((0, 1),), (1.0, 1.0))
    chosen = best_choice(question)
    found, count = candidates(question, (0, 1), chosen, 40)
    assert chosen in found
    assert count == len(found) == len(question.stacks) + 1
