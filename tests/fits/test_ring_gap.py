"""A ring's end gap: against the maker's limits, and against what heat closes."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import errors_of, read_off
from tests.physics import Judged, is_in_only_with_its_whole_uncertainty, meets, number, says

ASKED = "fits.ring_gap"
SURE = {"cylinders": "1", "feeler_error": "0"}
GUESSED = {"cylinders": "1", "feeler_error": "0", "bore": "80", "gap_least": "0.25 mm"}


sure = partial(answered, ASKED, **SURE)


def test_narrowest_and_widest_ring():
    answer = answered(ASKED, **SURE, end_gap="0.48 0.44 0.40", gap_least="0.3 mm", gap_most="0.45 mm")
    assert (read_off(answer, "narrow_gap"), read_off(answer, "wide_gap")) == (0.40, 0.48)
    assert answer.says == "Out: cylinder 1, widest end gap 0.480 mm (at most 0.450 mm). The others are in."
    assert answer.value("hot_gap") is None  # no bore is known, so no circumference that grows


def test_a_ring_is_held_against_what_heat_closes_where_that_is_more():
    answer = answered(ASKED, **SURE, closed="0.573", gap_least="0.3 mm", end_gap="0.50")
    # by hand: 0.50 − 0.573
    assert read_off(answer, "hot_gap") == pytest.approx(-0.073)
    assert "at least 0.573 mm" in answer.says
    assert answer.headline == "Narrowest end gap 0.500 mm · out"
    cool = answered(ASKED, **SURE, closed="0", gap_least="0.3 mm", end_gap="0.50")
    assert "at least 0.300 mm" in cool.says
    assert cool.headline == "Narrowest end gap 0.500 mm · in"


def test_what_heat_closes_comes_from_its_own_question_with_its_doubt():
    asked = asked_with(ASKED, ["cylinders=1", "bore=80", "end_gap=0.5", "feeler_error=0"])
    assert asked.known["closed"].by == "fits.ring_heat"
    # by hand: 0.5 − π · 80 · 11.4e-6 · 100; the ± is that of what heat closes
    left = asked.answer.value("hot_gap").quantity
    assert magnitude_in(left, "mm") == pytest.approx(0.21349, abs=1e-5)
    assert uncertainty_in(left, "mm") == pytest.approx(0.103, abs=5e-4)


@pytest.mark.parametrize(
    ("gap", "verdict"), [("0.45", "in"), ("0.31", "too close to call"), ("0.26", "too close to call"), ("0.15", "out")]
)
def test_a_ring_is_in_only_where_it_surely_stays_open_when_hot(gap, verdict):
    # by hand: heat closes 0.287 ± 0.103 mm; the maker's least is 0.25 mm
    assert answered(ASKED, **GUESSED, end_gap=gap).headline.endswith(f" · {verdict}")


def test_where_heat_is_the_doubt_no_finer_gauge_is_asked_for():
    def told(gap, **feelers):
        return [caution.text for caution in answered(ASKED, **GUESSED | feelers, end_gap=gap).warnings]

    assert told("0.31") == [
        "Cylinder 1: too close to call, which is not a pass. Limit heat closes the gap is known to ± 0.103 mm only. "
        "A finer "
        "gauge does not help: work out again what heat closes, with better temperatures, or ask the ring maker."
    ]
    assert told("0.45") == []
    # 0.29 mm ± 0.115 mm of the feelers: there the gauge is the doubt too
    assert told("0.29", feeler_error="0.1") == [
        "Too close to call is not a pass. Measure again with a finer gauge, or treat the part as worn."
    ]


def test_below_the_maker_s_least_gap_a_ring_is_out_whatever_heat_may_close():
    assert answered(ASKED, **GUESSED, end_gap="0.24").headline.endswith(" · out")


def test_ends_that_meet_seize_the_engine():
    answer = answered(ASKED, **SURE, end_gap="0.1", gap_least="0.3 mm")
    assert answer.warnings[0].signal == "warning"
    assert answer.warnings[0].text.startswith("Cylinder 1: a ring whose ends meet when hot scores the barrel")
    wide = answered(ASKED, **SURE, end_gap="1.1", gap_most="0.95 mm")
    assert [caution.signal for caution in wide.warnings] == ["notice"]


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({}, ("end_gap.1", "Enter the ring end gaps of cylinder 1, in millimetres")),
        (
            {"gap_least": "2 mm", "gap_most": "1 mm"},
            ("gap_least", "Least ring end gap must be at most the greatest ring end gap"),
        ),
        ({"end_gap": "11"}, ("end_gap.1", "Ring end gaps of cylinder 1 must each be between 0 mm and 10 mm")),
    ],
)
def test_what_cannot_be_is_refused_by_name(typed, error):
    assert error in errors_of(sure, **typed)


test_a_gap_is_in_only_with_its_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    lambda **typed: answered(ASKED, cylinders="1", closed="0", end_gap="0.48 0.44 0.40", **typed),
    Judged(
        "gap_least",
        meets("narrow_gap"),
        number("narrow_gap"),
        says("parts 1 verdict"),
        above=False,
    ),
)
