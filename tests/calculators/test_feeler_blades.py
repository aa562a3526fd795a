import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import magnitude_in, quantity
from calculators.formulas.feeler_blades import nearest_stack

METRIC = (0.05, 0.10, 0.15, 0.20, 0.25, 0.30, 0.40, 0.50)


@pytest.mark.parametrize(
    ("gap", "blades"),
    [(0.15, [0.15]), (0.35, [0.30, 0.05]), (0.60, [0.50, 0.10]), (0.95, [0.50, 0.40, 0.05]), (0.02, [0.05])],
)
def test_takes_the_fewest_blades_that_come_nearest(gap, blades):
    stack = nearest_stack(gap, METRIC, 0.01)
    assert [METRIC[index] for index in stack.chosen] == blades
    assert stack.thickness == pytest.approx(sum(blades))
    assert stack.error == pytest.approx(sum(blades) - gap)


@pytest.mark.parametrize(
    ("blades", "thickness", "near"),
    [
        ((14, 17), 14, True),  # both make the gap of 15 within 2: the nearer one
        ((14, 16), 16, True),  # equally near: the wider
        ((13, 18), 13, True),
        ((12, 25), 25, False),  # none makes it: wider is safer, however far
        ((12, 18, 25), 18, False),
        ((11, 12), 23, False),
        ((12,), 12, False),  # nothing is wider
        ((5, 9), 14, True),
    ],
)
def test_makes_the_gap_else_errs_on_the_wide_side(blades, thickness, near):
    stack = nearest_stack(15, blades, 2)
    assert (stack.thickness, stack.near) == (thickness, near)


@pytest.mark.parametrize(("blade", "near"), [(0.139, False), (0.14, True), (0.16, True), (0.161, False)])
def test_the_edge_of_near_enough_is_near_enough(blade, near):
    assert nearest_stack(0.15, (blade,), 0.01).near == near


def test_one_blade_is_better_than_two_that_make_the_same():
    assert nearest_stack(30, (10, 20, 30), 1).chosen == (2,)


def test_uses_no_blade_twice_unless_the_set_holds_two():
    assert nearest_stack(0.10, (0.05,), 0.01).thickness == 0.05
    assert nearest_stack(0.10, (0.05, 0.05), 0.01).chosen == (0, 1)


def test_holds_no_more_than_three_blades_together():
    assert nearest_stack(40, (10, 10, 10, 10), 1).thickness == 30
    assert nearest_stack(40, (10, 10, 10, 10), 1, most=4).thickness == 40


def test_lengths_may_carry_units_and_mix_them():
    blades = (quantity(0.15, "mm"), quantity(4, "thou"), quantity(0.5, "mm"))
    stack = nearest_stack(quantity(10, "thou"), blades, quantity(0.01, "mm"))
    assert stack.chosen == (0, 1)
    assert stack.near
    assert magnitude_in(stack.error, "mm") == pytest.approx(0.15 + 0.1016 - 0.254)


def rank(stack):
    return 0 if stack.near else 1 if stack.error > 0 else 2, abs(stack.error)


@given(st.integers(1, 100), st.lists(st.integers(1, 100), min_size=1, max_size=8), st.integers(1, 100))
def test_one_more_blade_in_the_set_never_makes_it_worse(gap, blades, further):
    assert rank(nearest_stack(gap, (*blades, further), 3)) <= rank(nearest_stack(gap, blades, 3))
