"""Days: read as people write them, and asked about where the month could be either number."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import Date
from calculators.bench.dates import days_meant
from calculators.bench.kinds import Wrong

DAY = Date(low=date(2000, 1, 1), high=date(2099, 12, 31), why="this century")


def read(text):
    return DAY.read(text, lambda: "2026-11-25")


@pytest.mark.parametrize(
    "text",
    [
        "2026-11-25",
        "2026/11/25",
        " 25.11.2026 ",
        "25. 11. 2026",
        "25/11/2026",
        "11/25/2026",
        "25-11-2026",
        "25 Nov 2026",
        "25 november 2026",
        "25th Nov, 2026",
        "25-Nov-2026",
        "25Nov2026",
        "Nov 25 2026",
        "November 25th, 2026",
        "Wed 25 Nov 2026",
        "Wednesday, 25.11.2026",
    ],
)
def test_a_day_is_read_as_people_write_it(text):
    assert read(text) == date(2026, 11, 25)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("4.5.2026", date(2026, 5, 4)),  # points: the day first, as ISO's national forms with points have it
        ("5/5/2026", date(2026, 5, 5)),
        ("Mon 4/5/2026", date(2026, 5, 4)),  # 5 April 2026 is a Sunday
        ("29 Feb 2028", date(2028, 2, 29)),
        ("3 Sept 2026", date(2026, 9, 3)),
    ],
)
def test_a_day_that_can_only_be_one_is_taken(text, day):
    assert read(text) == day


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "4/5/2026",
            "Day must make the month clear: 4/5/2026 can be 4 May or 5 April. Type 2026-05-04 or 2026-04-05",
        ),
        (
            "04-05-2026",
            "Day must make the month clear: 04-05-2026 can be 4 May or 5 April. Type 2026-05-04 or 2026-04-05",
        ),
        ("25.11.26", "Day must be a date with a four-figure year, like 2026-11-25"),
        ("25 Nov", "Day must be a date with a four-figure year, like 2026-11-25"),
        ("25 Mai 2026", "Day must be a date with a four-figure year, like 2026-11-25"),
        ("tomorrow", "Day must be a date with a four-figure year, like 2026-11-25"),
        ("٢٥.١١.٢٠٢٦", "Day must be a date with a four-figure year, like 2026-11-25"),
        ("2" * 5000, "Day must be a date with a four-figure year, like 2026-11-25"),
        ("31.6.2026", "Day must be a real date, like 2026-11-25"),
        ("29 Feb 2026", "Day must be a real date, like 2026-11-25"),
        ("Tue 25 Nov 2026", "Day must be a real date, like 2026-11-25"),
        ("31.12.1999", "Day must be between 2000-01-01 and 2099-12-31"),
        ("2100-01-01", "Day must be between 2000-01-01 and 2099-12-31"),
    ],
)
def test_a_day_that_is_none_or_could_be_two_is_refused_with_the_reason(text, message):
    with pytest.raises(Wrong) as caught:
        read(text)
    assert f"Day {caught.value}" == message


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)))
def test_every_day_is_read_back_from_each_way_of_writing_it(day):
    for text in (day.isoformat(), f"{day.day}.{day.month}.{day.year}", f"{day:%a} {day.day} {day:%b} {day.year}"):
        assert read(text) == day
    assert day in (days_meant(f"{day.day}/{day.month}/{day.year}") or [])


@given(st.text(max_size=30) | st.from_regex(r"[0-9]{1,4}[-/. ]?[A-Za-z0-9]{1,4}[-/. ]?[0-9]{1,4}", fullmatch=True))
def test_any_text_for_a_day_is_read_or_refused(text):
    try:
        assert read(text).year in range(2000, 2100)
    except Wrong as wrong:
        assert str(wrong).startswith("must ")


def test_a_day_says_what_it_takes():
    assert (DAY.name, DAY.limits, DAY.why) == ("date", ("2000-01-01", "2099-12-31"), "this century")
