"""What is to be looked at next: the soonest first, and what has no date by its distance."""

from __future__ import annotations

import pytest

from calculators.job.next_checks import next_checks
from tests.calculators.test_job import BARE


def checks(*all_, unit="miles"):
    entries = [{"id": f"{at:016x}", "when": BARE["made"], **one} for at, one in enumerate(all_)]
    return next_checks(BARE | {"checks": entries}, unit)


def test_the_soonest_comes_first_whatever_way_its_day_is_written():
    found = checks(
        {"what": "Oil", "due": "Sat 19 Dec 2026"},
        {"what": "Belt", "due": "2027-01-04"},
        {"what": "Lash", "due": "28 November 2026"},
        {"what": "Test", "due": "Dec 1, 2026"},
    )
    assert [one.what for one in found] == ["Lash", "Test", "Oil", "Belt"]


def test_what_has_no_date_comes_in_by_distance_and_what_has_neither_last():
    found = checks(
        {"what": "Flange"},
        {"what": "Clutch", "distance": "43,000"},
        {"what": "Belt", "distance": "42 500 miles"},
        {"what": "Plugs", "distance": "68 000 km"},
        {"what": "Oil", "due": "2027-12-01", "distance": "42100 miles"},
    )
    # 68,000 km are 42,253 miles
    assert [one.what for one in found] == ["Oil", "Plugs", "Belt", "Clutch", "Flange"]


def test_what_has_no_date_stands_before_what_is_due_further_on():
    found = checks(
        {"what": "Belt", "distance": "42,100"},
        {"what": "Test", "due": "2026-11-30"},
        {"what": "Oil", "due": "2026-12-19", "distance": "42180 miles"},
        {"what": "Re-check", "due": "2026-12-03", "distance": "41910 miles"},
    )
    assert [one.what for one in found] == ["Test", "Re-check", "Belt", "Oil"]


def test_of_two_on_one_day_the_shorter_distance_comes_first():
    found = checks(
        {"what": "Lash", "due": "2026-12-01", "distance": "600"},
        {"what": "Oil", "due": "2026-12-01", "distance": "500"},
    )
    assert [one.what for one in found] == ["Oil", "Lash"]


@pytest.mark.parametrize(
    ("entry", "when"),
    [
        ({"due": "Sat 19 Dec 2026"}, "by Sat 19 Dec 2026"),
        ({"distance": "42 500 km"}, 'when the odometer shows <span data-locale="as-is">42 500 km</span>'),
        ({"distance": "42,500"}, 'when the odometer shows <span data-locale="as-is">42,500 miles</span>'),
        (
            {"due": "2026-12-19", "distance": "500 miles"},
            'by 2026-12-19 or at <span data-locale="as-is">500 miles</span>',
        ),
        ({"due": "after the first <b>trip</b>"}, "after the first &lt;b&gt;trip&lt;/b&gt;"),
        ({}, "no date was set: ask the workshop when"),
    ],
)
def test_each_says_when_in_words_that_an_owner_can_act_on(entry, when):
    (one,) = checks({"what": "Oil"} | entry)
    assert one.when == when


def test_a_day_that_was_past_when_the_job_was_last_written_is_marked():
    found = checks({"what": "Early", "due": "2026-11-24"}, {"what": "Today", "due": "2026-11-25"}, {"what": "Never"})
    assert [(one.what, one.is_past) for one in found] == [("Early", True), ("Today", False), ("Never", False)]
