"""A calendar file: whole days or moments, with a reminder each, as any calendar takes them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from uuid import NAMESPACE_URL, uuid5

LINE = 75
"""Octets in a line at the most, its end not counted (RFC 5545, 3.1)."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One day in the calendar, or one moment with its time zone. ``key`` is its own within the file."""

    key: str
    day: date
    summary: str
    description: str


def calendar_file(product: str, subject: str, stamp: date, entries: Iterable[Entry]) -> str:
    r"""Return the text of a calendar file, its lines ended by CR and LF.

    Parameters
    ----------
    product : str
        What made the file.
    subject : str
        What the entries are about. The same subject and key give the same UID, so that a
        plan worked out anew replaces its entries instead of doubling them.
    stamp : date
        Taken for the moment at which the file was made, at midnight UTC: no clock is read.
    entries : iterable of Entry

    Notes
    -----
    Days without an hour, so that no time zone enters; busy for nobody; a reminder at
    six in the evening before, by the reader's own clock. A moment stands in UTC, and its reminder rings then.

    Examples
    --------
    >>> lines = calendar_file("Bench", "van", date(2026, 11, 25), ()).split("\r\n")
    >>> lines[:2], lines[-2:]
    (['BEGIN:VCALENDAR', 'VERSION:2.0'], ['END:VCALENDAR', ''])

    References
    ----------
    RFC 5545 (2009): 3.1 lines, 3.3.11 text, 3.6.1 event, 3.6.6 alarm; RFC 7986 (2016), 5.3 UID.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:-//{escaped(product)}//EN", "CALSCALE:GREGORIAN"]
    for entry in entries:
        lines += [
            "BEGIN:VEVENT",
            f"UID:{uuid5(NAMESPACE_URL, f'{subject}/{entry.key}')}",
            f"DTSTAMP:{_digits(stamp)}T000000Z",
            _start(entry.day),
            f"SUMMARY:{escaped(entry.summary)}",
            f"DESCRIPTION:{escaped(entry.description)}",
            "TRANSP:TRANSPARENT",
            "BEGIN:VALARM",
            "ACTION:DISPLAY",
            f"DESCRIPTION:{escaped(entry.summary)}",
            "TRIGGER:PT0S" if isinstance(entry.day, datetime) else "TRIGGER:-PT6H",
            "END:VALARM",
            "END:VEVENT",
        ]
    lines.append("END:VCALENDAR")
    return "".join(f"{folded(line)}\r\n" for line in lines)


def escaped(text: str) -> str:
    r"""Return a text as a value may hold it: marks escaped, line ends as ``\n``, control characters gone.

    Examples
    --------
    >>> print(escaped("Oil, filter; lash\nC:\\"))
    Oil\, filter\; lash\nC:\\

    References
    ----------
    RFC 5545, 3.3.11.
    """
    text = "\n".join(text.splitlines())
    text = "".join(mark for mark in text if mark == "\n" or mark.isprintable())
    return text.replace("\\", r"\\").replace(";", r"\;").replace(",", r"\,").replace("\n", r"\n")


def folded(line: str) -> str:
    """Return a line in pieces of at most 75 octets, each after the first behind a blank; no letter is cut in two.

    References
    ----------
    RFC 5545, 3.1.
    """
    if len(line) <= LINE and line.isascii():
        return line
    pieces, piece, length = [], "", 0
    for letter in line:
        octets = len(letter.encode())
        if length + octets > LINE:
            pieces.append(piece)
            piece, length = " ", 1
        piece += letter
        length += octets
    return "\r\n".join([*pieces, piece])


def _start(day: date) -> str:
    """Return when an entry begins; RFC 5545, 3.3.5, form 2: a moment in UTC."""
    if not isinstance(day, datetime):
        return f"DTSTART;VALUE=DATE:{_digits(day)}"
    moment = day.astimezone(UTC)
    return f"DTSTART:{_digits(moment)}T{moment:%H%M%S}Z"


def _digits(day: date) -> str:
    return f"{day.year:04}{day.month:02}{day.day:02}"
