"""One instrument behind several readings: what it is off by is common, what each is read to is its own."""

import math

import pytest
from uncertainties import ufloat

from calculators.bench import Scatter, expanded, read_by_instrument
from calculators.bench.units import measured, quantity

LIMIT, READ_TO = quantity(0.4, "cm³"), quantity(0.02, "cm³")


def read(*volumes, **more):
    given = {"instrument": "burette", "limit": LIMIT, "read_to": READ_TO} | more
    return read_by_instrument(volumes, "cm³", **given)


def cm3(volume):
    return quantity(volume, "cm³")


def test_the_limit_adds_up_in_a_sum_and_drops_out_of_a_difference():
    """GUM 5.2: 2 · 0.4/√3 beside √2 · 0.02/√3; the difference has the latter alone."""
    one, other = read(cm3(50.0), cm3(50.5))
    own = math.sqrt(2) * 0.02 / math.sqrt(3)
    assert (other - one).std_dev == pytest.approx(own)
    assert (one + other).std_dev == pytest.approx(math.hypot(2 * 0.4 / math.sqrt(3), own))


def test_one_instrument_is_one_whoever_asks_and_whatever_its_limit():
    (one,), (other,) = read(cm3(50.0), read_to=None), read(cm3(50.5), read_to=None, limit=cm3(0.1))
    assert (other - one).std_dev == pytest.approx(0.3 / math.sqrt(3))


def test_two_instruments_have_nothing_in_common():
    (one,) = read(cm3(50.0), read_to=None)
    (other,) = read(cm3(50.5), read_to=None, instrument="syringe")
    assert (other - one).std_dev == pytest.approx(0.4 * math.sqrt(2 / 3))


def test_several_of_a_kind_are_off_each_by_itself():
    one, other = read(cm3(50.0), cm3(50.5), one=False)
    assert (other - one).std_dev == pytest.approx(math.sqrt(2 * (0.4**2 + 0.02**2) / 3))


def test_a_typed_plus_minus_is_split_into_the_readings_own_and_the_instruments():
    """± 0.4 typed with each: 0.02 of it is its own, so that 50.5 − 50.0 is known to √2 · 0.02/√3."""
    one, other = read(measured(cm3(50.0), LIMIT), measured(cm3(50.5), LIMIT))
    assert one.std_dev == pytest.approx(0.4 / math.sqrt(3))
    assert (other - one).std_dev == pytest.approx(math.sqrt(2) * 0.02 / math.sqrt(3))


def test_a_reading_known_better_than_it_is_read_to_owes_the_instrument_nothing():
    fine = cm3(0.01)
    one, other = read(measured(cm3(50.0), fine), measured(cm3(50.5), fine))
    assert (other - one).std_dev == pytest.approx(math.sqrt(2) * 0.01 / math.sqrt(3))


def test_what_a_question_worked_out_stays_as_it_is():
    (filled,) = read(cm3(50.0))
    again = read(quantity(filled + ufloat(0, 0.1, "Level"), "cm³"), limit=cm3(5))[0]
    assert again.std_dev == pytest.approx(math.sqrt((0.4**2 + 0.02**2) / 3 + 0.1**2))
    assert (again - filled).std_dev == pytest.approx(0.1)


def test_what_a_question_worked_out_from_one_reading_stays_its_own():
    """Two fills, each known to its scale's step alone: their difference is known to √2 of it, and not exactly."""
    one, other = (quantity(volume + ufloat(0.0, 0.1, "Scale"), "cm³") for volume in (50.0, 50.5))
    found = read(one, other, read_to=None)
    assert (found[1] - found[0]).std_dev == pytest.approx(0.1 * math.sqrt(2))


def test_without_limits_a_reading_is_a_bare_number():
    assert read(cm3(50.0), limit=cm3(0), read_to=cm3(0)) == (50.0,)


def test_few_readings_widen_the_plus_minus():
    """GUM Table G.2, 95.45 %: k = 4.53 for 2 degrees of freedom, 2.87 for 5."""
    few = Scatter("Scatter", 2)
    assert expanded(ufloat(49.1, 0.1, few)).spread == pytest.approx(0.453)
    assert expanded(ufloat(49.1, 0.1, Scatter("Scatter", 4))).factor == pytest.approx(2.87)


def test_degrees_of_freedom_go_with_a_value_through_whatever_is_worked_out():
    """GUM G.4.1: u_A = u_B, ν_A 2, so ν_eff = 2² · 2 = 8 and k 2.37; without the common part 2 again."""
    few, common = Scatter("Scatter", 2), ufloat(0.0, 0.1, "The burette")
    one = ufloat(49.1, 0.1, few) + common
    assert expanded(3 * one).factor == pytest.approx(2.37)
    assert expanded(3 * one).degrees == pytest.approx(8)
    assert expanded(one - common).factor == pytest.approx(4.53)


def test_parts_of_one_pool_of_readings_are_one_and_those_of_two_are_two():
    """GUM G.4.1: one pool of ν 4 stays 4; two pools of 4, each with half the variance, come to 8."""
    pool = Scatter("Scatter", 4)
    assert expanded(ufloat(1, 0.1, pool) + ufloat(1, 0.1, pool)).degrees == pytest.approx(4)
    other = Scatter("Scatter", 4)
    assert expanded(ufloat(1, 0.1, pool) + ufloat(1, 0.1, other)).degrees == pytest.approx(8)


def test_a_number_beyond_doubt_has_no_spread():
    assert (expanded(49.1).value, expanded(49.1).spread, expanded(49.1).factor) == (49.1, 0.0, 2.0)
    assert expanded(49.1).certainty("cm³") == (
        ("u", "0 cm³"), ("degrees of freedom", "more than 1000"), ("k", "2.00")
    )  # fmt: skip
