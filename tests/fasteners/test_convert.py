"""A figure in every unit of its kind."""

from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import magnitude_in
from calculators.bench.asking import answered, asked_with
from calculators.bench.units import units_of

KINDS = ["torque", "length", "volume", "force", "pressure"]


answer = partial(answered, "fasteners.convert")


@pytest.mark.parametrize("kind", KINDS)
def test_a_value_is_told_in_every_unit_of_its_kind(kind):
    found = answer(**{kind: "12.5"})
    assert [value.units[0] for value in found.values] == [unit.symbol for unit in units_of(kind)]
    assert "equals" in found.drawing.svg


def test_the_headline_is_the_figure_and_its_first_other_unit():
    # by hand: 25 × 1.355 818 is 33.895; 0.375 × 25.4 is 9.525
    assert answer(torque="25 lb ft").headline == "25 lbf·ft = 33.8954 N·m"
    assert answer(torque="25 lb ft", length="3/8 in").headline == "25 lbf·ft = 33.8954 N·m · 0.375 in = 9.525 mm"


def test_more_figures_than_the_headline_holds_are_all_in_the_sentence():
    found = answer(torque="25 lbf·ft", length="3/8 in", volume="350 in³", force="10 kgf", pressure="30 psi")
    assert found.headline == "25 lbf·ft = 33.8954 N·m"
    assert found.says.count("=") == 5


def test_conversions_keep_six_figures_also_of_small_values():
    texts = [text for value in answer(length="0.15 mm").values for text in value.texts]
    # by hand: 0.15 ÷ 25.4 = 0.005 905 512
    assert {"0.15 mm", "0.00590551 in", "5.90551 thou", "0.015 cm", "0.00015 m"} <= set(texts)


def test_a_typed_doubt_is_converted_too():
    texts = [text for value in answer(length="25.4 ± 0.254 mm").values for text in value.texts]
    # as it was typed, a limit: 0.254 ÷ 25.4
    assert "1 ± 0.01 in" in texts


def test_nought_and_the_largest_are_drawn():
    assert answer(length="0").headline == "0 mm = 0 in"
    assert answer(force="10000000 N").drawing


@given(number=st.floats(0.001, 1e4), symbol=st.sampled_from([unit.symbol for unit in units_of("torque")]))
def test_a_value_comes_back_from_every_unit(number, symbol):
    for item in answer(torque=f"{number:.9f} {symbol}").values:
        there = magnitude_in(item.quantity, item.units[0])
        if "e" not in f"{there!r}":
            back = answer(torque=f"{there!r}"[:30] + f" {item.units[0]}").value(item.key)
            assert magnitude_in(back.quantity, symbol) == pytest.approx(float(f"{number:.9f}"), rel=1e-12)


def test_without_a_figure_it_says_what_it_needs():
    asked = asked_with("fasteners.convert")
    assert asked.errors == ()
    assert [error.message for error in asked.lacking] == ["Enter the figure in the box for its quantity"]
