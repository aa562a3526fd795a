"""The job sheet as HTML: to work on, and to hand over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from calculators._catalogue import catalogue
from calculators._job.readings import Read, as_read, asked_by
from calculators._page import environment

ABOUT = {
    "name": "Name of this job",
    "vehicle": "Vehicle",
    "engine_number": "Engine number",
    "owner": "Owner",
    "workshop": "Workshop",
    "fitter": "Done by",
    "odometer": "Odometer",
}
LISTS: dict[str, tuple[str, str, dict[str, str]]] = {
    "tags": ("Tags", "Tag", {"part": "Part", "from": "From hole or place", "note": "Note"}),
    "parts": (
        "Parts fitted",
        "Part",
        {"name": "Part", "number": "Number or size", "count": "How many", "note": "Note"},
    ),
    "notes": ("Found and noted", "Note", {"text": "Note"}),
    "checks": ("Next checks", "Check", {"what": "What", "due": "By date", "distance": "By odometer"}),
}


@dataclass(frozen=True, slots=True)
class Stale:
    """A reading that a decision rests on and that is another now."""

    label: str
    then: str
    now: str


@dataclass(frozen=True, slots=True)
class Decided:
    """A decision, and what changed since."""

    entry: Mapping[str, Any]
    stale: tuple[Stale, ...]


@dataclass(frozen=True, slots=True)
class Ticked:
    """How far a walk was ticked."""

    title: str
    count: int
    last: str
    words: str


def decided(job: Mapping[str, Any]) -> tuple[Decided, ...]:
    """Return the decisions, each with the readings that are no longer what it rests on."""
    readings = job.get("readings", {})
    found = []
    for entry in job.get("decisions", ()):
        stale = tuple(
            Stale(then["label"], then["text"], now)
            for path, then in entry.get("rests_on", {}).items()
            if (now := readings.get(path, {}).get("text", "nothing").strip()) != then["text"].strip()
        )
        found.append(Decided(entry, stale))
    return tuple(found)


def ticked(job: Mapping[str, Any]) -> tuple[Ticked, ...]:
    """Return the walks of a job that have ticks."""
    found = []
    for walk, ticks in job.get("ticks", {}).items():
        if ticks:
            last = max(ticks.values(), key=lambda tick: str(tick["when"]))
            found.append(Ticked(_walk_title(walk), len(ticks), last["when"], last["words"]))
    return tuple(sorted(found, key=lambda walk: walk.last))


def _walk_title(walk: str) -> str:
    """Return whose walk it is: a calculator's on a page, or the steps of a procedure."""
    parts = walk.split()
    for part in parts[1:]:
        name = part.rstrip("0123456789").rstrip("-") if part not in catalogue() else part
        if name in catalogue():
            return catalogue()[name].title
    page = parts[0].strip("/").rpartition("/")[2] if parts else walk
    return page.replace("-", " ").capitalize() or walk


def rests_on(paths: Sequence[str], readings: Mapping[str, Mapping[str, Any]]) -> dict[str, dict[str, str]]:
    """Return the readings of these paths as a decision keeps them."""
    known = {read.path: read for read in as_read({path: readings[path] for path in paths if path in readings})}
    return {
        path: {"label": known[path].label if path in known else asked_by(path)[1], "text": readings[path]["text"]}
        for path in paths
        if path in readings and not path.endswith(".unit") and readings[path]["text"].strip()
    }


def grouped(job: Mapping[str, Any]) -> dict[str, list[Read]]:
    """Return the readings by the calculator that asks for them."""
    groups: dict[str, list[Read]] = {}
    for read in as_read(job.get("readings", {})):
        groups.setdefault(read.group, []).append(read)
    return groups


def _shown(job: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "job": job,
        "about": job.get("about", {}),
        "about_labels": ABOUT,
        "lists": LISTS,
        "decided": decided(job),
        "ticked": ticked(job),
        "readings": grouped(job),
    }


def job_html(job: Mapping[str, Any]) -> str:
    """Return the sheet to work on: every field, list and reading of a job.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    """
    return environment.get_template("job.html").render(_shown(job))


def handover_html(job: Mapping[str, Any], card_title: str | None = None) -> str:
    """Return the handover as one HTML document: the same bytes from the same job, here and in the browser.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    card_title : str, optional
        The engine's name on its card.
    """
    body = environment.get_template("handover.html").render(_shown(job) | {"card_title": card_title})
    return environment.get_template("handover-page.html").render(body=Markup(body), about=job.get("about", {}))  # noqa: S704
