"""Calendar files: lines, folds, escapes, and the same text for the same plan."""

import re
from datetime import date, datetime, timedelta, timezone

from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.calendar_file import LINE, Entry, calendar_file, escaped, folded

DAY = date(2026, 11, 25)


def made(summary="Oil", description="Filter", subject="van", **more):
    return calendar_file("Bench", subject, DAY, [Entry(more.get("key", "oil"), DAY, summary, description)])


def uid(text):
    return re.search(r"UID:(.+)\r\n", text)[1]


def test_a_calendar_is_written_as_its_standard_names_things():
    """RFC 5545 (2009): 3.4 calendar, 3.6.1 event, 3.6.6 alarm, 3.7.1 scale, 3.8.2.7: the day is busy for nobody."""
    lines = made().split("\r\n")
    assert lines[:5] == ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Bench//EN", "CALSCALE:GREGORIAN", "BEGIN:VEVENT"]
    assert lines[6:] == [
        *("DTSTAMP:20261125T000000Z", "DTSTART;VALUE=DATE:20261125", "SUMMARY:Oil", "DESCRIPTION:Filter"),
        *("TRANSP:TRANSPARENT", "BEGIN:VALARM", "ACTION:DISPLAY", "DESCRIPTION:Oil", "TRIGGER:-PT6H", "END:VALARM"),
        *("END:VEVENT", "END:VCALENDAR", ""),
    ]


def test_every_line_ends_with_carriage_return_and_line_feed():
    text = made(description="one\ntwo\r\nthree")
    assert text.endswith("END:VCALENDAR\r\n")
    assert text.count("\r\n") == text.count("\n") == text.count("\r")
    assert r"DESCRIPTION:one\ntwo\nthree" in text


def test_a_line_of_just_the_length_is_not_folded_and_one_octet_more_is():
    assert folded("x" * LINE) == "x" * LINE
    assert folded("x" * (LINE + 1)) == "x" * LINE + "\r\n x"
    assert folded("x" * 149) == "x" * LINE + "\r\n " + "x" * 74  # the blank counts
    assert folded("é" * 37 + "x") == "é" * 37 + "x"  # 75 octets
    assert folded("é" * 38) == "é" * 37 + "\r\n é"


@given(st.text(st.characters(exclude_characters="\r\n", exclude_categories=["Cs"]), max_size=400))
def test_folded_lines_are_short_whole_letters_and_unfold_to_what_they_were(text):
    pieces = folded(text).split("\r\n")
    assert all(len(piece.encode()) <= LINE for piece in pieces)
    assert all(piece[0] == " " for piece in pieces[1:])
    assert "".join([pieces[0], *(piece[1:] for piece in pieces[1:])]) == text


def test_marks_that_part_values_are_escaped():
    """RFC 5545 (2009), 3.3.11: a backslash before backslash, semicolon and comma, and before the n of a line end."""
    assert escaped("oil, filter; C:\\\nlash") == r"oil\, filter\; C:\\\nlash"


def test_control_characters_are_left_out():
    assert escaped("a\x00b\x07c\x7f\td") == "abcd"


@given(st.text(max_size=60), st.text(max_size=200))
def test_no_text_can_break_out_of_its_line(summary, description):
    lines = made(summary, description).replace("\r\n ", "").split("\r\n")
    assert [line.partition(":")[0].partition(";")[0] for line in lines] == [
        line.partition(":")[0].partition(";")[0] for line in made().split("\r\n")
    ]


def test_a_reminder_rings_the_evening_before():
    assert "TRIGGER:-PT6H\r\n" in made()


def test_the_same_plan_gives_the_same_text_and_another_entry_another_name():
    assert made() == made()
    assert uid(made()) == uid(made("Oil later", "Filter too"))
    assert uid(made()) != uid(made(subject="car"))
    assert uid(made()) != uid(made(key="lash"))


def test_a_moment_stands_in_utc_and_its_reminder_rings_then():
    """RFC 5545 (2009): 3.3.5 form 2, date with UTC time; 3.8.6.3: a duration of nothing is the start itself."""
    moment = datetime(2026, 12, 1, 0, 30, 5, tzinfo=timezone(timedelta(hours=2)))
    text = calendar_file("Bench", "van", DAY, [Entry("cure", moment, "Oil", "Filter")])
    assert "DTSTART:20261130T223005Z\r\n" in text
    assert "TRIGGER:PT0S\r\n" in text
