"""The order of the joints against the clock, and every mistake by name."""

from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in
from calculators.bench.asking import answered, asked_with
from calculators.bench.page import question_html
from calculators.sealing.joint_plan import clock
from tests.answers import errors_of
from tests.examples import examples
from tests.physics import falls, goes_as_physics_sends_it, rises

TWO = {"joint": "case; cover", "work": "30; 20", "cure": "2 h; 12 h", "shop_temperature": "23 °C"}


answer = partial(answered, "sealing.order", **TWO)


def plan(**typed):
    (table,) = answer(**typed).tables
    return {row.cells[0]: row.cells for row in table.rows}


def elapsed(**typed):
    return magnitude_in(answer(**typed).value("elapsed").quantity, "min")


def test_the_long_cure_is_started_first_and_the_oil_waits_for_it():
    # by hand: 8:00 + 20 min + 12 h is 20:20; the other begins at 8:20, is done at 8:50 and cured at 10:50
    found = answer()
    assert found.headline == "2 – 1 · oil day 1, 20:20"
    assert found.says == (
        "Make the joints in the order 2 – 1: oil may go in on day 1, 20:20, when joint 2, rocker covers, has cured."
    )
    assert [cells[2:] for cells in plan().values()] == [
        ("day 1, 08:00", None, "day 1, 08:20", "day 1, 20:20"),
        ("day 1, 08:20", None, "day 1, 08:50", "day 1, 10:50"),
    ]
    assert elapsed() == pytest.approx(740)
    assert magnitude_in(found.value("hands").quantity, "min") == 50
    assert found.value("order").quantity == "no order is sooner"
    assert "Oil may go in on day 1, 20:20." in found.drawing.svg


def test_overnight_becomes_a_time():
    # by hand: begun at 18:00 and shut at 19:00, 20 min and 12 h end at 6:20 on day 2
    assert answer(start_hour="18").headline == "2 – 1 · oil day 2, 06:20"


def test_work_that_does_not_fit_before_closing_waits_for_the_morning():
    late = {"start_hour": "18", "start_minute": "45"}
    assert plan(**late)["2"][2] == "day 2, 07:00"
    assert plan(**late, opens="0", shuts="24")["2"][2] == "day 1, 18:45"


def test_a_joint_waits_for_the_earlier_one_to_set():
    # by hand: 8:00 + 30 min + 45 min of setting is 9:15
    rows = plan(**{"earlier.2": "1", "setting.1": "45"})
    assert list(rows) == ["1", "2"]
    assert rows["2"][2] == "day 1, 09:15"


def test_ten_degrees_colder_the_cure_takes_twice_as_long():
    # by hand: 8:20 + 24 h
    assert answer(shop_temperature="13 °C").headline.endswith("oil day 2, 08:20")
    assert answer(shop_temperature="55.4 °F").headline.endswith("oil day 2, 08:20")
    assert answer(shop_temperature="35 °C").headline == answer().headline


@given(minutes=st.integers(0, 600), more=st.integers(1, 600))
@settings(max_examples=examples(40))
def test_a_longer_cure_is_never_sooner(minutes, more):
    short, long = (elapsed(cure=f"{time} min; 12 h") for time in (minutes, minutes + more))
    assert long >= short - 1e-6


def test_the_steps_have_every_joint_with_its_minutes_and_then_the_checks():
    joints, checks = answer(**{"open_time.1": "10 min"}).steps.stages
    assert [step.label for step in joints.steps] == ["2: rocker covers", "1: case joint or cover plate", "Cured"]
    assert [step.minutes for step in joints.steps] == [20, 30, None]
    assert "Last bolt within 10 min of the first bead." in joints.steps[1].words
    assert "first bead" not in joints.steps[0].words
    assert "hose" in str(checks).lower()
    assert "washer on both sides" in str(checks)


def test_warmth_shortens_what_the_steps_say_of_the_open_time():
    # by hand: 10 min · 2 ^ ((23 − 38) ÷ 10) is 3.54 min, never printed longer
    found = answer(**{"open_time.1": "10 min"}, shop_temperature="38 °C")
    assert "Last bolt within 3.5 min of the first bead." in found.steps.stages[0].steps[1].words
    assert any("open times here are 35% of the sheet's" in caution.text for caution in found.warnings)
    assert not any("skins sooner" in caution.text for caution in answer(shop_temperature="38 °C").warnings)


