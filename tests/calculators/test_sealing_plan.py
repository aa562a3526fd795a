"""Sealing plan: the order against the clock, the crush of seals, and every mistake by name."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card
from calculators._catalogue import Calculator
from calculators._sealing.joints import clock
from calculators._sealing.seals import BANDS
from calculators._units import bare
from calculators.sealing_plan import FORM, TITLE, compute
from tests.examples import examples

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
SEALING = Calculator("sealing-plan", TITLE, "", FORM, compute)
TWO = {
    "joints": "2", "joint": "case; cover", "work": "30; 20", "cure": "2 h; 12 h", "seals": "0",
    "shop_temperature": "23 °C",
}  # fmt: skip
ONE_SEAL = {"seals": "1", "seal": "o_ring", "free": "3.00 mm", "fitted": "2.40 mm", "thickness_error": "0"}


def answer(**typed):
    return SEALING.answer(TWO | typed, MARRAM)


def value(report, key):
    return next(value for value in report.values if value.key == key)


def table(report, key):
    return next(table for table in report.tables if table.key == key)


def seal(**typed):
    return table(answer(**(ONE_SEAL | typed)), "seals").rows[0].cells


def error_of(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    error = caught.value.errors[0]
    return error.field, error.message


def test_the_long_cure_is_started_first_and_the_oil_waits_for_it():
    # by hand: 8:00 + 20 min + 12 h is 20:20; the other begins at 8:20, is done at 8:50 and cured at 10:50
    report = answer()
    assert report.lead == (
        "Make the joints in the order 2 – 1: oil may go in on day 1, 20:20, when joint 2, rocker covers, has cured."
    )
    assert [row.cells[2:] for row in table(report, "plan").rows] == [
        ("day 1, 08:00", None, "day 1, 08:20", "day 1, 20:20"),
        ("day 1, 08:20", None, "day 1, 08:50", "day 1, 10:50"),
    ]
    assert magnitude_in(value(report, "elapsed").quantity, "h") == pytest.approx(12 + 1 / 3)
    assert magnitude_in(value(report, "hands").quantity, "min") == 50
    assert value(report, "order").quantity == "no order is sooner"


def test_overnight_becomes_a_time():
    # by hand: begun at 18:00 and shut at 19:00, 20 min and 12 h end at 6:20 on day 2
    report = answer(start_hour="18", **{"work.1": "30", "work.2": "20"}, work="30; 20")
    assert report.lead.endswith("oil may go in on day 2, 06:20, when joint 2, rocker covers, has cured.")


def test_work_that_does_not_fit_before_closing_waits_for_the_morning():
    report = answer(start_hour="18", start_minute="45")
    assert table(report, "plan").rows[0].cells[2] == "day 2, 07:00"
    day_and_night = answer(start_hour="18", start_minute="45", opens="0", shuts="24")
    assert table(day_and_night, "plan").rows[0].cells[2] == "day 1, 18:45"


def test_a_joint_waits_for_the_earlier_one_to_set():
    # by hand: 8:00 + 30 min + 45 min of setting is 9:15
    report = answer(earlier="; 1", setting="45; ")
    rows = table(report, "plan").rows
    assert [row.cells[0] for row in rows] == ["1", "2"]
    assert rows[1].cells[2] == "day 1, 09:15"


def test_ten_degrees_colder_the_cure_takes_twice_as_long():
    # by hand: 8:20 + 24 h
    report = answer(shop_temperature="13 °C")
    assert "day 2, 08:20" in report.lead
    assert "day 2, 08:20" in answer(shop_temperature="55.4 °F").lead
    assert answer(shop_temperature="35 °C").lead == answer().lead


def test_a_cold_workshop_is_warned_of_and_a_freezing_one_refused():
    assert any("do not cure at all" in caution.text for caution in answer(shop_temperature="2 °C").cautions)
    assert not any("do not cure at all" in caution.text for caution in answer().cautions)
    assert error_of(shop_temperature="-10 °C") == (
        "shop_temperature",
        "Workshop temperature must be higher: so cold, a sealer would take 10 times as long, and may never cure",
    )


@pytest.mark.parametrize(
    ("shop", "minutes"),
    [("38 °C", "3.5"), ("33 °C", "5"), ("91.4 °F", "5"), ("23 °C", "10"), ("13 °C", "10")],
)
def test_warmth_shortens_the_open_time_by_the_law_that_lengthens_the_cure(shop, minutes):
    # by hand: 10 min · 2 ^ ((23 − 38) ÷ 10) is 3.54 min, never printed longer; the cold lengthens none
    report = answer(open_time="10 min; ", shop_temperature=shop)
    (walk,) = report.walks
    said = next(step.words for step in walk.stages[0].steps if step.key == "joint_1")
    assert said.endswith(f"Last bolt within {minutes} min of the first bead.")
    assert next(row for row in table(report, "plan").rows if row.cells[0] == "1").cells[3] == minutes
    warned = any("a bead skins sooner" in caution.text for caution in report.cautions)
    assert warned == (minutes != "10")


def test_a_workshop_so_hot_that_a_bead_skins_at_once_is_refused():
    # by hand: 2 ^ (−27 ÷ 5) is 2 %
    assert error_of(shop_temperature="50 °C", doubling="5") == (
        "shop_temperature",
        "Workshop temperature must be lower: so warm, a bead would skin in 2% of its open time",
    )


@given(minutes=st.integers(0, 600), more=st.integers(1, 600))
@settings(max_examples=examples(40))
def test_a_longer_cure_is_never_sooner(minutes, more):
    short, long = (
        magnitude_in(value(answer(cure=f"{time} min; 12 h"), "elapsed").quantity, "min")
        for time in (minutes, minutes + more)
    )
    assert long >= short - 1e-6


def test_walk_has_every_joint_with_its_minutes_and_then_the_checks():
    (walk,) = answer(open_time="10 min; ").walks
    joints, checks = walk.stages
    assert [step.label for step in joints.steps] == ["2: rocker covers", "1: case joint or cover plate", "Cured"]
    assert [step.minutes for step in joints.steps] == [20, 30, None]
    assert "Last bolt within 10 min of the first bead." in joints.steps[1].words
    assert "first bead" not in joints.steps[0].words
    assert "hose" in str(checks).lower()
    assert "washer on both sides" in str(checks)


def test_one_joint_alone_has_no_order():
    report = SEALING.answer({"joints": "1", "joint": "case", "work": "30", "cure": "1 h", "seals": "0"}, MARRAM)
    assert report.lead.startswith("Oil may go in on day 1, ")


def test_ten_joints_in_a_row_are_drawn():
    typed = {
        "joints": "10",
        "joint": ";".join(["case"] * 10),
        "work": "; ".join(["60"] * 10),
        "cure": ";".join(["48"] * 10),
    }
    report = SEALING.answer(typed | {"seals": "0", "earlier": "; 1; 2; 3; 4; 5; 6; 7; 8; 9"}, MARRAM)
    assert len(table(report, "plan").rows) == 10


def test_a_moment_is_said_by_day_and_clock_rounded_up():
    assert clock(0) == "day 1, 00:00"
    assert clock(59.00001) == "day 1, 01:00"
    assert clock(2 * 1440 - 1) == "day 2, 23:59"


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"start_hour": "24"}, "start_hour", "Hour of the start must be between 0 and 23"),
        ({"start_minute": "60"}, "start_minute", "Minutes past that hour must be between 0 and 59"),
        ({"joints": "11"}, "joints", "Number of joints must be between 1 and 10"),
        ({"joint": "roof; cover"}, "joint.1", None),
        ({"work": "; 20"}, "work.1", "Enter the work of joint 1, in minutes"),
        ({"work": "0.5; 20"}, "work.1", "Work of joint 1 must be between 1 min and 720 min"),
        ({"cure": "2; 337"}, "cure.2", "Cure before oil of joint 2 must be between 0 h and 336 h"),
        ({"cure": "2 h; 3 mm"}, "cure.2", "Cure before oil of joint 2 must use a unit of duration, like min or h"),
        ({"opens": "19"}, "shuts", "Hour the workshop shuts must be later than the hour it opens"),
        (
            {"opens": "8", "shuts": "9", "work": "61; 20"},
            "work.1",
            "Work of joint 1 must be no longer than the workshop is open, 60 min",
        ),
        ({"earlier": "3; "}, "earlier.1", "Earlier joint of joint 1 must be another joint, 1 to 2"),
        ({"earlier": "1; "}, "earlier.1", "Earlier joint of joint 1 must be another joint, 1 to 2"),
        (
            {"earlier": "2; 1"},
            "earlier.1",
            "Earlier joint of joint 1 leads back to joint 1. Leave one of them empty.",
        ),
        ({"doubling": "2"}, "doubling", "Degrees colder that double the time must be between 3 and 50"),
        ({"seals": "11"}, "seals", "Number of seals and washers must be between 0 and 10"),
        (ONE_SEAL | {"free": ""}, "free.1", "Enter the free thickness of seal 1, in millimetres"),
        (ONE_SEAL | {"fitted": "31"}, "fitted.1", "Fitted thickness of seal 1 must be between 0.05 mm and 30 mm"),
        (
            ONE_SEAL | {"least_crush": "35%"},
            "least_crush.1",
            "Least crush of seal 1 must be no more than the most, 30%",
        ),
        (
            ONE_SEAL | {"least_crush": "30%", "most_crush": "20%"},
            "most_crush.1",
            "Most crush of seal 1 must be no less than the least, 30%",
        ),
        (
            {"thickness_error": "1.1"},
            "thickness_error",
            "Error limit of the thickness readings must be between 0 mm and 1 mm",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    found = error_of(**typed)
    assert found[0] == field
    assert message is None or found[1] == message


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
def test_crush_is_judged_by_its_band(fitted, verdict, deed):
    assert seal(fitted=fitted)[-2:] == (verdict, deed)


def test_what_the_gauge_cannot_tell_is_too_close_to_call():
    assert seal(fitted="2.69", thickness_error="0.05")[-2:] == ("too close to call", "measure again, finer")
    assert seal(fitted="2.69 ± 0.05 mm")[-2] == "too close to call"


@given(
    fitted=st.floats(1.5, 3).map(lambda one: round(one, 3)),
    limit=st.floats(0.001, 0.2).map(lambda one: round(one, 3)),
    kind=st.sampled_from(sorted(BANDS)),
)
@settings(max_examples=examples(40))
def test_never_in_when_the_uncertainty_crosses_the_limit(fitted, limit, kind):
    cells = seal(seal=kind, fitted=str(fitted), thickness_error=str(limit))
    best, expanded = bare(cells[2].magnitude)
    if best - expanded < BANDS[kind][1] - 1e-6 or best + expanded > BANDS[kind][2] + 1e-6:
        assert cells[-2] != "in"


def test_the_makers_band_wins():
    assert seal(least_crush="25%", most_crush="30%")[-2] == "out"


def test_seals_that_fail_are_named_in_the_answer():
    assert answer(**ONE_SEAL).lead.endswith("All seals are crushed as they should be.")
    assert answer(**(ONE_SEAL | {"fitted": "2.9"})).lead.endswith("Seal 1 will not seal as measured.")
    assert answer(**(ONE_SEAL | {"fitted": "2.69 ± 0.05"})).lead.endswith("Seal 1: too close to call.")
