"""A day as nobody can mistake it."""

from __future__ import annotations

from datetime import date

_DAY_WORDS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTH_WORDS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_words(day: date) -> str:
    """Return a day in words, its weekday first.

    Examples
    --------
    >>> day_words(date(2026, 11, 25))
    'Wed 25 Nov 2026'
    """
    return f"{_DAY_WORDS[day.weekday()]} {day.day} {_MONTH_WORDS[day.month - 1]} {day.year}"
