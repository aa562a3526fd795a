"""What a typed text was taken for is said again, where it is written otherwise."""

from datetime import date

import pytest

from calculators import unit
from calculators.bench.entries import choice, count, day, length, listed, number, torque
from calculators.bench.understood import understood

TORQUE = torque("Torque", -500, 500, why="wrenches", exact=False)
LENGTH = length("Bore", -500, 5000, why="engines")
RATIO = number("Ratio", 1, 30, why="engines", to_one=True)
ORDER = listed(count("Order", 1, 12, why="x"), 2, 12, run_on=True)
BLADES = listed(length("Blades", 0, 5, why="x"), 1, 40)
DAY = day("Start", date(2000, 1, 1), date(2100, 1, 1), why="x")
METHOD = choice("Method", {"a": "A"})


@pytest.mark.parametrize(
    ("field", "text"),
    [
        *[(TORQUE, text) for text in ("34", "34.5", " 34 ", ".5", "34 N·m", "34N·m", "−5", "-5", "+5", "34 ± 0.5", "")],
        *[(RATIO, text) for text in ("7.6", "7.6 : 1", "7.6 to 1")],
        *[(ORDER, text) for text in ("1 4 3 2", "1-4-3-2", "1; 4; 3; 2")],
        *[(BLADES, text) for text in ("0.05 0.10 0.15", "0.05 0.10 mm")],
        (LENGTH, "12±0.1 mm "),
        (DAY, "2026-11-25"),
        (METHOD, "A"),
    ],
)
def test_says_nothing_where_it_stands_there_already(field, text):
    assert understood(field, text) == ""


@pytest.mark.parametrize("text", ["3x", "12 furlong", "1 234", "9999", "1/0", "34 mm"])
def test_says_nothing_of_what_cannot_be_taken(text):
    assert understood(TORQUE, text) == ""


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        (LENGTH, "1,23", "= 1.23 mm"),
        (LENGTH, "7,625", "= 7.625 mm"),
        (LENGTH, "0,125", "= 0.125 mm"),
        (TORQUE, "34,0", "= 34 N·m"),
        (TORQUE, "34Nm", "= 34 N·m"),
        (TORQUE, "34\u202fNm", "= 34 N·m"),
        (TORQUE, "34\u00a0N.m", "= 34 N·m"),
        (TORQUE, "−0,5", "= −0.5 N·m"),
        (LENGTH, "12 ± 0,1", "= 12 ± 0.1 mm"),
        # NIST SP 811 (2008), Appendix B.8: 1 in = 25.4 mm exactly, 1 lbf·ft = 1.355 818 N·m
        (LENGTH, "3/8 in", "= 9.525 mm"),
        (LENGTH, "1 1/2\u2009in", "= 38.1 mm"),
        (LENGTH, "1½", "= 1.5 mm"),
        (LENGTH, "½in", "= 12.7 mm"),
        (TORQUE, "27 lb ft", "≈ 36.607 N·m"),
        (LENGTH, "1/3", "≈ 0.33333 mm"),
        (RATIO, "7,6 : 1", "= 7.6"),
        (ORDER, "1432", "= 1; 4; 3; 2"),
        (ORDER, "1,4,3,2", "= 1; 4; 3; 2"),
        (BLADES, "2 3 4 thou", "= 0.0508; 0.0762; 0.1016 mm"),
        (BLADES, "0,05; 0,10", "= 0.05; 0.1 mm"),
        (BLADES, ", ".join(["0.05"] * 12), "= 12 entries"),
        (DAY, "25.11.2026", "= 25 November 2026"),
    ],
)
def test_says_what_it_was_taken_for(field, text, said):
    assert understood(field, text) == said


def test_answers_in_the_unit_chosen_beside_the_box():
    assert understood(TORQUE, "27 lb ft", unit("lbf·ft")) == "= 27 lbf·ft"
    assert understood(TORQUE, "27,5", unit("lbf·ft")) == "= 27.5 lbf·ft"
    assert understood(TORQUE, "36,607", unit("N·m")) == "= 36.607 N·m"
    assert understood(TORQUE, "27 lbf·ft", unit("lbf·ft")) == ""


def test_a_comma_is_said_to_be_a_decimal_mark_so_that_nobody_takes_it_for_thousands():
    assert understood(LENGTH, "7,625") == "= 7.625 mm"  # 7625 is more than it can be
    assert understood(LENGTH, "1,234") == ""  # the error beside it asks which one is meant
