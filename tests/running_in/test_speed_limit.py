"""How fast it may turn, and until which reading of the odometer."""

from functools import partial

import pytest

from calculators import InputErrors, magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import rows
from tests.physics import goes_as_physics_sends_it, rises

ENGINE = {"highest_speed": "4600", "odometer": "48250"}


limit = partial(answered, "running_in.speed_limit", **ENGINE)


def test_the_first_ceiling_and_its_odometer():
    answer = limit()
    # by hand: 67 % of 4600 is 3082, down to a mark of 50
    assert answer.headline == "3050 r/min until 48450 km"
    assert answer.says == (
        "Stay below 3050 r/min until the odometer shows 48450 km; from 48850 km on the highest speed, 4600 r/min, is "
        "allowed."
    )
    assert [row["speed"] for row in rows(answer, "ceilings")] == [3050, 3350, 3650, 3950, 4250, 4600]
    assert [row["until"] for row in rows(answer, "ceilings")] == [48450, 48550, 48650, 48750, 48850, "from there on"]


def test_an_odometer_in_miles_brings_its_own_round_distances():
    answer = limit(odometer_unit="miles", odometer="0")
    assert answer.headline == "3050 r/min until 120 miles"
    assert [row["until"] for row in rows(answer, "ceilings")][:-1] == [120, 180, 240, 300, 360]


def test_distances_typed_win_over_the_usual():
    answer = limit(odometer="0", first="100", end="300", rises="2", share="60 %", mark="100")
    # by hand: 2760 and 3680 down to marks of 100
    assert [(row["until"], row["speed"]) for row in rows(answer, "ceilings")] == [
        (100, 2700),
        (300, 3600),
        ("from there on", 4600),
    ]


def test_the_ceilings_go_on_as_values():
    worked = {one.name: one.value for one in limit(first="100", end="300", rises="2").worked}
    assert worked["run_in_ceiling"].magnitude == 3050
    assert [speed.magnitude for speed in worked["run_in_ceilings"]] == [3050, 3800, 4600]
    assert worked["run_in_ceilings_from"] == (0, 100, 300)


def test_piston_speed_carries_the_uncertainty_of_the_stroke():
    found = limit(stroke="74 ± 0.5 mm").value("piston_speed")
    # by hand: 2 · 0.074 m · 3050 ÷ 60 s; U = 2 · 0.5/√3 mm in 74
    assert magnitude_in(found.quantity, "m/s") == pytest.approx(7.52333, abs=1e-5)
    assert uncertainty_in(found.quantity, "m/s") == pytest.approx(7.52333 * 2 * 0.5 / 3**0.5 / 74, rel=1e-4)
    assert found.budget == (("Stroke", pytest.approx(1)),)


def test_without_the_stroke_the_piston_is_left_out():
    answer = limit()
    assert answer.value("piston_speed") is None
    assert "piston" not in rows(answer, "ceilings")[0]
    # by hand: 2 · 0.074 · 3050 ÷ 60
    assert rows(limit(stroke="74"), "ceilings")[0]["piston"] == pytest.approx(7.52333, abs=1e-5)


def test_road_speeds_in_each_gear_go_down_to_whole_ones():
    found = rows(limit(gears="6.4 11.8 18.6 27.5"), "gears")
    # by hand: 3.05 · 6.4 = 19.52; 3.05 · 27.5 = 83.875
    assert (found[0]["gear_1"], found[0]["gear_4"]) == (19, 83)
    assert found[-1]["until"] == "run in"
    assert [table.key for table in limit().tables] == ["ceilings"]


def test_road_speeds_follow_the_odometers_unit():
    # 17.088 mph is 27.5 km/h; by hand: 27.5 ÷ 1.609344 · 3.05 = 52.1
    assert rows(limit(gears="27.5 km/h", odometer_unit="miles"), "gears")[0]["gear_1"] == 52


def test_the_drawing_says_each_tread():
    assert "from 0 km 3050 r/min; from 200 km 3350 r/min" in limit().drawing.svg


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({"end": "150"}, ("end", "Distance to the last rise must be over 200 km")),
        ({"first": "600"}, ("end", "Distance to the last rise must be over 600 km")),
        (
            {"highest_speed": "900", "share": "30", "mark": "500"},
            ("mark", "Mark of the revolution counter must be below the first ceiling"),
        ),
        ({"odometer": "48,250"}, ("odometer", "Odometer reading must be a whole number, like 48250")),
    ],
)
def test_each_mistake_is_named_with_its_remedy(typed, error):
    asked = asked_with("running_in.speed_limit", [f"{key}={text}" for key, text in (ENGINE | typed).items()])
    assert [(found.field, found.message) for found in (*asked.errors, *asked.lacking)] == [error]


def test_without_the_odometer_it_says_what_it_needs():
    with pytest.raises(InputErrors, match="Enter the odometer reading"):
        answered("running_in.speed_limit", highest_speed="4600")


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    limit,
    rises("share", (50, 90), "ceiling", "a ceiling is a share of the highest speed", strictly=False),
    rises("stroke", (50, 120), "piston_speed", "it goes twice the stroke each turn"),
)
