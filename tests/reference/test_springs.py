"""Springs held against an energy method and a valve stepped by scipy; shims against every set there is."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from calculators.formulas.helical_spring import (
    follow_speed,
    rate_of_wire,
)
from calculators.formulas.shim_choice import EVEN, even_shims, shim_stacks


@given(st.floats(2, 6), st.floats(4, 12), st.floats(3, 10))
def test_the_rate_is_that_of_the_energy_of_a_twisted_bar(wire, index, active):
    # Castigliano: the wire's length π D n, its torque F D/2, J = π d⁴/32; summed by scipy.integrate
    mean, modulus = wire * index, 79_300.0
    polar = math.pi * wire**4 / 32
    give, _ = quad(lambda _: (mean / 2) ** 2 / (modulus * polar), 0, math.pi * mean * active)
    assert rate_of_wire(wire, mean, active, modulus) == pytest.approx(1 / give, rel=1e-9)


@pytest.mark.parametrize(("part", "leaves"), [(0.97, False), (1.03, True)])
def test_a_valve_stepped_over_a_cosine_nose_leaves_it_just_above_the_speed_given(part, leaves):
    # scipy.integrate.solve_ivp: a free mass under the spring, started with the cam's own speed 20° before full lift
    load, rate, mass, slowing = 494.0, 0.0, 0.12, 0.008
    cam = part * follow_speed(load, mass, slowing) / 2 * 2 * math.pi / 60  # rad/s
    fall = slowing * (180 / math.pi) ** 2  # mm/rad²; the nose is the parabola lift − fall/2 · θ²
    start = -math.radians(20)

    def nose(time):
        return -fall / 2 * (start + cam * time) ** 2

    def motion(_, state):
        return [state[1], -1000 * (load + rate * state[0]) / mass]

    span = -start / cam
    path = solve_ivp(
        motion, (0, span), [nose(0), -fall * start * cam], rtol=1e-10, atol=1e-10, t_eval=np.linspace(0, span, 50)
    )
    gaps = path.y[0] - nose(path.t)
    assert (gaps[-1] > 1e-6) == leaves


heights = st.lists(st.integers(3700, 3960).map(lambda found: found / 100), min_size=1, max_size=4)
drawers = st.lists(st.sampled_from([0.25, 0.4, 0.5, 0.75, 1.0]), min_size=1, max_size=3, unique=True)


@given(heights, drawers)
@settings(max_examples=150)
def test_no_other_set_of_shims_is_more_even(found, drawer):
    # every set there is, by itertools: those inside the band, ranked by spread in steps of 0.05 mm
    wanted, within, least = 38.0, 0.6, 30.0
    stacks = shim_stacks(drawer)
    chosen = even_shims(found, stacks, wanted, within, least)
    options = [
        [height - sum(pile) for pile in stacks if abs(height - sum(pile) - wanted) <= within + 1e-9] for height in found
    ]
    able = [index for index, ways in enumerate(options) if ways]
    if not able:
        return
    narrowest = min(max(one) - min(one) for one in itertools.product(*(options[index] for index in able)))
    ours = [found[index] - sum(chosen[index]) for index in able]
    assert all(abs(height - wanted) <= within + 1e-6 for height in ours)
    assert max(ours) - min(ours) <= narrowest + EVEN + 1e-6
