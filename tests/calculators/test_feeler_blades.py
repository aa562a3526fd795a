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
    stack = nearest_stack(gap, METRIC)
    assert [METRIC[index] for index in stack.chosen] == blades
    assert stack.thickness == pytest.approx(sum(blades))
    assert stack.error == pytest.approx(sum(blades) - gap)


def test_of_two_equally_near_takes_the_wider():
    assert nearest_stack(0.125, METRIC).thickness == pytest.approx(0.15)


def test_one_blade_is_better_than_two_that_make_the_same():
    assert nearest_stack(30, (10, 20, 30)).chosen == (2,)


def test_uses_no_blade_twice_unless_the_set_holds_two():
    assert nearest_stack(0.10, (0.05,)).thickness == 0.05
    assert nearest_stack(0.10, (0.05, 0.05)).chosen == (0, 1)


def test_holds_no_more_than_three_blades_together():
    assert nearest_stack(40, (10, 10, 10, 10)).thickness == 30
    assert nearest_stack(40, (10, 10, 10, 10), most=4).thickness == 40


def test_lengths_may_carry_units_and_mix_them():
    stack = nearest_stack(quantity(10, "thou"), (quantity(0.15, "mm"), quantity(4, "thou"), quantity(0.5, "mm")))
    assert stack.chosen == (0, 1)
    assert magnitude_in(stack.error, "mm") == pytest.approx(0.15 + 0.1016 - 0.254)


@given(st.integers(1, 100), st.lists(st.integers(1, 100), min_size=1, max_size=8), st.integers(1, 100))
def test_one_more_blade_in_the_set_never_makes_it_worse(gap, blades, further):
    assert abs(nearest_stack(gap, (*blades, further)).error) <= abs(nearest_stack(gap, blades).error)
