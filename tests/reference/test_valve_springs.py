"""Springs held against textbook examples, an energy method and scipy; shims against every set there is."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.linalg import eigh

from calculators.formulas.helical_spring import (
    follow_speed,
    moving_mass,
    natural_frequency,
    rate_of_wire,
    shear_stress,
    wahl_factor,
)
from calculators.formulas.shim_choice import EVEN, even_shims, shim_stacks


def test_a_music_wire_spring_of_the_textbook():
    # Shigley, Mechanical Engineering Design, 10th edition, Problem 10-3 (solution): d 2.5 mm, OD 31 mm, 14 coils
    # plain and ground, G 81.0 GPa: Na 13, C 11.4, k 1.314 N/mm, Ls 35 mm
    wire, mean = 2.5, 31 - 2.5
    assert mean / wire == pytest.approx(11.4)
    assert rate_of_wire(wire, mean, 13, 81_000) == pytest.approx(1.314, rel=1e-3)
    assert 14 * wire == 35


def test_the_force_at_which_that_spring_yields():
    # the same solution: KB 1.117, Ssy 871.2 MPa, Fs 167.9 N. Its factor is Bergsträsser's; Wahl's is within 1 %
    wire, mean = 2.5, 28.5
    assert shear_stress(167.9, wire, mean) == pytest.approx(871.2, rel=0.01)
    uncorrected = shear_stress(167.9, wire, mean) / wahl_factor(mean / wire)
    assert 1.117 * uncorrected == pytest.approx(871.2, rel=1e-3)


def test_another_textbook_s_rate():
    # Bhandari, Design of Machine Elements, Example 10.7 (title from memory; programme's output seen)
    assert rate_of_wire(5, 40, 5, 81_370) == pytest.approx(19.86572, rel=1e-5)


def test_a_small_spring_in_inches():
    # Shigley, Example 10-1 (from memory): wire 0.037 in, mean coil 0.400 in, Na 10.5, G 11.85 Mpsi: 4.13 lbf/in
    newtons = rate_of_wire(0.037 * 25.4, 0.400 * 25.4, 10.5, 11.85e3 * 6.894757)
    assert newtons * 25.4 / 4.448222 == pytest.approx(4.13, rel=5e-3)


@pytest.mark.parametrize(("index", "factor"), [(4, 1.40375), (5, 1.3105), (6, 1.2525), (8, 1.18402), (10, 1.14483)])
def test_wahl_s_factor(index, factor):
    # Mechanical Engineer's Data Handbook, p. 32
    assert wahl_factor(index) == pytest.approx(factor, rel=1e-5)


@given(st.floats(2, 6), st.floats(4, 12), st.floats(3, 10))
def test_the_rate_is_that_of_the_energy_of_a_twisted_bar(wire, index, active):
    # Castigliano: the wire's length π D n, its torque F D/2, J = π d⁴/32; summed by scipy.integrate
    mean, modulus = wire * index, 79_300.0
    polar = math.pi * wire**4 / 32
    give, _ = quad(lambda _: (mean / 2) ** 2 / (modulus * polar), 0, math.pi * mean * active)
    assert rate_of_wire(wire, mean, active, modulus) == pytest.approx(1 / give, rel=1e-9)


def test_frequency_and_mass_of_a_spring_between_two_seats():
    # si figures: d 4, D 28, 6 coils, G 79 300, 7850 kg/m³; ½ after Rao,
    # Mechanical Vibrations, Problem 1.38
    mass = moving_mass(4, 28, 6, 7850)
    assert mass == pytest.approx(0.052064, rel=1e-4)
    assert natural_frequency(rate_of_wire(4, 28, 6, 79_300), mass) == pytest.approx(304.158, rel=1e-5)


def test_a_chain_of_small_masses_swings_at_the_same_frequency():
    # scipy.linalg.eigh: the spring cut into 400 masses and springs, both ends held
    rate, mass, pieces = 19.26628, 0.052064, 400
    count = pieces - 1
    stiff = np.diag([2.0] * count) - np.diag([1.0] * (count - 1), 1) - np.diag([1.0] * (count - 1), -1)
    lowest = eigh(stiff * rate * 1000 * pieces, np.eye(count) * mass / pieces, eigvals_only=True)[0]
    assert natural_frequency(rate, mass) == pytest.approx(math.sqrt(lowest) / (2 * math.pi), rel=1e-4)


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
