"""The job sheet as HTML: to work on, and to hand over."""

from __future__ import annotations

import itertools
import re
import string
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from calculators._catalogue import Calculator, catalogue
from calculators._engine_card import EngineCard
from calculators._instruments import INSTRUMENTS, PREFIX
from calculators._job.readings import Read, as_answered, as_read, asked_by, in_a_row, worked_out_by
from calculators._job.renewal import asked, fresh
from calculators._kinds import Choice
from calculators._page import environment
from calculators._units import spelled as unit_spelled
from calculators._words import word
from calculators.bench.question import questions

ABOUT = {
    "name": "Name of this job",
    "vehicle": "Vehicle",
    "engine_number": "Engine number",
    "owner": "Owner",
    "workshop": "Workshop",
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
    """A decision, and what changed since: readings, and whether the engine card did."""

    entry: Mapping[str, Any]
    stale: tuple[Stale, ...]
    other_card: bool


@dataclass(frozen=True, slots=True)
class Ticked:
    """How far a walk was ticked: ``how_far`` is ``7 of 12``, or ``7`` where its steps were not counted."""

    title: str
    how_far: str
    last: str
    words: str


@dataclass(frozen=True, slots=True)
class Line:
    """One reading, or those of one kind from row to row.

    ``items`` are the row, the text and the mark of each; the ``unit`` and the ``mark``
    that all of them have stand once, behind the last; ``typed`` tells them from what a
    calculator worked out.
    """

    label: str
    typed: bool
    source: str
    items: tuple[tuple[str, str, str], ...]
    unit: str
    mark: str


@dataclass(frozen=True, slots=True)
class Group:
    """Readings of one calculator, with the days on which they were taken."""

    title: str
    days: Markup
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Measured:
    """All readings, each with a mark that says who read it with what, and the list of these marks."""

    groups: tuple[Group, ...]
    instruments: tuple[tuple[str, str], ...]
    people: tuple[tuple[str, str], ...]


def day(when: str) -> Markup:
    """Return the day of an instant; a page that shows it writes it as its reader does."""
    return Markup('<time datetime="{}">{}</time>').format(when, when[:10])


def minute(when: str) -> Markup:
    """Return an instant to the minute; a page that shows it writes it as its reader does, by the reader's clock."""
    return Markup('<time datetime="{}">{}</time>').format(when, when[:16].replace("T", " "))


environment.filters |= {"day": day, "minute": minute}


def decided(job: Mapping[str, Any], card: EngineCard | None = None) -> tuple[Decided, ...]:
    """Return the decisions, each with what is no longer as it was when it was made.

    Parameters
    ----------
    job : mapping
    card : EngineCard, optional
        The job's: what it fills in is no change where it was typed, or taken out, since.
    """
    readings = job.get("readings", {})
    card_since = job.get("card", {}).get("when", "")
    read = {read.path: read for read in as_read(readings)}
    found = []
    for entry in job.get("decisions", ()):
        rested = entry.get("rests_on", {})
        filled = _filled_in(catalogue().get(entry["calculator"]), card)
        stale = [
            Stale(then["label"], _shown(then["text"], reading), read[path].shown if path in read else "nothing")
            for path, then in rested.items()
            if then["text"].strip()
            not in (
                (reading := readings.get(path, {})).get("text", "").strip(),
                read[path].text if path in read else filled.get(path, ""),
            )
        ]
        stale += [
            Stale(read[path].label, "not typed", read[path].shown)
            for path in _asked_now(entry, readings)
            if path in read
            and path not in rested
            and read[path].when > entry["when"]
            and read[path].text != filled.get(path)
        ]
        found.append(Decided(entry, tuple(stale), other_card=entry["when"] < card_since))
    return tuple(found)


def _filled_in(chosen: Calculator | None, card: EngineCard | None) -> dict[str, str]:
    """Return what stands in a calculator's boxes before anything is typed, by the path under which it would be kept."""
    if not chosen:
        return {}
    built = {}
    for control, text in fresh(chosen, card).items():
        key, dot, part = control.partition(".")
        field = next(field for field in chosen.form.fields if field.key == key)
        start = field.reading or f"calculators/{chosen.name}/ {chosen.name} {key}"
        built[start + dot + part] = {"text": text, "when": ""}
    return {read.path: read.text for read in as_read(built)}


def _asked_now(entry: Mapping[str, Any], readings: Mapping[str, Mapping[str, Any]]) -> Iterator[str]:
    """Yield the readings that a decision's calculator asks for, also those that were not there when it was made."""
    chosen = catalogue().get(entry["calculator"])
    elsewhere = any(" " in path and not path.startswith("calculators/") for path in entry.get("rests_on", {}))
    for path in asked(chosen, readings).values() if chosen else ():
        if not (elsewhere and " " in path):  # of a task of its own
            yield path


def _shown(text: str, reading: Mapping[str, Any]) -> str:
    """Print what a calculator worked out as its answer does, and what was typed as it was typed."""
    return as_answered(text) if "±" in text and worked_out_by(reading.get("from", "")) else text


def ticked(job: Mapping[str, Any]) -> tuple[Ticked, ...]:
    """Return the walks of a job that have ticks."""
    found = []
    for walk, ticks in job.get("ticks", {}).items():
        if ticks:
            last = max(ticks.values(), key=lambda tick: str(tick["when"]))
            steps = last.get("of")
            count = sum(tick.get("of") == steps for tick in ticks.values())
            how_far = f"{count} of {steps}" if steps else str(count)
            found.append(Ticked(_walk_title(walk), how_far, last["when"], last["words"]))
    return tuple(sorted(found, key=lambda walk: walk.last))


_OF_HEAD = re.compile(r"head_(\d+)")


def _walk_title(walk: str) -> str:
    """Return whose walk it is, and of which head: a calculator's on a page, or the steps of a procedure."""
    parts = walk.split()
    head = _OF_HEAD.fullmatch(parts[-1]) if len(parts) > 2 else None
    title = _part_title(walk, parts)
    return f"{title}, head {head[1]}" if head else title


def _part_title(walk: str, parts: Sequence[str]) -> str:
    if parts and parts[0] in questions():
        return questions()[parts[0]].asks
    for part in parts[1:]:
        name = part.rstrip("0123456789").rstrip("-") if part not in catalogue() else part
        if name in catalogue():
            return catalogue()[name].title
    page = parts[0].strip("/").rpartition("/")[2] if parts else walk
    return page.replace("-", " ").capitalize() or walk


def rests_on(paths: Sequence[str], readings: Mapping[str, Mapping[str, Any]]) -> dict[str, dict[str, str]]:
    """Return the readings of these paths as a decision keeps them."""
    known = {read.path: read for read in as_read({path: readings[path] for path in paths if path in readings})}
    return {path: {"label": read.label, "text": read.text} for path, read in known.items()}


def grouped(job: Mapping[str, Any]) -> dict[str, list[Read]]:
    """Return the readings by the calculator that asks for them."""
    groups: dict[str, list[Read]] = {}
    for read in as_read(job.get("readings", {})):
        if not read.path.startswith(PREFIX):  # which instruments lie there is said where they read something
            groups.setdefault(read.group, []).append(read)
    return groups


def measured(job: Mapping[str, Any]) -> Measured:
    """Return the readings for paper, where a name or an instrument is written once and marked at its readings."""
    groups = grouped(job)
    reads = [read for group in groups.values() for read in group]
    instruments = _marks((read.instrument for read in reads), map(str, itertools.count(1)))
    people = _marks((read.who for read in reads), _letters())
    if len(people) == 1 and all(read.who for read in reads):
        people = dict.fromkeys(people, "")  # one alone needs no mark
    return Measured(
        tuple(
            Group(
                title,
                _from_to(min(taken), max(taken)),
                tuple(_lines(group, instruments, people)),
            )
            for title, group in groups.items()
            if (taken := [read.when for read in group])
        ),
        tuple((mark, name) for name, mark in instruments.items()),
        tuple((mark, name) for name, mark in people.items()),
    )


def _from_to(first: str, last: str) -> Markup:
    return day(first) if first[:10] == last[:10] else day(first) + " to " + day(last)


def _lines(reads: Sequence[Read], instruments: Mapping[str, str], people: Mapping[str, str]) -> Iterator[Line]:
    """Yield the readings, those of one kind from row to row in one line."""

    def kind(read: Read) -> tuple[str, str]:
        return (read.path.rpartition(".")[0] if in_a_row(read.path) else read.path), read.from_calculator

    for (_, source), group in itertools.groupby(reads, kind):
        alike = list(group)
        row = in_a_row(alike[0].path) if len(alike) > 1 else None
        marks = [instruments.get(read.instrument, "") + people.get(read.who, "") for read in alike]
        units = {_unit_behind(read.shown) for read in alike}
        unit = units.pop() if row and len(units) == 1 else ""
        yield Line(
            f"{row[0]}, by {row[1]}" if row else alike[0].label,
            not source,
            source if source != alike[0].group else "",
            tuple(
                (read.path.rpartition(".")[2] if row else "", read.shown.removesuffix(unit).rstrip(), mark)
                for read, mark in zip(alike, marks if len(set(marks)) > 1 else [""] * len(alike), strict=True)
            ),
            unit,
            marks[0] if len(set(marks)) == 1 else "",
        )


def _unit_behind(text: str) -> str:
    """Return the unit that a text ends with, or nothing."""
    last = text.rpartition(" ")[2]
    return last if unit_spelled(last) else ""


def _marks(names: Iterable[str], marks: Iterator[str]) -> dict[str, str]:
    return {name: next(marks) for name in dict.fromkeys(names) if name}


def _letters() -> Iterator[str]:
    for length in itertools.count(1):
        for letters in itertools.product(string.ascii_lowercase, repeat=length):
            yield "".join(letters)


def odometer(job: Mapping[str, Any]) -> str:
    """Return the odometer's reading with its unit; in older files it stands among what the job is about."""
    readings = job.get("readings", {})
    text = readings.get("odometer", {}).get("text", "").strip()
    return f"{text} {word(_odometer_unit(readings)[1])}" if text else str(job.get("about", {}).get("odometer", ""))


def _odometer_unit(readings: Mapping[str, Mapping[str, Any]]) -> tuple[Mapping[str, str], str]:
    """Return the units that an odometer may count in, and the one that this one does."""
    field = asked_by("odometer_unit")[2]
    assert field and isinstance(field.kind, Choice)  # noqa: S101 (the run-in plan asks for it)
    return field.kind.options, readings.get("odometer_unit", {}).get("text") or str(field.default)


def facts(job: Mapping[str, Any], card_title: str | None) -> list[tuple[str, str]]:
    """Return what stands at the head of each sheet: whose engine it is, and who worked on it."""
    about = job.get("about", {})
    hands = [reading.get("who", "") for reading in job.get("readings", {}).values()]
    return [
        *((label, about.get(key, "")) for key, label in ABOUT.items() if key != "name"),
        ("Done by", ", ".join(filter(None, dict.fromkeys([about.get("fitter", ""), *sorted(hands)])))),
        ("Odometer", odometer(job)),
        ("Engine card", card_title or job.get("card", {}).get("name", "")),
        ("Begun", day(job["made"])),
        ("Last entry", day(job["changed"])),
    ]


def on_the_bench(job: Mapping[str, Any]) -> dict[str, tuple[str, str]]:
    """Return for each kind of instrument its name in the trade, and which one is on the bench."""
    readings = job.get("readings", {})
    return {
        PREFIX + kind: (label, readings.get(PREFIX + kind, {}).get("text", "")) for kind, label in INSTRUMENTS.items()
    }


def job_html(job: Mapping[str, Any], card: EngineCard | None = None) -> str:
    """Return the sheet to work on: every field, list and reading of a job.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    card : EngineCard, optional
        The job's.
    """
    readings = job.get("readings", {})
    units, unit = _odometer_unit(readings)
    return environment.get_template("job.html").render(
        job=job,
        about=job.get("about", {}),
        about_labels=ABOUT,
        bench=on_the_bench(job),
        odometer=readings.get("odometer", {}).get("text", ""),
        odometer_units={one: word(one) for one in units},
        odometer_unit=unit,
        lists=LISTS,
        decided=decided(job, card),
        ticked=ticked(job),
        readings=grouped(job),
    )


def handover_html(job: Mapping[str, Any], card_title: str | None = None, card: EngineCard | None = None) -> str:
    """Return the handover as one HTML document: the same bytes from the same job, here and in the browser.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    card_title : str, optional
        The engine's name on its card.
    card : EngineCard, optional
        The job's.
    """
    return document(
        "Handover",
        job,
        "handover.html",
        facts=facts(job, card_title),
        decided=decided(job, card),
        ticked=ticked(job),
        measured=(shown := measured(job)),
        plus_minus=_has_plus_minus(job, shown),
    )


def _has_plus_minus(job: Mapping[str, Any], shown: Measured) -> bool:
    """Tell whether a ± stands on the sheet, so that it must say which one."""
    decisions = [
        text
        for entry in job.get("decisions", ())
        for text in (entry["lead"], *(value["text"] for value in entry.get("values", ())))
    ]
    readings = [text for group in shown.groups for line in group.lines for _, text, _ in line.items]
    return any("±" in text for text in (*decisions, *readings))


def document(title: str, job: Mapping[str, Any], template: str, **shown: Any) -> str:
    """Return one sheet as a document that stands alone, with the look of our paper."""
    about = job.get("about", {})
    body = environment.get_template(template).render(shown, job=job, about=about)
    vehicle = about.get("vehicle", "")
    return environment.get_template("paper.html").render(title=title, vehicle=vehicle, body=Markup(body))  # noqa: S704
