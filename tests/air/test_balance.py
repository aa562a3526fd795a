"""The throttles against each other: which to move, which way, and what the gauge cannot tell."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from calculators.bench.units import bare
from tests.answers import errors_of, read_off
from tests.examples import examples

SURE = {"flow_error": "0", "flow_scatter": "0", "vacuum_error": "0", "vacuum_scatter": "0"}


def cells(key, readings):
    return {"throttles": str(len(readings))} | {f"{key}.{at}": one for at, one in enumerate(readings, 1)}


def flows(*readings, **typed):
    return answered("air.balance", **cells("flow", readings), **typed)


def vacuums(*readings, **typed):
    return answered("air.balance", **cells("vacuum", readings), **typed)


def moves(found):
    (table,) = found.tables
    return [row.cells[-1] for row in table.rows]


def lacking(**typed):
    return [error.message for error in asked_with("air.balance", [f"{k}={v}" for k, v in typed.items()]).lacking]


def test_most_stay_and_the_others_are_moved_to_them():
    found = flows("6.0", "6.1", "7.0", "5.0", **SURE)
    assert moves(found) == ["stays", "stays", "close it", "open it"]
    # by hand: (7 − 5)/6.025 = 33.2 %
    assert read_off(found, "spread", "%") == pytest.approx(33.195, abs=1e-3)
    assert found.headline == "Open 4 and close 3, to 6.05"
    assert found.says == "The throttles are 33.2% apart: open throttle 4 and close throttle 3 to 6.05."


def test_more_vacuum_is_a_throttle_too_far_shut():
    found = vacuums("60", "60.5", "50", "68")
    assert moves(found) == ["stays", "stays", "close it", "open it"]
    assert found.headline.endswith("to 60.2 kPa")


def test_the_throttle_that_stays_is_the_mark():
    found = flows("6.0", "6.1", "7.0", stays="3", **SURE)
    assert moves(found) == ["open it", "open it", "stays"]
    assert found.headline == "Open 1, 2, to 7.00"


def test_within_the_allowed_spread_all_stay():
    found = flows("6.0", "6.1", "6.2", **SURE)
    assert moves(found) == ["stays"] * 3
    assert found.headline == "In balance: 3.3% apart"
    assert found.walks == ()
    assert flows("6", "6", **SURE).says == "The throttles are in balance, 0.0% apart."


def test_the_steps_move_those_and_read_again():
    (walk,) = flows("6.0", "6.1", "7.0", "5.0", **SURE).walks
    assert [step.large for stage in walk.stages for step in stage.steps] == [
        "3 · close to 6.05",
        "4 · open to 6.05",
        "Read all again",
    ]


def test_what_the_gauge_cannot_tell_is_too_close_to_call():
    found = flows("6.0", "6.4", flow_scatter="0.5")
    assert found.headline == "6.5% apart, too close to call with this gauge"
    assert moves(found) == ["stays", "too close to call"]
    assert found.walks == ()


def test_what_one_gauge_is_off_by_moves_no_throttle():
    # JCGM 100:2008, 5.2.4: it is the same in both readings, and drops out of their difference
    found = flows("6.0", "6.8", flow_error="2", flow_scatter="0.05")
    assert moves(found) == ["open it", "stays"]
    # by hand: two scatters of 0.05 in 6.4
    spread = bare(found.value("spread").quantity.magnitude)
    assert spread[1] == pytest.approx(100 * 2 * 0.05 * 2**0.5 / 3**0.5 / 6.4)


def test_the_mean_of_many_throttles_is_no_surer_than_the_gauge():
    found = vacuums("50", "51", "52", vacuum_error="2 kPa", vacuum_scatter="0.6 kPa")
    # by hand: the gauge's 2 kPa stay, the scatter's 0.6 kPa fall with √3
    mean = found.value("mean_vacuum").quantity
    assert uncertainty_in(mean, "kPa") == pytest.approx(2 / 3**0.5 * (2**2 + 0.6**2 / 3) ** 0.5)


@given(
    st.lists(st.floats(3, 9).map(lambda one: round(one, 2)), min_size=2, max_size=6),
    st.floats(0.01, 0.5).map(lambda one: round(one, 3)),
)
@settings(max_examples=examples(40), deadline=None)
def test_never_in_balance_when_the_uncertainty_crosses_the_limit(readings, limit):
    found = flows(*map(str, readings), flow_scatter=str(limit))
    spread, expanded = bare(found.value("spread").quantity.magnitude)
    assert found.headline.startswith("In balance") == (spread + (expanded or 0) <= 5 + 1e-6)


def test_vacuum_is_told_in_every_unit_and_behind_the_throttles():
    # 50 kPa is 14.765 inHg, 375.03 mmHg (NIST SP 811 (2008), B.8: 3386.389 Pa, 133.3224 Pa)
    found = vacuums("50", "50", outside="100 kPa", **SURE)
    assert read_off(found, "mean_vacuum", "inHg") == pytest.approx(14.765, abs=5e-4)
    assert read_off(found, "mean_vacuum", "mmHg") == pytest.approx(375.03, abs=5e-3)
    assert read_off(found, "pipe_pressure", "kPa") == pytest.approx(50)


def test_without_the_air_outside_the_mean_vacuum_is_answered_all_the_same():
    found = vacuums("50", "52", **SURE)
    assert read_off(found, "mean_vacuum", "kPa") == pytest.approx(51)
    assert found.value("pipe_pressure") is None


def test_the_air_outside_comes_from_what_the_air_is_worth():
    # ISO 2533: 1013.25 hPa at the sea; the 2 % of weather are in it
    found = vacuums("50", "50", altitude="0 m", air_temperature="15 °C", **SURE)
    pipe = found.value("pipe_pressure").quantity
    assert magnitude_in(pipe, "kPa") == pytest.approx(51.325)
    assert uncertainty_in(pipe, "kPa") == pytest.approx(2 * 0.02 * 101.325 / 3**0.5)


def test_a_vacuum_wins_over_flow_and_that_is_said():
    both = answered("air.balance", flow="6.2; 7.0", vacuum="60; 60")
    assert both.value("mean_vacuum")
    assert both.notes[0] == "You typed a vacuum: the flow readings are ignored."
    assert "left out" not in vacuums("60", "60").notes[0]


def test_twelve_throttles_are_counted_in_the_headline_and_drawn_with_one_letter_each():
    found = flows(*["6"] * 6, *["9"] * 6, stays="1", **SURE)
    assert found.headline == "Close 6 of them, to 6.00"
    assert "o open, c close" in found.drawing.svg


def test_carbon_monoxide_and_the_belt_are_warned_of():
    monoxide, belt = flows("6", "6").warnings
    assert (monoxide.signal, belt.signal) == ("danger", "warning")
    assert "wheels on the ground and chocked, neutral, parking brake on" in belt.text


def test_what_is_still_needed_is_said_and_no_mistake():
    assert lacking() == ["Enter the flow, or the vacuum, that the gauge reads at each throttle"]
    assert lacking(**{"flow.1": "6"}) == ["Enter the flow reading of throttle 2"]
    assert lacking(**{"vacuum.2": "60"}) == ["Enter the vacuum of throttle 1, in kilopascals"]
    assert lacking(**{"flow": "6; 6", "vacuum.2": "60"}) == ["Enter the vacuum of throttle 1, in kilopascals"]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"throttles": "1", "flow.1": "6"},
            "throttles",
            "Number of throttles must be 2 or more to compare their readings",
        ),
        ({"flow": "6; 6", "stays": "3"}, "stays", "Throttle to leave alone must be between 1 and 2"),
        (
            {"vacuum": "60; 40", "outside": "58 kPa"},
            "vacuum.1",
            "Vacuum of throttle 1 must be less than the air pressure, 58 kPa",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert (field, message) in errors_of(answered, "air.balance", **typed)


@pytest.mark.parametrize(("key", "text"), [("flow_error", "2"), ("flow_scatter", "0.3")])
def test_the_flow_meter_s_limits_may_be_typed_with_their_sign(key, text):
    plain, signed = (flows("6.0", "6.8", **{key: typed}) for typed in (text, f"± {text}"))
    assert signed.as_data() == plain.as_data()
    assert signed.drawing == plain.drawing != flows("6.0", "6.8").drawing


@pytest.mark.parametrize("key", ["vacuum_error", "vacuum_scatter"])
def test_the_vacuum_gauge_s_limits_may_be_typed_with_their_sign(key):
    plain, signed = (vacuums("60", "68", **{key: typed}) for typed in ("2 kPa", "± 2 kPa"))
    assert signed.as_data() == plain.as_data() != vacuums("60", "68").as_data()
