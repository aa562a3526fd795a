"""How deep a stud must be screwed in: what the case holds against the most pull."""

from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk, Origin
from tests.answers import errors_of
from tests.cards import MARRAM

# by hand, see the pull of a stud: 35.36 N·m over 1.1716 mm
PLAIN = {"thread": "M10 × 1.5", "steel": "8.8", "most_pull": "30.18 kN", "engagement": "20 mm"}


answer = partial(answered, "fasteners.screwed_in", **PLAIN)


def case(**typed):
    (table,) = answer(**typed).tables
    return {row.cells[0]: row for row in table.rows}


def kilonewtons(found, key):
    return magnitude_in(found.value(key).quantity, "kN")


def test_the_pull_comes_from_the_torque_as_it_is():
    texts = ["thread=M10 × 1.5", "steel=8.8", "torque=34 N·m", "engagement=20 mm"]
    asked = asked_with("fasteners.screwed_in", texts)
    assert asked.known["most_pull"].origin is Origin.WORKED_OUT
    assert asked.known["most_pull"].by == "fasteners.stud_pull"
    assert magnitude_in(asked.known["most_pull"].value, "kN") == pytest.approx(30.18, abs=0.01)


def test_a_pull_that_rests_on_the_example_makes_it_the_examples():
    assert Desk({}, MARRAM, example=True).ask("fasteners.screwed_in").is_example


def test_it_tells_the_length_that_is_sure_to_hold():
    # by hand: 30 180 N over 27.489 mm² a millimetre and 90 MPa is 12.20 mm
    found = answer(engagement="")
    assert found.headline == "12.2 mm at least"
    assert magnitude_in(found.value("bare_needed").quantity, "mm") == pytest.approx(12.199, abs=0.001)
    # by hand: 11.949 ÷ 10 mm
    assert magnitude_in(found.value("insert_needed").quantity, "mm") == pytest.approx(12.199 / 1.1949, abs=0.001)
    assert found.tables == ()
    assert found.warnings == ()


def test_a_needed_length_is_never_said_shorter_than_it_is():
    # by hand: 30 250 N need 12.227 mm
    assert answer(engagement="", most_pull="30.25 kN").headline == "12.3 mm at least"


def test_the_length_is_said_in_the_unit_that_was_typed():
    # by hand: 12.199 ÷ 25.4 is 0.4803
    assert answer(engagement="5/8 in").headline == "0.625 in holds: 0.49 in needed"


@pytest.mark.parametrize(
    ("typed", "verdict", "headline", "warned"),
    [
        ({}, "holds", "20 mm holds: 12.2 mm needed", []),
        ({"engagement": "10 mm"}, "too close to call", "10 mm may tear out: 12.2 mm needed", ["caution"]),
        ({"engagement": "4 mm"}, "tears out", "4 mm tears out: 12.2 mm needed", ["caution"]),
    ],
)
def test_the_case_is_judged_against_the_most_pull(typed, verdict, headline, warned):
    found = answer(**typed)
    assert case(**typed)["Bare"].cells[5] == verdict
    assert found.headline == headline
    assert [caution.signal for caution in found.warnings if "may tear out" in caution.text] == warned


def test_with_an_insert_it_is_the_insert_that_is_judged():
    found = answer(insert="insert", engagement="11 mm")
    assert found.headline == "11 mm holds: 10.3 mm needed"
    assert "with its insert" in found.says
    assert "Have the insert looked at" in answer(insert="insert", engagement="4 mm").warnings[0].text
    assert "Have a thread insert fitted" in answer(engagement="4 mm").warnings[0].text


def test_an_insert_holds_more_and_its_row_is_marked():
    table = case(insert="insert")
    assert table["Wire insert"].chosen
    assert not table["Bare"].chosen
    # by hand: 11.949 ÷ 10 mm
    assert table["Wire insert"].cells[3] / table["Bare"].cells[3] == pytest.approx(1.1949, abs=1e-4)


@pytest.mark.parametrize(
    ("metal", "holds"), [("cast magnesium", (60.5, 79.7)), ("cast aluminium", (49.5, 99.0)), (None, (49.5, 99.0))]
)
def test_the_metal_of_the_case_decides(metal, holds):
    # by hand: 549.8 mm² at 110 to 145 MPa, at 90 to 180 MPa; an unknown metal is as weak as either
    found = answer(**({} if metal is None else {"case": metal}))
    assert (kilonewtons(found, "least_hold"), kilonewtons(found, "most_hold")) == (
        pytest.approx(holds[0], abs=0.05),
        pytest.approx(holds[1], abs=0.05),
    )


def test_the_metal_of_the_case_is_the_cards():
    asked = Desk({}, MARRAM, example=True).ask("fasteners.screwed_in")
    assert asked.known["case"].value == "cast magnesium"
    assert kilonewtons(asked.answer, "least_hold") == pytest.approx(60.5, abs=0.05)


def test_length_sure_to_hold_does_hold():
    needed = magnitude_in(answer().value("bare_needed").quantity, "mm")
    assert case(engagement=f"{needed + 1e-6:.7f} mm")["Bare"].cells[5] == "holds"
    assert case(engagement=f"{needed - 1e-3:.7f} mm")["Bare"].cells[5] == "too close to call"


def test_doubt_in_the_length_lowers_what_is_sure():
    sure, doubtful = (answer(engagement=text) for text in ("20 mm", "20 ± 1 mm"))
    assert kilonewtons(doubtful, "least_hold") < kilonewtons(sure, "least_hold")
    assert kilonewtons(doubtful, "most_hold") > kilonewtons(sure, "most_hold")


def test_own_strength_of_the_case_is_taken_in_any_unit_of_pressure():
    # by hand: 549.8 mm² × 100 MPa; 14 503.8 psi
    for text in ("100", "100 N/mm²", "14503.774 psi"):
        found = answer(case="own", least_strength=text, most_strength=text)
        assert kilonewtons(found, "least_hold") == pytest.approx(54.98, abs=0.01)
        assert kilonewtons(found, "most_hold") == pytest.approx(54.98, abs=0.01)


def test_it_tells_what_the_stud_itself_stands():
    found = answer()
    # by hand: 800 MPa × 57.99 mm²; 0.75 π × 8.376 × 20 mm × 0.6 × 800 MPa
    assert kilonewtons(found, "stud_breaks") == pytest.approx(46.39, abs=0.01)
    assert kilonewtons(found, "stud_strips") == pytest.approx(189.47, abs=0.05)


def test_own_strength_left_empty_is_asked_for_together():
    asked = asked_with("fasteners.screwed_in", [f"{key}={text}" for key, text in PLAIN.items()] + ["case=own"])
    assert [(error.field, error.message) for error in asked.lacking] == [
        ("least_strength", "Enter the least shear strength of the case, in megapascals"),
        ("most_strength", "Enter the most shear strength of the case, in megapascals"),
    ]


def test_the_least_strength_is_not_above_the_most():
    found = errors_of(answer, case="own", least_strength="200", most_strength="100")
    assert ("least_strength", "Least shear strength of the case must not be above the most, 100 MPa") in found


@pytest.mark.parametrize(
    "typed", [{}, {"engagement": ""}, {"insert": "insert"}, {"thread": "M14 × 2", "engagement": "2"}]
)
def test_stud_and_case_are_drawn(typed):
    svg = answer(**typed).drawing.svg
    assert "of thread needed" in svg
    assert ("are in" in svg) == (typed.get("engagement") != "")
