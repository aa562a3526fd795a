"""The job sheet as HTML: to work on, and to hand over."""

from __future__ import annotations

import itertools
import re
import string
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from calculators.bench.card import EngineCard
from calculators.bench.instrument_kinds import INSTRUMENTS, PREFIX
from calculators.bench.kinds import Choice
from calculators.bench.markup import environment
from calculators.bench.question import questions
from calculators.bench.units import spelled as unit_spelled
from calculators.bench.words import listed, word
from calculators.job.cylinders import cylinders, from_above
from calculators.job.decisions import Decided, decided, desk_of, title_of
from calculators.job.former import FORMER
from calculators.job.judgements import Judgement, Judgements, judgements
from calculators.job.next_checks import next_checks
from calculators.job.nut_maps import nut_maps
from calculators.job.paper_room import mechanic_takes_two, owner_takes_two, sheets_of_checks
from calculators.job.readings import Read, as_read, named
from calculators.job.run_in import RECHECKS, SPEED_LIMIT, run_in

ABOUT = {
    "name": "Name of this job",
    "vehicle": "Vehicle",
    "engine_number": "Engine number",
    "owner": "Owner",
    "workshop": "Workshop",
}
LISTS: dict[str, tuple[str, str, dict[str, str]]] = {
    "tags": ("Tags", "Tag", {"part": "Part", "from": "From hole or place", "bag": "Bag", "note": "Note"}),
    "parts": (
        "Parts fitted",
        "Part",
        {"name": "Part", "number": "Number or size", "count": "How many", "note": "Note"},
    ),
    "notes": ("Found and noted", "Note", {"text": "Note"}),
    "checks": ("Next checks", "Check", {"what": "What", "due": "By date", "distance": "By odometer"}),
}


@dataclass(frozen=True, slots=True)
class Ticked:
    """How far a walk was ticked: ``how_far`` is ``7 of 12``, or ``7`` where its steps were not counted."""

    title: str
    how_far: str
    last: str
    words: str
    walk: str

    @property
    def head(self) -> str:
        """``Head 2``, where each head is gone through by itself."""
        found = _OF_HEAD.fullmatch(self.walk.split()[-1])
        return f"Head {found[1]}" if found else ""

    @property
    def of(self) -> str:
        """The question, or the page."""
        return self.walk.partition(" ")[0]

    @property
    def is_finished(self) -> bool:
        """Tell whether all steps are ticked, as far as they were counted."""
        done, _, of = self.how_far.partition(" of ")
        return done == of


@dataclass(frozen=True, slots=True)
class Line:
    """One reading, or those of one kind from row to row.

    ``items`` are the row, the text and the mark of each; the ``unit`` and the ``mark``
    that all of them have stand once, behind the last.
    """

    label: str
    items: tuple[tuple[str, str, str], ...]
    unit: str
    mark: str


@dataclass(frozen=True, slots=True)
class Group:
    """Readings of one room, with the days on which they were taken."""

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


def _in_order(things: Iterable[Any], attribute: str) -> list[tuple[Any, list[Any]]]:
    """Return what stands behind one another and has the same attribute, together."""
    return [(key, list(alike)) for key, alike in itertools.groupby(things, lambda one: getattr(one, attribute))]


environment.filters |= {"day": day, "minute": minute}


def ticked(job: Mapping[str, Any]) -> tuple[Ticked, ...]:
    """Return the walks of a job that have ticks."""
    found = []
    for walk, ticks in job.get("ticks", {}).items():
        if ticks:
            last = max(ticks.values(), key=lambda tick: str(tick["when"]))
            steps = last.get("of")
            count = sum(tick.get("of") == steps for tick in ticks.values())
            how_far = f"{count} of {steps}" if steps else str(count)
            found.append(Ticked(_walk_title(walk), how_far, last["when"], last["words"], walk))
    return tuple(sorted(found, key=lambda walk: walk.last))


_OF_HEAD = re.compile(r"head_(\d+)")
_HEAD_FIRST = re.compile(r"Head \d+(?= · )")


