"""The least oil pressure at each speed, and the verdict on what the gauge showed."""

import re
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import quantity
from calculators.bench.asking import answered, asked_with
from tests.answers import errors_of
from tests.examples import examples
from tests.physics import goes_as_physics_sends_it, rises
from tests.site.conftest import ROOT

MAKER = {"idle_speed": "850", "pressure_idle": "0.8 bar", "pressure_hot": "2.8 bar", "pressure_speed": "2500"}


pressure = partial(answered, "running_in.oil_pressure", **MAKER)


def row_at(answer, place):
    return next(row for row in answer.tables[0].as_data()["rows"] if row["where"] == place)


def test_least_pressure_lies_between_the_makers_two_figures():
    answer = pressure()
    # by hand: 0.8 + 2.0 · (1500 − 850) ÷ (2500 − 850)
    assert answer.value("least_pressure").as_data()["magnitude"] == pytest.approx(0.8 + 2.0 * 650 / 1650)
    assert answer.headline == "Below 1.6 bar at 1500 r/min: switch off"
    assert [row["least"] for row in answer.tables[0].as_data()["rows"]] == pytest.approx([0.8, 1.5879, 2.8], abs=1e-4)
    assert answer.warnings == ()


def test_the_least_pressure_goes_on_as_a_value():
    (worked,) = pressure().worked
    assert (worked.name, worked.value.magnitude) == ("least_oil_pressure", pytest.approx(1.587879, abs=1e-6))


def test_the_fast_idle_is_higher_for_a_new_cam_and_the_makers_wins():
    assert pressure(cam="new").value("least_pressure").label == "Least oil pressure at 2000 r/min"
    assert pressure(cam="new", fast_idle="1800; 2200").value("least_pressure").label.endswith("1800 r/min")


def test_it_answers_in_the_unit_that_the_maker_gave():
    # by hand: 12 + 30 · 650 ÷ 1650 = 23.8 psi
    answer = pressure(pressure_idle="12 psi", pressure_hot="42 psi")
    assert answer.headline == "Below 24 psi at 1500 r/min: switch off"
    assert "12 psi at idle, 24 psi at 1500 r/min and 42 psi at 2500 r/min" in answer.says
    assert "24 psi" in answer.drawing.svg
    assert answer.value("least_pressure").texts == ("24 psi", "1.6 bar")


@pytest.mark.parametrize(
    ("read", "verdict"),
    [
        ("1.2", "enough"),
        ("0.9", "too close to call with this gauge"),
        ("0.7", "too close to call with this gauge"),
        ("0.5", "too low"),
        ("0.9 ± 0.05 bar", "enough"),
    ],
)
def test_a_pressure_is_judged_with_the_gauges_error(read, verdict):
    answer = pressure(read_idle=read)
    assert row_at(answer, "idle")["verdict"] == verdict
    signals = {"enough": [], "too low": ["warning"]}.get(verdict, ["notice"])
    assert [caution.signal for caution in answer.warnings] == signals


def test_a_perfect_gauge_decides_on_the_limit_itself():
    assert row_at(pressure(read_idle="0.8", gauge_error="0"), "idle")["verdict"] == "enough"
    assert row_at(pressure(read_idle="0.79", gauge_error="0"), "idle")["verdict"] == "too low"


@given(st.integers(10, 200), st.integers(1, 100))
@settings(max_examples=examples(40), deadline=None)
def test_a_pressure_is_never_enough_where_its_interval_crosses_the_limit(hundredths, limit):
    answer = pressure(read_idle=f"{hundredths / 100:.2f}", gauge_error=f"{limit / 100:.2f}")
    spread = 2 * limit / 100 / 3**0.5  # k = 2, rectangular
    crosses = abs(hundredths / 100 - 0.8) < spread * (1 - 1e-9)
    assert (row_at(answer, "idle")["verdict"] == "too close to call with this gauge") == crosses


def test_a_pressure_that_is_too_low_stops_it():
    answer = pressure(read_idle="0.5", read_hot="2.0")
    assert answer.headline == "Stop: too low at idle and 2500 r/min"
    assert answer.says == "Do not keep it running: oil pressure is too low at idle and 2500 r/min."
    assert "Do not keep it running" in answer.warnings[0].text
    assert pressure(read_hot="2.0").headline == "Stop: too low at 2500 r/min"


def test_the_drawing_says_what_was_read():
    assert "idle least 0.8 bar, read 1.2 bar" in pressure(read_idle="1.2").drawing.svg


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        (
            {"fast_idle": "2500 2000"},
            ("fast_idle", "Fast idle must rise from its lowest to its highest, like 2000 2500"),
        ),
        ({"idle_speed": "1600"}, ("idle_speed", "Idle speed must be below the fast idle, 1500 r/min")),
        ({"pressure_speed": "800"}, ("pressure_speed", "Speed for that pressure must be above the idle speed")),
        (
            {"pressure_hot": "0.5"},
            ("pressure_hot", "Least oil pressure at speed must not be below the one at idle"),
        ),
    ],
)
def test_each_mistake_is_named_with_its_remedy(typed, error):
    assert errors_of(pressure, **typed) == [error]


def test_a_figure_to_keep_to_has_no_plus_minus():
    (error,) = asked_with("running_in.oil_pressure", ["pressure_hot=2.8 ± 0.1 bar"]).errors
    assert error.message.startswith("Least oil pressure at speed must")


def test_an_error_limit_may_be_typed_with_its_sign():
    plain, signed = (pressure(read_idle="1.05", gauge_error=typed) for typed in ("0.3 bar", "± 0.3 bar"))
    assert signed.as_data() == plain.as_data() != pressure(read_idle="1.05").as_data()


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    pressure, rises("pressure_hot", (1, 5), "least_pressure", "the limit lies on the line to the hot pressure")
)


def test_the_answer_says_what_two_manuals_print_for_other_engines():
    """Normal at full speed 20 to 30 psi, at idle never below 7 psi: US Army TM 10-3930-623-12, after-start check.

    30 to 60 psi at the greatest speed: US Army TM 55-1930-209-14&P-9-4, instruments. Both read in a stored copy.
    """
    (said,) = (note for note in pressure().notes if "other engines" in note)
    page = (ROOT / "docs" / "reference" / "published-limits.md").read_text(encoding="utf-8")
    for manual, printed in {
        "TM 10-3930-623-12": ("20 to 30 psi (1.4 to 2.1 bar)", "at least 7 psi (0.5 bar)"),
        "TM 55-1930-209-14&P-9-4": ("30 to 60 psi (2.1 to 4.1 bar)",),
    }.items():
        for text in printed:
            assert text in said
            assert any(text in row and manual in row for row in page.splitlines())
            psi, bar = (re.findall(r"[\d.]+", part) for part in text.split("("))
            for ours, theirs in zip(psi, bar, strict=True):
                assert quantity(float(ours), "psi").to("bar").magnitude == pytest.approx(float(theirs), abs=0.05)
