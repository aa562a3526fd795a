"""Days as people write them."""

from __future__ import annotations

import re
from datetime import date

from calculators.bench.units import LONGEST

_MONTHS = tuple(date(2000, month, 1).strftime("%B").lower() for month in range(1, 13))
_WEEKDAYS = tuple(date(2024, 1, day).strftime("%a").lower() for day in range(1, 8))
_WEEKDAY = re.compile(rf"({'|'.join(_WEEKDAYS)})[a-z]{{0,6}}[\s,.]+(?=\d)", re.ASCII)
_YEAR_FIRST = re.compile(r"(\d{4})([-./])(\d{1,2})\2(\d{1,2})", re.ASCII)
_YEAR_LAST = re.compile(r"(\d{1,2})\s?([-./])\s?(\d{1,2})\s?\2\s?(\d{4})", re.ASCII)
_DAY_AND_NAME = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[\s.-]*([a-z]{3,9})[\s.,-]*(\d{4})", re.ASCII)
_NAME_AND_DAY = re.compile(r"([a-z]{3,9})\.?\s*(\d{1,2})(?:st|nd|rd|th)?[\s,]+(\d{4})", re.ASCII)


def days_meant(text: str) -> list[date] | None:
    """Return the days that a text can mean: two where day and month could each be the other; None for no date.

    Examples
    --------
    >>> [str(day) for day in days_meant("25 Nov 2026")], [str(day) for day in days_meant("4/5/2026")]
    (['2026-11-25'], ['2026-05-04', '2026-04-05'])
    >>> days_meant("31.6.2026"), days_meant("25.11.26")
    ([], None)
    """
    text = text.strip().lower()
    if len(text) > LONGEST:
        return None
    if weekday := _WEEKDAY.match(text):
        days = days_meant(text[weekday.end() :])
        return days and [day for day in days if day.weekday() == _WEEKDAYS.index(weekday[1])]
    if found := _YEAR_FIRST.fullmatch(text):
        numbers = [(int(found[1]), int(found[3]), int(found[4]))]
    elif found := _YEAR_LAST.fullmatch(text):
        year, first, second = int(found[4]), int(found[1]), int(found[3])
        numbers = [(year, second, first)] + ([] if found[2] == "." else [(year, first, second)])
    else:
        found = _DAY_AND_NAME.fullmatch(text)
        day, name = (found[1], found[2]) if found else ("", "")
        if not found and (found := _NAME_AND_DAY.fullmatch(text)):
            name, day = found[1], found[2]
        named = [number for number, month in enumerate(_MONTHS, 1) if name and month.startswith(name)]
        if not found or not named:
            return None
        numbers = [(int(found[3]), named[0], int(day))]
    return [day for parts in dict.fromkeys(numbers) if (day := _day(*parts))]


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
