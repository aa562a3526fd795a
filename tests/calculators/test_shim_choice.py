"""Piles of shims, and those that even the springs."""

from calculators.formulas.shim_choice import even_shims, shim_stacks


def test_piles_equally_thick_are_one_and_it_has_the_fewest_shims():
    assert shim_stacks((0.5, 1.0)) == ((), (0.5,), (1.0,), (0.5, 1.0), (1.0, 1.0))


def test_a_pile_never_takes_a_spring_below_the_least_height():
    (pile,) = even_shims((39.0,), shim_stacks((0.5, 1.0)), 38.0, 0.2, 38.3)
    assert 39.0 - sum(pile) >= 38.3
    assert even_shims((38.0,), shim_stacks((0.5,)), 37.5, 0.2, 38.2) == ((),)


def test_a_spring_may_stand_at_just_the_least_height():
    # by hand: 39.0 with 1.0 beneath stands as high as 38.0 with none, and as high as is just allowed
    assert even_shims((39.0, 38.0), shim_stacks((0.5, 1.0)), 38.2, 0.4, 38.0) == ((1.0,), ())
