"""When each re-check is due, the card for the dash, the next checks and the calendar."""

import re
from datetime import date
from functools import partial

import pytest
from icalendar import Calendar

from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk, Reading
from tests.answers import errors_of, steps
from tests.cards import MARRAM

START = {"start": "2026-11-25", "odometer": "48250"}
CHECKED = {"inlet_clearance": "0.15", "exhaust_clearance": "0.20"}
SPEED = {"highest_speed": "4600"}


rechecks = partial(answered, "running_in.rechecks", **START)


def dash(answer):
    return next(table for table in answer.tables if table.key == "dash").as_data()["rows"]


def test_the_headline_says_the_readings_and_the_sentence_the_days():
    answer = rechecks()
    assert answer.headline == "Re-check 48300, 48750 · oil 48750 km"
    # by hand: 50 km and 500 km at 150 km a week are 2 and 23 whole days after 26 November
    assert answer.says == (
        "Re-check it cold at 48300 km, about Sat 28 Nov 2026, and at 48750 km, about Sat 19 Dec 2026; "
        "change the oil at 48750 km, about Sat 19 Dec 2026."
    )
    assert answer.value("run_in").quantity == "48850 km, about Thu 24 Dec 2026"


def test_the_card_for_the_dash_joins_ceilings_and_checks_in_the_order_of_the_odometer():
    found = dash(rechecks(**SPEED))
    assert [row["odometer"] for row in found] == [48250, 48300, 48450, 48550, 48650, 48750, 48850, 53750]
    assert found[0]["due"] == "Wed 25 Nov 2026: First start; Cold check on Thu 26 Nov 2026"
    assert found[2]["due"] == "Sat 5 Dec 2026"
    assert found[5]["due"] == "Sat 19 Dec 2026: First oil change; Second re-check"
    assert [row["ceiling"] for row in found] == [3050, 3050, 3350, 3650, 3950, 4250, 4600, 4600]
    assert rechecks(**SPEED).tables[0].title == "Card for the dash: oil lamp on, stop at once"


def test_without_ceilings_the_card_has_the_checks_alone():
    found = dash(rechecks())
    assert [row["odometer"] for row in found] == [48250, 48300, 48750, 48850, 53750]
    assert "ceiling" not in found[0]


def test_an_odometer_in_miles_brings_its_own_round_distances():
    found = dash(rechecks(odometer_unit="miles", **SPEED))
    assert [row["odometer"] - 48250 for row in found] == [0, 30, 120, 180, 240, 300, 360, 3300]


def test_distances_typed_win_over_the_usual():
    found = dash(rechecks(end="300", early="20", second="250", oil="150"))
    assert [row["odometer"] - 48250 for row in found] == [0, 20, 150, 250, 300, 5150, 5250]


def test_oil_and_lash_come_by_the_calendar_where_it_is_sooner_than_the_odometer():
    slow = {due["odometer"]: due["due"].partition(":")[0] for due in dash(rechecks(weekly="20", months="6"))}
    # by hand: 500 km at 20 km a week are 175 days after 26 Nov 2026; six months later
    assert (slow[48750], slow[53750]) == ("Thu 20 May 2027", "Sat 20 Nov 2027")
    fast = {due["odometer"]: due["due"].partition(":")[0] for due in dash(rechecks(weekly="1000", months="12"))}
    assert (fast[48750], fast[53750]) == ("Sun 29 Nov 2026", "Sun 3 Jan 2027")


def test_each_due_is_a_step_and_a_next_check():
    answer = rechecks(**CHECKED)
    assert steps(answer)["due_oil"].large == "First oil change · 48750"
    assert list(steps(answer))[-1] == "handover"
    keys = [check.key for check in answer.checks]
    assert keys == ["early", "oil", "second", "free", "next_oil", "next_lash"]
    assert (answer.checks[0].due, answer.checks[0].distance) == ("Sat 28 Nov 2026", "48300 km")
    assert "lash 0.15 mm inlet, 0.20 mm exhaust" in answer.checks[0].what


def test_head_nuts_are_told_as_the_maker_says():
    assert "leave the head nuts alone" in rechecks(nuts="never").checks[0].what


