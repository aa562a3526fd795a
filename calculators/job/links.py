"""What a link carries from device to device, and what one that came brings."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from calculators.bench.asking import may_rest_on
from calculators.bench.entries import Entry
from calculators.bench.kinds import Choice, Series
from calculators.bench.markup import shown
from calculators.bench.question import question
from calculators.job.former import RENAMED
from calculators.job.readings import as_read, asked_for, lacks_unit, named

Readings = Mapping[str, Mapping[str, Any]]


def carried(names: Collection[str], readings: Readings) -> dict[str, str]:
    """Return what was typed under these questions and those that they rest on, by path, each number with its unit.

    Examples
    --------
    >>> bore = {"text": "80", "unit": "mm", "when": "2026-11-25T10:00:00Z"}
    >>> carried(["compression.ratio"], {"bore": bore, "post_torque": bore})
    {'bore': '80 mm'}
    """
    asked = [question(name) for name in names]
    rested = {path for path in readings if any(may_rest_on(of, path) for of in asked)}
    return {
        read.path: str(readings[read.path]["text"]) if isinstance(named(read.path).kind, Choice) else read.text
        for read in as_read({path: readings[path] for path in rested})
    }


def brought(entries: Mapping[str, str]) -> dict[str, Any]:
    """Return what a link brings, as readings of the job.

    Parameters
    ----------
    entries : mapping of str to str
        Texts by path; from outside.

    Returns
    -------
    dict
        ``readings`` by path, each with its unit and what the reader calls it (``called``); ``strange``: the names that
        no question asks for; ``bare``: what the numbers are called that come without a unit, and the one they get.

    Examples
    --------
    >>> brought({"bore": "3.15 in", "stroke": "74", "horoscope": "7"})["readings"]["bore"]
    {'text': '3.15', 'called': 'Bore', 'unit': 'in'}
    >>> found = brought({"stroke": "74", "horoscope": "7"})
    >>> found["strange"], found["bare"]
    (['horoscope'], ['Stroke (taken in mm)'])
    """
    readings: dict[str, dict[str, str]] = {}
    strange, bare = [], []
    for name, text in entries.items():
        path = RENAMED.get(name, name)
        entry = asked_for(path)
        if entry is None:
            strange.append(path)
            continue
        called = named(path)
        if lacks_unit(text, called.unit):
            bare.append(f"{called.label} (taken in {called.unit})")
        box, unit = _parted(entry, text)
        readings[path] = {"text": box, "called": called.label} | ({"unit": unit} if unit else {})
    return {"readings": readings, "strange": strange, "bare": bare}


def _parted(entry: Entry[Any], text: str) -> tuple[str, str | None]:
    """Return what stands in the box for a text, and the unit beside it; a list's unit stands behind its last number."""
    if isinstance(entry.kind, Series) and entry.measure:
        for unit in entry.measure.units:
            numbers = text.removesuffix(unit.symbol).rstrip()
            if numbers != text and lacks_unit(numbers, unit.symbol):
                return numbers, unit.symbol
    return shown(entry, text)
