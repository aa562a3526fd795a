"""The stress of the wire against what wire so thick bears."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import errors_of

ONE = {"open_load": "489 N", "wire": "4.2 mm", "outside": "33.3 mm"}
SURE = {"wire_error": "0", "length_error": "0", "length_scatter": "0"}
INNER = {"inner_open_load": "150 N", "inner_wire": "2.8", "inner_outside": "22"}


answer = partial(answered, "springs.stress", **ONE | SURE)


def megapascals(found, key="stress"):
    return magnitude_in(found.value(key).quantity, "MPa")


def test_the_stress_is_wahls():
    # by hand: C 29.1 ÷ 4.2; K (4C − 1) ÷ (4C − 4) + 0.615 ÷ C is 1.2153; K · 8 · 489 · 29.1 ÷ (π · 4.2³)
    found = answer()
    assert megapascals(found) == pytest.approx(594.4, abs=0.1)
    # 45 % of 2211 · 4.2 ^ −0.145 MPa (Shigley, 10th edition, tables 10-4 and 10-6, from memory)
    assert megapascals(found, "surely_borne") == pytest.approx(808, abs=0.5)
    assert found.headline == "594 MPa; it is sure to bear 808"
    assert found.warnings == ()
    assert "594 MPa" in found.drawing.svg


@pytest.mark.parametrize(
    ("typed", "headline"),
    [
        # by hand: 665 N make 808 MPa in this wire
        ({"open_load": "680 N"}, "Too much: 827 MPa, only 808 sure to be borne"),
        ({"open_load": "660 ± 20 N"}, "Too close to call: 802 MPa of 808"),
    ],
)
def test_a_stress_beyond_what_wire_surely_takes_is_warned_of(typed, headline):
    found = answer(**typed)
    assert found.headline == headline
    assert "beyond what wire this thick is sure to bear: outer spring with" in found.warnings[0].text
    assert not answer(open_load="640 N").warnings


def test_the_errors_of_wire_and_load_reach_it():
    found = answer(open_load="489 ± 10 N")
    # JCGM 100:2008, 4.3.7, k = 2: a rectangle of ± 10 N
    share = uncertainty_in(found.value("stress").quantity, "MPa") / megapascals(found)
    assert share == pytest.approx(2 / 3**0.5 * 10 / 489)


def test_of_two_springs_the_harder_worked_is_told():
    found = answer(**INNER | {"inner_open_load": "260 N"})
    # by hand: C 19.2 ÷ 2.8, K 1.217, 260 N: 705 MPa of 857, against 594 of 808
    assert found.headline == "705 MPa; it is sure to bear 857"
    assert "of the inner spring" in found.says
    assert [row.cells[0] for row in found.tables[0].rows] == ["outer", "inner"]
    assert answer().tables == ()


def test_the_load_comes_from_the_loads_as_they_are():
    typed = ["fitted_length=38", "valve_lift=8", "length_a=38", "load_a=265 N", "length_b=30", "load_b=489 N"]
    asked = asked_with("springs.stress", [*typed, "wire=4.2", "outside=33.3"])
    assert asked.known["open_load"].by == "springs.loads"
    assert asked.answer.headline == "594 MPa; it is sure to bear 808"


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        # by hand: 4890 N make 5944 MPa; three quarters of 1796 MPa are 1347
        ({"open_load": "4890 N"}, "wire", "5944 MPa at full lift, and no spring wire this thick takes 1347 MPa"),
        ({"outside": "12"}, "outside", "Outside diameter must be three times its wire diameter or more"),
        (INNER | {"inner_outside": "8"}, "inner_outside", "Outside diameter, inner spring, must be three times"),
        (
            {"inner_wire": "2.8", "inner_outside": "22"},
            "inner_open_load",
            "Enter the load at full lift of the inner spring",
        ),
    ],
)
def test_what_cannot_be_meant_is_refused_with_cause_and_remedy(typed, field, words):
    ((found, message),) = errors_of(answer, **typed)
    assert found == field
    assert words in message
