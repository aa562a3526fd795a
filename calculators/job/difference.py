"""What taking a copy of a job in does to the one that is kept: counted, and all that goes named."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calculators.job.readings import as_read, is_result
from calculators.job.sheet import ABOUT, LISTS

_ABOUT = ABOUT | {
    "fitter": "Who works now",
    "odometer": "Odometer",
    "complaint": "What it came in with",
    "left": "Left, and advised",
}
_LONGEST = 80
"""Characters of an entry that a line of the preview quotes."""


def difference(mine: Mapping[str, Any] | None, whole: Mapping[str, Any], theirs: Mapping[str, Any]) -> dict[str, Any]:
    """Say what becomes of each entry.

    Parameters
    ----------
    mine : mapping, optional
        None where the job is not known here.
    whole : mapping
        Both copies merged.
    theirs : mapping

    Returns
    -------
    dict
        How many entries are ``new``, ``newer`` than mine, ``kept`` as they are though theirs are others, and
        ``gone``; and ``goes``: a sentence for each of mine that gives way or is taken out.
    """
    before, after, copy = (dict(_entries(job)) for job in (mine or {}, whole, theirs))
    new = [key for key in after if key not in before]
    newer = [key for key in after if key in before and after[key][1] != before[key][1]]
    gone = [key for key in before if key not in after]
    goes = []
    for key, (label, _, text) in before.items():
        if key in gone:
            goes.append(f"{label}: {_short(text)} is taken out")
        elif key in newer and text not in ("", after[key][2]):
            where = " and is laid aside" if key == ("card", "") and mine and "data" in mine["card"] else ""
            goes.append(f"{label}: {_short(text)} gives way to {_short(after[key][2]) or 'nothing'}{where}")
    kept = sum(key not in new and key not in newer for key in copy)
    return {"new": len(new), "newer": len(newer), "kept": kept, "gone": len(gone), "goes": goes}


def _entries(job: Mapping[str, Any]) -> Iterator[tuple[tuple[str, str], tuple[str, Any, str]]]:
    """Yield the key of each entry, and what it is called, the entry, and how it reads."""
    readings = job.get("readings", {})
    read = {one.path: one for one in as_read(readings)}
    for path, reading in readings.items():
        if is_result(reading):
            continue
        known = read.get(path)
        yield ("readings", path), (known.label if known else path, reading, known.text if known else "")
    for key, text in job.get("about", {}).items():
        yield ("about", key), (_ABOUT.get(key, key), text, text)
    if "card" in job:
        card = job["card"]
        name = card.get("data", {}).get("name", card["name"])
        yield ("card", ""), ("Engine card", [card["name"], card.get("data")], str(name))
    for walk, ticks in job.get("ticks", {}).items():
        for step, tick in ticks.items():
            yield (f"ticks {walk}", step), ("Ticked", tick["words"], tick["words"])
    for name, (_, one, columns) in LISTS.items():
        for entry in job.get(name, ()):
            yield (name, entry["id"]), (one, entry, ", ".join(filter(None, (entry.get(key) for key in columns))))
    for entry in job.get("decisions", ()):
        yield ("decisions", entry["id"]), ("Decided", entry, entry["lead"])
    for entry in job.get("photographs", ()):
        yield ("photographs", entry["id"]), ("Photograph", entry, entry.get("caption", "") or entry["id"])


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"
