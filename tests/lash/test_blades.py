"""The proving blades: which goes in, which does not, and what a set lacks."""

from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answered
from tests.answers import messages_of

GAPS = {"inlet_clearance": "0.15 mm", "exhaust_clearance": "0.20 mm"}


answer = partial(answered, "lash.blades", **GAPS)


def said(found):
    return " ".join(caution.text for caution in found.warnings)


def test_the_pair_spans_the_figure_and_its_allowance():
    found = answer(blades="0.05 0.15 0.20 0.30")
    assert found.value("inlet_go").texts == ("0.15 mm",)
    assert found.value("inlet_no_go").texts == ("0.20 mm",)
    assert found.value("exhaust_no_go").texts == ("0.20 mm + 0.05 mm = 0.25 mm",)
    assert found.headline == "IN 0.15 goes, 0.20 not · EX 0.20 goes, 0.25 not"


def test_a_wider_allowance_takes_a_thicker_blade_that_must_not_go_in():
    assert answer(allowance="0.10 mm").headline == "IN 0.15 goes, 0.25 not · EX 0.20 goes, 0.30 not"


def test_blades_in_thou_are_named_as_they_are_stamped():
    found = answer(inlet_clearance="6 thou", blades="6 thou; 8 thou; 10 thou")
    assert found.value("inlet_go").texts == ("6 thou = 0.15 mm",)
    assert found.headline == "IN 0.152 goes, 0.203 not · EX 0.203 goes, 0.254 not"


def test_a_set_without_the_pair_is_told_which_blades_it_lacks():
    found = answer(blades="0.15 0.50")
    assert found.value("inlet_go") is None
    assert "There is no pair for the inlet valves in this set: 0.15 mm that must go in, and 0.20 mm" in said(found)
    assert found.headline == "IN no pair · EX no pair"
    assert "none" in found.drawing.svg
    assert "There is no pair" not in said(answer())


def test_one_blade_is_never_both_the_one_that_goes_in_and_the_one_that_must_not():
    assert answer(blades="0.155 mm", allowance="0.01 mm").value("inlet_go") is None


@pytest.mark.parametrize(("blade", "off"), [("0.16", 0.01), ("0.13", -0.02)])
def test_the_nearest_of_the_set_is_so_far_off(blade, off):
    assert magnitude_in(answer(blades=blade).value("inlet_error").quantity, "mm") == pytest.approx(off)


def test_each_blade_is_within_its_limits():
    assert messages_of(answer, blades="3 mm") == ["Feeler blades must each be between 0.01 mm and 2 mm"]
