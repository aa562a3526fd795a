"""What the exhaust gas says: λ, CO at idle, a leak before a lean mixture, and what is still needed."""

from functools import partial
from xml.etree import ElementTree

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered, asked_with
from calculators.bench.units import bare
from tests.answers import errors_of
from tests.physics import falls, goes_as_physics_sends_it, rises

GAS = {"co": "2%", "co2": "13.5%", "o2": "0.5%"}
BAND = {"idle_co_least": "1.5%", "idle_co_most": "3.5%"}


answer = partial(answered, "air.exhaust_gas")


def lacking(**typed):
    return [error.message for error in asked_with("air.exhaust_gas", [f"{k}={v}" for k, v in typed.items()]).lacking]


def test_lambda_comes_from_three_gases():
    # by hand: (13.5 + 1 + 0.5 + (1.7261/4 · 3.5/(3.5 + 2/13.5) − 0.0088) · 15.5) ÷ (1.422 725 · 15.5) = 0.965
    found = answer(**GAS)
    assert bare(found.value("lambda").quantity)[0] == pytest.approx(0.9650, abs=5e-5)
    assert found.headline == "λ 0.97: slightly rich"
    assert found.says == "The exhaust shows λ 0.97, slightly rich, as at idle."
    assert found.value("co") is None


def test_what_two_laws_allow_is_named_and_decides_nothing():
    found = answer(co="4%", **BAND)
    assert any("S.I. 2001 No. 25" in note and "4.5 %" in note for note in found.notes)
    assert "out" in answer(co="4.2%", **BAND).says


def test_unburnt_fuel_makes_it_richer():
    # by hand: 0.1 % of hexane is 0.6 of carbon beside 15.5
    plain, with_fuel = (bare(answer(**GAS, **hc).value("lambda").quantity)[0] for hc in ({}, {"hc": "1000"}))
    assert with_fuel / plain == pytest.approx(15.5 / 16.1)


@pytest.mark.parametrize("missing", list(GAS))
def test_where_a_gas_is_missing_it_is_asked_for(missing):
    names = {"co": "carbon monoxide", "co2": "carbon dioxide", "o2": "oxygen"}
    others = {key: text for key, text in GAS.items() if key != missing}
    assert lacking(**others) == [f"Enter the {names[missing]}, in per cent"]


def test_carbon_monoxide_alone_is_answered_by_the_maker_s_band():
    found = answer(co="2.5%", **BAND)
    assert found.headline == "CO 2.5% in"
    assert found.value("lambda") is None
    assert "λ needs carbon dioxide and oxygen as well." in found.notes


@pytest.mark.parametrize(
    ("reading", "verdict"), [("2.5%", "in"), ("5 ± 0.1%", "out"), ("0.5%", "out"), ("3.5 ± 0.2%", "too close to call")]
)
def test_carbon_monoxide_is_judged_by_the_makers_band(reading, verdict):
    found = answer(co=reading, **BAND)
    assert found.value("co").label == f"CO at idle, {verdict}"
    assert found.headline.endswith(f"% {verdict}")


def test_one_limit_is_enough():
    assert answer(co="2%", idle_co_most="3.5%").value("co").label == "CO at idle, in"
    assert answer(co="5%", idle_co_least="1.5%").value("co").label == "CO at idle, in"


@pytest.mark.parametrize(
    ("gas", "means"),
    [
        ({"co": "10%", "co2": "8%", "o2": "0.1%"}, "far too rich"),
        ({"co": "5%", "co2": "11.5%", "o2": "0.4%"}, "rich"),
        ({"co": "0.3%", "co2": "14.5%", "o2": "1%"}, "slightly lean"),
        ({"co": "0.2%", "co2": "11%", "o2": "5%"}, "lean"),
    ],
)
def test_each_mixture_is_named_and_its_row_is_marked(gas, means):
    found = answer(**gas)
    assert found.headline.partition(": ")[2] == means
    (table,) = found.tables
    (marked,) = [row for row in table.rows if row.chosen]
    assert marked.cells[1].startswith(means)


def test_a_leak_is_thought_of_before_a_lean_mixture():
    lean = answer(co="0.2%", co2="11%", o2="5%")
    assert [caution.signal for caution in lean.warnings if "leaking pipe or flange" in caution.text] == ["warning"]
    assert not any("leaking pipe or flange" in caution.text for caution in answer(**GAS).warnings)


def test_carbon_monoxide_kills_and_that_is_said_first():
    first = answer(**GAS).warnings[0]
    assert (first.signal, "carbon monoxide" in first.text) == ("danger", True)


@pytest.mark.parametrize(
    "typed", [GAS, GAS | BAND, {"co": "14%"} | BAND, {"co": "0"} | BAND, GAS | {"o2": "4%", "idle_co_most": "0"}]
)
def test_the_scales_stay_within_the_drawing(typed):
    root = ElementTree.fromstring(answer(**typed).drawing.svg)  # noqa: S314 (our own text)
    for shape in root.iter("{http://www.w3.org/2000/svg}line"):
        assert 0 <= float(shape.get("x1")) <= 340
        assert 0 <= float(shape.get("x2")) <= 340


def test_the_longest_words_fit_the_headline():
    assert answer(co="3.5 ± 0.2%", co2="10%", o2="4%", **BAND).headline.endswith("CO 3.5% too close to call")


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"co2": "14", "o2": "10"},
            "co2",
            "Carbon dioxide must be less: carbon dioxide, oxygen and half the carbon monoxide make 25.0%, "
            "more oxygen than air has. Zero the analyser in clean air.",
        ),
        (
            {"idle_co_least": "3", "idle_co_most": "2"},
            "idle_co_most",
            "Most CO at idle must be no less than the least",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert errors_of(answer, **(GAS | typed)) == [(field, message)]


def test_oxygen_is_named_where_no_carbon_dioxide_was_read():
    with pytest.raises(InputErrors, match=r"Oxygen must be less: .* make 21\.4%"):
        answer(co="2%", o2="20.4%", **BAND)


def test_the_analyser_s_limit_may_be_typed_with_its_sign():
    plain, signed = (answer(**GAS, analyser_error=typed) for typed in ("9%", "± 9%"))
    assert signed.as_data() == plain.as_data() != answer(**GAS).as_data()


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    lambda **typed: answer(**GAS | typed),
    rises("o2", (0.1, 6), "lambda", "oxygen left over is air that found no fuel"),
    falls("co", (0.1, 6), "lambda", "carbon monoxide is fuel that found no air"),
)