def test_jack_spanner_and_hot_oil_are_warned_of():
    told = {caution.signal: caution.text for caution in rechecks().warnings}
    assert list(told) == ["danger", "warning", "caution"]
    for signal, words in (("danger", "comes off a jack"), ("warning", "hand on the spanner"), ("caution", "Hot oil")):
        assert words in told[signal]


def test_the_drawing_says_what_falls_due():
    assert "48300 First re-check, about Sat 28 Nov 2026; 48750 First oil change" in rechecks().drawing.svg


def test_the_calendar_file_is_named_by_the_day_and_depends_on_nothing_but_what_is_typed():
    (first,), (again,) = rechecks().attachments, rechecks().attachments
    assert first == again
    assert first.name == "run-in-plan-2026-11-25.ics"
    assert "DTSTAMP:20261125T000000Z" in first.text


# RFC 5545 (2009), 3.1: lines of 75 octets at the most; icalendar, a library that we did not write, reads it back
def test_the_plan_reads_back_from_the_calendar_file():
    (file,) = rechecks(**CHECKED, **SPEED).attachments
    assert max(len(line.encode()) for line in file.text.split("\r\n")) <= 75
    calendar = Calendar.from_ical(file.text)
    assert not calendar.errors
    by_name = {str(event["SUMMARY"]).partition(",")[0]: event for event in calendar.walk("VEVENT")}
    assert len(by_name) == 8
    assert "Highest 3050 r/min until odometer 48450." in str(by_name["First start after the rebuild"]["DESCRIPTION"])
    oil = by_name["First oil change"]
    assert oil.decoded("DTSTART") == date(2026, 12, 19)
    assert "48750 km" in str(oil["DESCRIPTION"])
    assert "lash 0.15 mm inlet, 0.20 mm exhaust" in str(by_name["Cold check"]["DESCRIPTION"])


def test_without_ceilings_the_first_start_stands_without_one():
    assert "Highest" not in rechecks(nuts="never", end="300").attachments[0].text.partition("Cold check")[0]


def test_two_vehicles_do_not_share_their_entries():
    readings = {"first_start": Reading("2026-11-25"), "odometer": Reading("48250")}
    ours, other = (Desk(readings, card).ask("running_in.rechecks").answer.attachments[0] for card in (None, MARRAM))
    uids = [re.findall(r"UID:(\S+)", file.text) for file in (ours, other)]
    assert not set(uids[0]) & set(uids[1])


def test_ceilings_may_be_typed():
    found = dash(rechecks(ceilings="3000 4000", ceilings_from="0 300"))
    assert [(row["odometer"], row["ceiling"]) for row in found][:4] == [
        (48250, 3000),
        (48300, 3000),
        (48550, 4000),
        (48750, 4000),
    ]


@pytest.mark.parametrize("begins", ["0", "0 300 400", "10 300", "0 0", ""])
def test_ceilings_need_a_distance_each(begins):
    asked = asked_with(
        "running_in.rechecks",
        ["start=2026-11-25", "odometer=0", "ceilings=3000 4000", *([f"ceilings_from={begins}"] if begins else [])],
    )
    assert [error.message for error in asked.errors] == [
        "Distances from which they hold must rise from 0, one for each of the speed ceilings"
    ]


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        (
            {"start": "4/5/2026"},
            (
                "start",
                "Date of the first start must make the month clear: 4/5/2026 can be "
                "4 May or 5 April. Type 2026-05-04 or 2026-04-05",
            ),
        ),
        ({"early": "600"}, ("second", "Distance to the second re-check must be over 600 km")),
    ],
)
def test_each_mistake_is_named_with_its_remedy(typed, error):
    assert errors_of(rechecks, **typed) == [error]


def test_the_longest_plan_that_can_be_typed_ends():
    answer = rechecks(
        start="2150-12-31", weekly="5", lash_interval="30000", oil_interval="30000", months="36", end="5000"
    )
    assert re.match(r"\w{3} \d+ \w{3} 2\d{3}: Next ", dash(answer)[-1]["due"])
