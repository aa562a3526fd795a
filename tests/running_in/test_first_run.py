"""The first run minute by minute: fast idle, spells, limits, dangers, steps."""

from functools import partial
from itertools import pairwise

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered
from tests.answers import errors_of, rows, steps

MAKER = {"idle_speed": "850", "pressure_idle": "0.8 bar", "pressure_hot": "2.8 bar", "pressure_speed": "2500"}


first_run = partial(answered, "running_in.first_run")


def told(answer, signal):
    return " ".join(caution.text for caution in answer.warnings if caution.signal == signal)


def test_the_road_gives_the_load_after_five_minutes_standing():
    answer = first_run(load="road", minutes="20")
    assert [row["minutes"] for row in rows(answer)[1:]] == ["0 to 1", "1 to 3", "3 to 5", "5 to 20"]
    assert rows(answer)[-1]["deed"].startswith("On the road after the cold check")
    assert answer.headline == "5 min at 1500 to 2000 r/min, then 15 on the road"
    assert answer.says.endswith("for 5 minutes; after the cold check drive the other 15.")


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        ({"load": "road", "minutes": "20"}, 15),
        ({"load": "road", "minutes": "5"}, 10),
        ({"load": "rollers", "minutes": "20"}, 10),
        ({"load": "road", "minutes": "20", "cam": "new"}, 10),
    ],
)
def test_the_minutes_left_to_the_road_go_on_and_are_ten_where_none_are_left(typed, minutes):
    (worked,) = first_run(**typed).worked
    assert (worked.name, worked.value) == ("first_drive_minutes", minutes)


def test_a_new_cam_stands_at_its_fast_idle_for_all_the_minutes():
    answer = first_run(cam="new", minutes="20")
    assert [row["minutes"] for row in rows(answer)] == [
        "plugs out",
        "0 to 1",
        "1 to 3",
        "3 to 5",
        "5 to 10",
        "10 to 15",
        "15 to 20",
    ]
    assert all("no load" in row["deed"] for row in rows(answer)[1:])
    assert answer.headline == "20 min at 2000 to 2500 r/min"
    assert "never at a slow idle" in answer.notes[1]


def test_load_and_release_begin_after_three_minutes_on_rollers():
    answer = first_run(load="rollers", minutes="12")
    assert [(row["minutes"], "light load" in row["deed"]) for row in rows(answer)[1:]] == [
        ("0 to 1", False),
        ("1 to 3", False),
        ("3 to 5", True),
        ("5 to 10", True),
        ("10 to 12", True),
    ]
    assert "from the third minute on ten seconds of light load" in answer.says
    assert "minute 3 to 5 1500 to 2000 r/min, load and release" in answer.drawing.svg


@pytest.mark.parametrize("minutes", ["5", "6", "20", "40"])
@pytest.mark.parametrize("load", ["road", "rollers"])
@pytest.mark.parametrize("cam", ["old", "new"])
def test_the_minutes_join_from_nought_to_the_end(minutes, load, cam):
    found = rows(first_run(minutes=minutes, load=load, cam=cam))[1:]
    edges = [row["minutes"].split(" to ") for row in found]
    assert (edges[0][0], edges[-1][1]) == ("0", minutes)
    assert all(one[1] == later[0] for one, later in pairwise(edges))


def test_steps_that_are_a_matter_of_time_carry_a_clock():
    found = steps(first_run(load="rollers", minutes="20"))
    assert [found[f"burst_{burst}"].minutes for burst in (1, 2, 3, 4)] == [1, 1, 1, 1]
    assert sum(step.minutes for key, step in found.items() if key.startswith("minute_")) == 20
    assert found["exhaust"].minutes is None


def test_the_steps_name_the_limits():
    found = first_run(**MAKER, temperature="120 °C")
    # by hand: 0.8 + 2.0 · 650 ÷ 1650 = 1.59
    assert "At least 1.6 bar, oil below 120 °C." in steps(found)["minute_1"].words
    assert rows(found)[1]["pressure"] == "1.6 bar"
    assert "At least 1.6 bar. " in steps(first_run(**MAKER))["minute_1"].words
    assert "Oil below 120 °C. " in steps(first_run(temperature="120"))["minute_1"].words


def test_without_the_makers_figures_the_minutes_are_told_all_the_same():
    answer = first_run()
    assert steps(answer)["minute_1"].words == (
        "Fast idle, varied a little, no load, 1500 to 2000 r/min. "
        "Pressure within ten seconds, or switch off. Then: does every cylinder fire?"
    )
    assert answer.value("least_pressure") is None


def test_a_limit_of_temperature_is_told_in_the_unit_typed():
    assert rows(first_run(temperature="250 °F"))[1]["temperature"] == "250 °F"
    assert "temperature" not in rows(first_run())[1]


def test_rollers_have_their_danger():
    assert "rollers" in told(first_run(load="rollers"), "danger")


def test_no_vehicle_is_loaded_on_stands():
    with pytest.raises(InputErrors, match="First load must be one of: "):
        first_run(load="stands")


def test_nobody_looks_or_closes_up_with_the_key_in():
    found = steps(first_run())
    assert [found[key].words.startswith("Key out. ") for key in ("wet", "close")] == [True, True]


def test_what_always_hurts_is_always_told():
    danger = told(first_run(), "danger")
    assert "Carbon monoxide" in danger
    assert "rollers" not in danger
    assert "fuel mist" in told(first_run(), "warning")
    assert "Fan" in told(first_run(), "warning")


def test_the_makers_fast_idle_wins():
    assert first_run(fast_idle="1200 1600", minutes="5").headline == "5 min at 1200 to 1600 r/min"


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        (
            {"fast_idle": "3000 3500", "highest_speed": "4600", "odometer": "0"},
            ("fast_idle", "Fast idle must be lower: it goes up to 3500 r/min, and the first ceiling is 3050 r/min"),
        ),
        (
            {"share": "40 %", "highest_speed": "4600", "odometer": "0"},
            (
                "ceiling",
                "First ceiling must be higher: it comes to 1800 r/min, and the fast idle goes up to 2000 r/min",
            ),
        ),
    ],
)
def test_each_mistake_is_named_with_its_remedy(typed, error):
    assert errors_of(first_run, **typed) == [error]


def test_the_first_ceiling_may_be_as_high_as_the_fast_idle():
    assert first_run(ceiling="2000")
