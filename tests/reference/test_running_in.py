"""Running in against the standards and libraries that it must agree with."""

from datetime import date

import numpy
import pytest
from dateutil import parser
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar
from icalendar.parser import Contentlines

from calculators import Date
from calculators.bench.asking import answered
from calculators.formulas.calendar_file import Entry, calendar_file, folded
from calculators.formulas.running_in import day_reached, least_pressure, months_later

DAYS = Date(low=date(1900, 1, 1), high=date(2199, 12, 31), why="near enough")


def plan():
    """Return the calendar file of an engine that is run in."""
    (file,) = answered(
        "running_in.rechecks",
        start="2026-11-25",
        odometer="48250",
        highest_speed="4600",
        inlet_clearance="0.15",
        exhaust_clearance="0.20",
    ).attachments
    return file


# RFC 5545 (2009), 3.1: "Lines of text SHOULD NOT be longer than 75 octets, excluding the line break."
def test_no_line_of_the_plan_is_longer_than_the_standard_allows():
    file = plan()
    assert file.media_type == "text/calendar"
    assert max(len(line.encode()) for line in file.text.split("\r\n")) == 75


# icalendar (a library that we did not write) reads the plan back
def test_the_plan_reads_back_from_the_calendar_file():
    calendar = Calendar.from_ical(plan().text)
    assert calendar["VERSION"] == "2.0"
    assert not calendar.errors
    events = calendar.walk("VEVENT")
    assert [str(event["SUMMARY"]) for event in events][:3] == [
        "First start after the rebuild",
        "Cold check, before the road",
        "First re-check, at 48300 km",
    ]
    by_name = {str(event["SUMMARY"]).partition(",")[0]: event for event in events}
    # by hand: 500 km at 150 km a week are 23 whole days after 26 November
    oil = by_name["First oil change"]
    assert oil.decoded("DTSTART") == date(2026, 12, 19)
    assert "48750 km" in str(oil["DESCRIPTION"])
    assert "lash 0.15 mm inlet, 0.20 mm exhaust" in str(by_name["Cold check"]["DESCRIPTION"])
    assert len({str(event["UID"]) for event in events}) == len(events) == 8
    for event in events:
        assert not event.errors
        assert event.decoded("DTSTAMP").isoformat() == "2026-11-25T00:00:00+00:00"
        (alarm,) = event.walk("VALARM")
        assert alarm.decoded("TRIGGER").total_seconds() == -6 * 3600


# icalendar again: whatever the words, they come back as they were
@given(
    st.text(st.characters(categories=["L", "N", "P", "S", "Zs"], include_characters="\n"), max_size=200).filter(
        lambda text: text == text.strip() and all(mark == "\n" or mark.isprintable() for mark in text)
    )
)
def test_any_words_read_back_from_the_calendar_file(words):
    text = calendar_file("Bench", "van", date(2026, 11, 25), [Entry("oil", date(2026, 12, 1), "Oil", words)])
    (event,) = Calendar.from_ical(text).walk("VEVENT")
    assert str(event["DESCRIPTION"]) == "\n".join(words.splitlines())


# icalendar's own folding of the same line
@given(st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=300))
def test_lines_unfold_in_another_library(words):
    (line, *_) = Contentlines.from_ical(folded(f"SUMMARY:{words}") + "\r\n")
    assert str(line) == f"SUMMARY:{words}"


# ISO 8601 as Python's own reader has it, and dateutil (a library that we did not write) with the day first
@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_days_read_as_another_library_reads_them(day):
    for text in (day.isoformat(), f"{day.day}.{day.month}.{day.year}", f"{day.day} {day:%b} {day.year}"):
        other = parser.parse(text, dayfirst="." in text).date()
        assert DAYS.read(text, lambda: "") == other == day


# dateutil's relativedelta: the last day of a month that lacks the day
@given(st.dates(date(1950, 1, 1), date(2150, 12, 31)), st.integers(1, 36))
def test_months_later_agrees_with_another_library(day, months):
    assert months_later(day, months) == day + relativedelta(months=months)


# numpy.interp
@given(st.floats(0, 10000), st.floats(300, 900), st.floats(1000, 4000), st.floats(0.2, 1), st.floats(1.5, 6))
def test_least_pressure_agrees_with_another_library(speed, idle, fast, weak, strong):
    expected = numpy.interp(speed, [idle, fast], [weak, strong])
    assert least_pressure(speed, (idle, weak), (fast, strong)) == pytest.approx(expected, rel=1e-9)


# numpy's calendar of days
@given(st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.integers(0, 3000), st.integers(5, 500))
def test_days_are_counted_as_another_calendar_counts_them(day, distance, weekly):
    expected = numpy.datetime64(day) + numpy.timedelta64(7 * distance // weekly, "D")
    assert day_reached(day, distance, weekly) == expected.astype(date)
