"""A list of seals as they lie."""

from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.bench.asking import answered, asked_with
from calculators.bench.units import bare
from calculators.sealing.crushed import BANDS
from tests.answers import errors_of
from tests.examples import examples

ONE = {"seal": "o_ring", "free": "3.00 mm", "fitted": "2.40 mm", "thickness_error": "0"}


answer = partial(answered, "sealing.seals", **ONE)


def cells(**typed):
    (table,) = answer(**typed).tables
    return table.rows[0].cells


@pytest.mark.parametrize(
    ("fitted", "verdict", "deed"),
    [
        # by hand, of 3 mm: 20 %, exactly 10 %, exactly 30 %, 9 %, 31 %, none
        ("2.40", "in", "seals"),
        ("2.70", "in", "seals"),
        ("2.10", "in", "seals"),
        ("2.73", "out", "too little: it leaks"),
        ("2.07", "out", "too much: it splits or flattens"),
        ("3.20", "out", "too little: it leaks"),
    ],
)
def test_each_seal_is_judged_by_its_band(fitted, verdict, deed):
    assert cells(fitted=fitted)[-2:] == (verdict, deed)


@given(
    fitted=st.floats(1.5, 3).map(lambda one: round(one, 3)),
    limit=st.floats(0.001, 0.2).map(lambda one: round(one, 3)),
    kind=st.sampled_from(sorted(BANDS)),
)
@settings(max_examples=examples(40))
def test_never_in_when_the_uncertainty_crosses_the_limit(fitted, limit, kind):
    found = cells(seal=kind, fitted=str(fitted), thickness_error=str(limit))
    best, expanded = bare(found[2].magnitude)
    if best - expanded < BANDS[kind][1] - 1e-6 or best + expanded > BANDS[kind][2] + 1e-6:
        assert found[-2] != "in"


def test_what_the_gauge_cannot_tell_is_too_close_to_call():
    assert cells(fitted="2.69", thickness_error="0.05")[-2:] == (
        "too close to call",
        "measure again with a finer gauge",
    )


def test_the_answer_names_the_seals_that_fail():
    three = {"seal": "o_ring; o_ring; o_ring", "free": "3; 3; 3"}
    assert answer().headline == "It is crushed right"
    assert answer(**three, fitted="2.4; 2.4; 2.4").headline == "All 3 are crushed right"
    some = answer(**three, fitted="2.9; 2.4; 2.9")
    assert some.headline == "Seals 1 and 3 will not seal"
    assert [caution.signal for caution in some.warnings] == ["notice", "notice"]
    close = answer(**three, fitted="2.9; 2.4; 2.69 ± 0.05")
    assert close.says == "Seal 1 will not seal as measured. Seal 3: too close to call."
    assert answer(fitted="2.69 ± 0.05").headline == "Seal 1 too close to call"


def test_ten_that_fail_fit_the_headline():
    ten = {"seal": "; ".join(["cork"] * 10), "free": "; ".join(["3"] * 10), "fitted": "; ".join(["2.9"] * 10)}
    assert answer(**ten).headline == "Seals 1, 2, 3, 4, 5, 6, 7, 8, 9 and 10 will not seal"


def test_the_makers_band_wins():
    assert cells(**{"least_crush.1": "25%", "most_crush.1": "30%"})[-2] == "out"


def test_every_band_upside_down_is_named():
    assert errors_of(
        answer,
        seal="o_ring; o_ring",
        free="3; 3",
        fitted="2.4; 2.4",
        **{"least_crush.1": "35%", "least_crush.2": "30%", "most_crush.2": "20%"},
    ) == [
        ("least_crush.1", "Least crush of seal 1 must be no more than the most, 30%"),
        ("most_crush.2", "Most crush of seal 2 must be no less than the least, 30%"),
    ]


def test_without_a_seal_it_says_what_it_needs():
    asked = asked_with("sealing.seals")
    assert [error.message for error in asked.lacking] == ["Enter the seals, one row each"]


def test_an_error_limit_may_be_typed_with_its_sign():
    plain, signed = (answer(fitted="2.69", thickness_error=typed) for typed in ("0.05 mm", "± 0.05 mm"))
    assert signed.as_data() == plain.as_data() != answer(fitted="2.69").as_data()
