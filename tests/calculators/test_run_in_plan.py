"""The run-in plan: ceilings, checks, steps, cautions, the gauge's verdict, and what cannot be true together."""

import json
import re
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card, uncertainty_in
from calculators._catalogue import Calculator
from calculators._page import live_answer
from calculators.run_in_plan import FORM, TITLE, compute
from tests.examples import examples

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
PLAN = Calculator("run-in-plan", TITLE, "", FORM, compute)
TYPED = {"start": "2026-11-25", "odometer": "48250"}


def answer(card=MARRAM, **typed):
    return PLAN.answer(TYPED | typed, card)


def errors_of(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    return [(error.field, error.message) for error in caught.value.errors]


def value(report, key):
    return next(value for value in report.values if value.key == key)


def rows(report, key):
    return next(table for table in report.tables if table.key == key).as_data()["rows"]


def steps(report):
    return {step.key: step for stage in report.walks[0].stages for step in stage.steps}


def told(report, signal):
    return " ".join(caution.text for caution in report.cautions if caution.signal == signal)


def test_the_lead_says_the_ceiling_its_odometer_and_the_oil_change():
    assert answer().lead == (
        "Stay below 3050 r/min until the odometer shows 48450; change the oil at 48750, about Sat 19 Dec 2026."
    )


def test_the_card_for_the_dash_joins_ceilings_and_checks_in_the_order_of_the_odometer():
    found = rows(answer(), "dash")
    assert [row["odometer"] for row in found] == [48250, 48300, 48450, 48550, 48650, 48750, 48850, 53750]
    assert found[0]["due"] == "Wed 25 Nov 2026: First start; Cold check on Thu 26 Nov 2026"
    assert found[2]["due"] == "Sat 5 Dec 2026"
    assert found[5]["due"] == "Sat 19 Dec 2026: First oil change; Second re-check"
    assert [row["ceiling"] for row in found] == [3050, 3050, 3350, 3650, 3950, 4250, 4600, 4600]


def test_the_card_for_the_dash_stands_open_and_first():
    first = answer().tables[0]
    assert (first.key, first.folded) == ("dash", False)
    assert "oil lamp on, stop" in first.title


def test_an_odometer_in_miles_brings_its_own_round_distances():
    found = rows(answer(odometer_unit="miles"), "dash")
    assert [row["odometer"] - 48250 for row in found] == [0, 30, 120, 180, 240, 300, 360, 3300]


def test_distances_typed_win_over_the_usual():
    found = rows(answer(first="100", end="300", rises="2", early="20", second="250", oil="150"), "dash")
    assert [row["odometer"] - 48250 for row in found] == [0, 20, 100, 150, 250, 300, 5150, 5250]


def test_oil_and_lash_come_by_the_calendar_where_it_is_sooner_than_the_odometer():
    slow = {due["odometer"]: due["due"].partition(":")[0] for due in rows(answer(weekly="20", months="6"), "dash")}
    # by hand: 500 km at 20 km a week are 175 days after 26 Nov 2026; six months later
    assert (slow[48750], slow[53750]) == ("Thu 20 May 2027", "Sat 20 Nov 2027")
    fast = {due["odometer"]: due["due"].partition(":")[0] for due in rows(answer(weekly="1000", months="12"), "dash")}
    assert (fast[48750], fast[53750]) == ("Sun 29 Nov 2026", "Sun 3 Jan 2027")


def test_piston_speed_carries_the_uncertainty_of_the_stroke():
    piston = value(answer(stroke="74 ± 0.5 mm"), "piston_speed").quantity
    # by hand: 2 · 0.074 m · 3050 ÷ 60 s; U = 2 · 0.5/√3 mm in 74
    assert magnitude_in(piston, "m/s") == pytest.approx(7.52333, abs=1e-5)
    assert uncertainty_in(piston, "m/s") == pytest.approx(7.52333 * 2 * 0.5 / 3**0.5 / 74, rel=1e-4)
    assert value(answer(stroke="74 ± 0.5 mm"), "piston_speed").budget == (("Stroke", pytest.approx(1)),)


def test_the_fast_idle_is_higher_for_a_new_cam_and_the_maker_s_wins():
    assert value(answer(), "least_pressure").label == "Least oil pressure at 1500 r/min"
    assert value(answer(cam="new"), "least_pressure").label == "Least oil pressure at 2000 r/min"
    assert value(answer(cam="new", fast_idle="1800; 2200"), "least_pressure").label.endswith("1800 r/min")


def test_least_pressure_lies_between_the_maker_s_two_figures():
    # by hand: 0.8 + 2.0 · (1500 − 850) ÷ (2500 − 850)
    least = value(answer(), "least_pressure").quantity
    assert magnitude_in(least, "bar") == pytest.approx(0.8 + 2.0 * 650 / 1650)


def test_a_new_cam_stands_at_its_fast_idle_for_all_the_minutes():
    found = rows(answer(cam="new", minutes="20"), "watch")
    assert [row["minutes"] for row in found] == [
        "plugs out",
        "0 to 1",
        "1 to 3",
        "3 to 5",
        "5 to 10",
        "10 to 15",
        "15 to 20",
    ]
    assert all("no load" in row["deed"] for row in found[1:])


def test_the_road_gives_the_load_after_five_minutes_standing():
    found = rows(answer(load="road", minutes="20"), "watch")
    assert [row["minutes"] for row in found[1:]] == ["0 to 1", "1 to 3", "3 to 5", "5 to 20"]
    assert found[-1]["deed"].startswith("On the road after the cold check")
    assert steps(answer(load="road", minutes="20"))["warm"].minutes == 15
    assert steps(answer(load="rollers"))["warm"].minutes == 10


def test_load_and_release_begin_after_three_minutes_on_rollers():
    found = rows(answer(load="rollers", minutes="12"), "watch")
    assert [(row["minutes"], "light load" in row["deed"]) for row in found[1:]] == [
        ("0 to 1", False),
        ("1 to 3", False),
        ("3 to 5", True),
        ("5 to 10", True),
        ("10 to 12", True),
    ]


@pytest.mark.parametrize("minutes", ["5", "6", "20", "40"])
@pytest.mark.parametrize("load", ["road", "rollers"])
@pytest.mark.parametrize("cam", ["old", "new"])
def test_the_minutes_join_from_nought_to_the_end(minutes, load, cam):
    edges = [row["minutes"].split(" to ") for row in rows(answer(minutes=minutes, load=load, cam=cam), "watch")[1:]]
    assert edges[0][0] == "0"
    assert edges[-1][1] == minutes
    assert all(one[1] == later[0] for one, later in pairwise(edges))


def test_steps_that_are_a_matter_of_time_carry_a_clock():
    found = steps(answer(load="rollers", minutes="20"))
    assert [found[f"burst_{burst}"].minutes for burst in (1, 2, 3, 4)] == [1, 1, 1, 1]
    assert sum(step.minutes for key, step in found.items() if key.startswith("minute_")) == 20
    assert found["exhaust"].minutes is None


def test_the_walk_names_the_limits_and_the_readings_of_the_odometer():
    found = steps(answer(temperature="120 °C"))
    assert "At least 1.6 bar, oil below 120 °C." in found["minute_1"].words
    assert found["due_oil"].large == "First oil change · 48750"
    assert "lash 0.15 mm inlet, 0.20 mm exhaust" in found["lash"].words


def test_a_limit_of_temperature_is_told_in_the_unit_typed():
    assert rows(answer(temperature="250 °F"), "watch")[1]["temperature"] == "250 °F"
    assert "temperature" not in rows(answer(), "watch")[1]


@pytest.mark.parametrize(
    ("nuts", "words"),
    [
        ("maker", "Head nuts only if the maker asks for it."),
        ("again", "Head nuts by the maker's way, before the lash."),
        ("never", "Leave the head nuts alone."),
    ],
)
def test_head_nuts_are_tightened_again_only_as_the_maker_says(nuts, words):
    assert steps(answer(nuts=nuts))["nuts"].words == words


def test_without_clearances_the_lash_is_told_without_figures():
    report = answer(inlet_clearance="", exhaust_clearance="")
    assert steps(report)["lash"].words == "Set cold, after the nuts: lash."


@pytest.mark.parametrize(
    ("load", "signal", "words"), [("road", "warning", "first bend"), ("rollers", "danger", "rollers")]
)
def test_each_way_of_loading_has_its_caution(load, signal, words):
    assert words in told(answer(load=load), signal)
    assert "Carbon monoxide" in told(answer(load=load), "danger")


def test_no_vehicle_is_loaded_on_stands():
    with pytest.raises(InputErrors, match="First load must be one of: "):
        answer(load="stands")


def test_road_speeds_in_each_gear_go_down_to_whole_ones():
    found = rows(answer(gears="6.4 11.8 18.6 27.5"), "gears")
    # by hand: 3.05 · 6.4 = 19.52; 3.05 · 27.5 = 83.875
    assert (found[0]["gear_1"], found[0]["gear_4"]) == (19, 83)
    assert found[-1]["until"] == "run in"


def test_road_speeds_follow_the_odometer_s_unit():
    # 17.088 mph is 27.5 km/h; by hand: 27.5 ÷ 1.609344 · 3.05 = 52.1
    assert rows(answer(gears="27.5 km/h", odometer_unit="miles"), "gears")[0]["gear_1"] == 52


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
def test_a_pressure_is_judged_with_the_gauge_s_error(read, verdict):
    (row,) = rows(answer(read_idle=read), "pressure")
    assert row["verdict"] == verdict


def test_a_perfect_gauge_decides_on_the_limit_itself():
    assert rows(answer(read_idle="0.8", gauge_error="0"), "pressure")[0]["verdict"] == "enough"
    assert rows(answer(read_idle="0.79", gauge_error="0"), "pressure")[0]["verdict"] == "too low"


@given(st.integers(10, 200), st.integers(1, 100))
@settings(max_examples=examples(40), deadline=None)
def test_a_pressure_is_never_enough_where_its_interval_crosses_the_limit(hundredths, limit):
    report = answer(read_idle=f"{hundredths / 100:.2f}", gauge_error=f"{limit / 100:.2f}")
    spread = 2 * limit / 100 / 3**0.5  # k = 2, rectangular
    (row,) = rows(report, "pressure")
    crosses = abs(hundredths / 100 - 0.8) < spread * (1 - 1e-9)
    assert (row["verdict"] == "too close to call with this gauge") == crosses


def test_a_pressure_that_is_too_low_stops_the_plan():
    report = answer(read_idle="0.5", read_hot="2.0")
    assert report.lead == "Do not run it on: oil pressure is too low at idle and 2500 r/min."
    assert "Do not run it on" in told(report, "warning")
    assert "Do not run it on" not in told(answer(read_idle="0.9"), "warning")


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        (
            {"start": "4/5/2026"},
            (
                "start",
                "Date of the first start must say which number is the month: 4/5/2026 can be "
                "4 May or 5 April. Type 2026-05-04 or 2026-04-05",
            ),
        ),
        ({"start": ""}, ("start", "Enter the date of the first start, like 2026-11-25")),
        ({"odometer": "48,250"}, ("odometer", "Odometer reading must be a whole number, like 48250")),
        ({"weekly": "4"}, ("weekly", "Distance driven in a week must be between 5 and 5000")),
        ({"temperature": "20 °C"}, ("temperature", "Highest oil temperature must be between 60 °C and 180 °C")),
        (
            {"fast_idle": "2500 2000"},
            ("fast_idle", "Fast idle must rise from its lowest to its highest, like 2000 2500"),
        ),
        ({"end": "150"}, ("end", "Distance to the last rise must be over 200 km")),
        ({"early": "600"}, ("second", "Distance to the second re-check must be over 600 km")),
        (
            {"share": "40 %"},
            ("share", "First ceiling must be higher: it comes to 1800 r/min, and the fast idle goes up to 2000 r/min"),
        ),
        (
            {"fast_idle": "3000 3500"},
            ("fast_idle", "Fast idle must be lower: it goes up to 3500 r/min, and the first ceiling is 3050 r/min"),
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
    assert errors_of(**typed) == [error]


def test_the_calendar_file_is_named_by_the_day_and_depends_on_nothing_but_what_is_typed():
    first, again = answer().attachments[0], answer().attachments[0]
    assert first == again
    assert first.name == "run-in-plan-2026-11-25.ics"
    assert "DTSTAMP:20261125T000000Z" in first.text


def test_without_a_card_the_plan_needs_the_engine_typed():
    report = PLAN.answer(PLAN.form.prefilled(None, example=True))
    assert "3050 r/min" in report.lead
    assert json.dumps(report.as_data(), allow_nan=False)


def test_the_file_to_take_away_is_on_the_page():
    page = live_answer(PLAN, PLAN.form.prefilled(MARRAM, example=True), MARRAM, "p", {})
    assert (
        'download="run-in-plan-2026-11-25.ics" href="data:text/calendar;charset=utf-8,BEGIN%3AVCALENDAR%0D%0A'
        in page["answer"]
    )


def test_the_longest_plan_that_can_be_typed_ends():
    report = answer(
        start="2150-12-31", weekly="5", lash_interval="30000", oil_interval="30000", months="36", end="5000"
    )
    assert re.match(r"\w{3} \d+ \w{3} 2\d{3}: Next ", rows(report, "dash")[-1]["due"])