def test_the_plan_can_be_taken_away_as_a_table():
    (attachment,) = answer().attachments
    assert attachment.media_type == "text/csv"
    assert attachment.text.splitlines()[1].startswith("2,rocker covers,")


def test_one_joint_alone_has_no_order():
    found = answered("sealing.order", joint="case", work="30", cure="1 h")
    assert found.headline.startswith("Oil day 1, ")
    assert found.says.startswith("Oil may go in on day 1, ")


def test_ten_joints_in_a_row_are_planned_and_fit_the_headline():
    typed = {"joint": "; ".join(["case"] * 10), "work": "; ".join(["60"] * 10), "cure": "; ".join(["336"] * 10)}
    chain = {f"earlier.{number}": str(number - 1) for number in range(2, 11)}
    chain |= {f"setting.{number}": "10080" for number in range(1, 10)}
    found = answered("sealing.order", **typed, **chain, shop_temperature="-6 °C")
    assert len(found.tables[0].rows) == 10
    assert found.headline.startswith("1 – 2 – 3 – 4 – 5 – 6 – 7 – 8 – 9 – 10 · oil day ")


def test_a_cold_workshop_is_warned_of():
    assert any("do not cure at all" in caution.text for caution in answer(shop_temperature="2 °C").warnings)
    assert not any("do not cure at all" in caution.text for caution in answer().warnings)


def test_what_a_heading_is_too_short_for_stands_above_the_table():
    asked = asked_with("sealing.order")
    assert "overnight is 12 h" in question_html(asked, "an engine", "")


def test_without_a_joint_it_says_what_it_needs():
    asked = asked_with("sealing.order")
    assert [error.message for error in asked.lacking] == ["Enter the joints, one row each"]
    assert not asked.errors


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"joint": "roof; cover"}, "joint.1", None),
        ({"opens": "19"}, "shuts", "Hour the workshop shuts must be later than the hour it opens"),
        (
            {"opens": "8", "shuts": "9", "work": "61; 20"},
            "work.1",
            "Work of joint 1 must be no longer than the workshop is open, 60 min",
        ),
        ({"earlier.1": "3"}, "earlier.1", "Earlier joint of joint 1 must be another joint, 1 to 2"),
        ({"earlier.1": "1"}, "earlier.1", "Earlier joint of joint 1 must be another joint, 1 to 2"),
        (
            {"joint": "case", "work": "30", "cure": "1", "earlier.1": "1"},
            "earlier.1",
            "Earlier joint of joint 1 must be empty, with one joint",
        ),
        (
            {"earlier.1": "2", "earlier.2": "1"},
            "earlier.1",
            "Earlier joint of joint 1 leads back to joint 1. Leave one of them empty.",
        ),
        (
            {"shop_temperature": "-10 °C"},
            "shop_temperature",
            "Workshop temperature must be higher: this cold, a sealer would take 10 times as long, and may never cure",
        ),
        (
            # by hand: 2 ^ (−27 ÷ 5) is 2 %
            {"shop_temperature": "50 °C", "doubling": "5"},
            "shop_temperature",
            "Workshop temperature must be lower: this warm, a bead would skin in 2% of its open time",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    found = errors_of(answer, **typed)[0]
    assert found[0] == field
    assert message is None or found[1] == message


def test_a_moment_is_said_by_day_and_clock_rounded_up():
    assert clock(0) == "day 1, 00:00"
    assert clock(59.00001) == "day 1, 01:00"
    assert clock(2 * 1440 - 1) == "day 2, 23:59"


def by_cells(**typed):
    """Return the answer with the two joints typed cell by cell, so that one cell can be another."""
    cells = {
        f"{key}.{row}": text for key in ("joint", "work", "cure") for row, text in enumerate(TWO[key].split("; "), 1)
    }
    return answered("sealing.order", **cells | {"shop_temperature": TWO["shop_temperature"]} | typed)


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    by_cells,
    rises("work.1", (10, 120), "hands", "work on one joint is hands busy"),
    rises("cure.2", (2, 60), "elapsed", "oil waits for the slowest cure", strictly=False),
    falls("shop_temperature", (5, 40), "elapsed", "cures are quicker where it is warm", strictly=False),
)