def _walk_title(walk: str) -> str:
    """Return whose walk it is, and of which head: a question's, or the steps of a procedure."""
    parts = walk.split()
    head = _OF_HEAD.fullmatch(parts[-1]) if len(parts) > 1 else None
    title = _part_title(walk, parts)
    return f"{title}, head {head[1]}" if head else title


def _part_title(walk: str, parts: Sequence[str]) -> str:
    if parts and parts[0] in questions():
        return questions()[parts[0]].deed or title_of(parts[0])
    for part in parts[1:]:
        name = part if part in FORMER else part.rstrip("0123456789").rstrip("-")
        if name in FORMER:
            return FORMER[name].title
    page = parts[0].strip("/").rpartition("/")[2] if parts else walk
    return page.replace("-", " ").capitalize() or walk


def grouped(job: Mapping[str, Any]) -> dict[str, list[Read]]:
    """Return the readings by the room that asks for them."""
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

    def column(read: Read) -> str:
        return read.path.rpartition(".")[0] if named(read.path).row else read.path

    for _, group in itertools.groupby(reads, column):
        alike = list(group)
        called = named(alike[0].path)
        in_rows = bool(called.row) and len(alike) > 1
        marks = [instruments.get(read.instrument, "") + people.get(read.who, "") for read in alike]
        units = {_unit_behind(read.text) for read in alike}
        unit = units.pop() if in_rows and len(units) == 1 else ""
        yield Line(
            f"{called.column}, by {called.each}" if in_rows else alike[0].label,
            tuple(
                (named(read.path).row if in_rows else "", read.text.removesuffix(unit).rstrip(), mark)
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
    kind = named("odometer_unit").kind
    assert isinstance(kind, Choice)  # noqa: S101 (running in asks for it)
    return kind.options, readings.get("odometer_unit", {}).get("text") or next(iter(kind.options))


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


_TO_CYLINDERS = {"barrel": ("readings and tags", "#cylinder-{}")}


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
    walks, answers = ticked(job), decided(job, card)
    return environment.get_template("job.html").render(
        job=job,
        about=job.get("about", {}),
        about_labels=ABOUT,
        bench=on_the_bench(job),
        odometer=readings.get("odometer", {}).get("text", ""),
        odometer_units={one: word(one) for one in units},
        odometer_unit=unit,
        lists=LISTS,
        decided=answers,
        ticked=walks,
        cylinders=cylinders(job, card),
        map=Markup(from_above(job, card, _TO_CYLINDERS, "Engine from above, pulley towards you")),  # noqa: S704
        **_open_points(job, walks, answers),
        readings=grouped(job),
    )


def handover_html(job: Mapping[str, Any], card_title: str | None = None, card: EngineCard | None = None) -> str:
    """Return the handover as one HTML document: the same bytes from the same job, here and in the browser.

    One page tells the owner, a second the next mechanic; the readings are an annex.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    card_title : str, optional
        The engine's name on its card.
    card : EngineCard, optional
        The job's.
    """
    desk = desk_of(job.get("readings", {}), card)
    walks, answers, judged = ticked(job), decided(job, card, desk), judgements(job, desk)
    checks = next_checks(job, _odometer_unit(job.get("readings", {}))[1])
    chosen = [one for one in answers if _is_told(one, judged)]
    speeds = run_in(job, answers, desk)
    told = {one.entry["id"]: _judged_by(one, judged) for one in answers}
    maps = nut_maps(desk, answers)
    points = _open_points(job, walks, answers)
    begun = sum(len(points[key]) for key in ("unfinished", "doubted", "out"))
    done = len(points["finished"])
    rows = len(speeds.rows) if speeds else 0
    drawn = sum(bool(one.svg) for one in maps.values())
    return document(
        "Handover",
        job,
        "handover.html",
        facts=facts(job, card_title),
        found=[note for note in job.get("notes", ()) if note.get("text")],
        judged=judged,
        decided=answers,
        valued=[one for one in answers if one.entry.get("values")],
        chosen=chosen,
        run_in=speeds,
        checks=checks,
        due=sheets_of_checks(_in_order(checks, "when")),
        owner_takes_two=owner_takes_two(job, begun, done, judged, chosen, checks, rows),
        mechanic_takes_two=mechanic_takes_two(job, begun, done, judged, answers, checks, told, drawn),
        told=told,
        maps=maps,
        cylinder_key=_cylinder_key(card),
        procedure={one.entry["id"]: _procedures_of(one, walks) for one in answers},
        ticked=(of := {one.entry["id"]: _walks_of(one, walks) for one in answers}),
        never_begun={one.entry["id"]: _never_begun(one, of[one.entry["id"]]) for one in answers},
        **points,
        measured=(shown := measured(job)),
        plus_minus=_has_plus_minus(job, shown),
    )


def _walks_of(one: Decided, walks: Sequence[Ticked]) -> list[Ticked]:
    return sorted((walk for walk in walks if walk.of == one.entry["calculator"]), key=lambda walk: walk.head)


def _procedures_of(one: Decided, walks: Sequence[Ticked]) -> list[Ticked]:
    """Return what was ticked of the procedures in which a decision is carried out."""
    of = questions().get(one.entry["calculator"])
    return [walk for walk in walks if of and walk.of.strip("/") in of.procedures]


def _judged_by(one: Decided, judged: Judgements) -> tuple[Judgement, ...]:
    """Return what a decision says of parts as they were read and judged; nothing of it has changed since."""
    if one.is_doubted or one.entry.get("stages"):
        return ()
    return judged.of_question(one.entry["calculator"])


def _cylinder_key(card: EngineCard | None) -> str:
    """Return where the cylinders are."""
    banks = card.fact("layout.banks") if card else None
    if not banks or max(map(len, banks)) == 1:
        return ""
    numbers = [listed(map(str, bank)) for bank in banks]
    if len(banks) == 2:
        left, right = numbers
        return (
            f"Cylinders from above, pulley towards you: on the left, from the pulley on, {left}; on the right {right}."
        )
    return f"Cylinders, from the pulley on: {'; '.join(numbers)}."


def _never_begun(one: Decided, walks: Sequence[Ticked]) -> list[str]:
    """Return the heads of which nothing is ticked, where another's steps are."""
    titles = [match[0] for stage in one.entry.get("stages", ()) if (match := _HEAD_FIRST.match(stage["title"]))]
    return [head for head in dict.fromkeys(titles) if head not in {walk.head for walk in walks}] if walks else []


def _is_told(one: Decided, judged: Judgements) -> bool:
    """Tell whether the owner reads a decision by itself: not where measurements, speeds or checks say it."""
    entry = one.entry
    if one.is_doubted or entry.get("stages"):
        return True
    return entry["calculator"] not in {SPEED_LIMIT, RECHECKS} | judged.of


def _open_points(job: Mapping[str, Any], walks: Sequence[Ticked], answers: Sequence[Decided]) -> dict[str, Any]:
    """Return what is finished, what is only begun, which decisions are to be looked at again, which parts are out."""
    tags = job.get("tags", ())
    return {
        "tagged": len(tags),
        "out": [tag_words(tag) for tag in tags if not tag.get("back")],
        "finished": [walk for walk in walks if walk.is_finished],
        "unfinished": [walk for walk in walks if not walk.is_finished],
        "doubted": [one for one in answers if one.is_doubted],
    }


def tag_words(tag: Mapping[str, Any]) -> str:
    """Return a tag in one line.

    Examples
    --------
    >>> tag_words({"part": "Tappet", "from": "3 in", "bag": "7", "note": "face up"})
    'Tappet, 3 in, bag 7, face up'
    """
    bag = f"bag {tag['bag']}" if tag.get("bag") else ""
    return ", ".join(filter(None, (tag.get("part", ""), tag.get("from", ""), bag, tag.get("note", "")))) or "no words"


environment.filters["tag_words"] = tag_words


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
