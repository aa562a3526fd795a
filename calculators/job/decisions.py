"""Answers that a person was done with: frozen as they were, and set beside today's."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from calculators.bench.answer import Answer
from calculators.bench.asking import may_rest_on, rests_on
from calculators.bench.card import EngineCard
from calculators.bench.desk import Asked, Desk, Origin, Reading, path_of
from calculators.bench.question import Question, entries_and_columns, questions
from calculators.bench.report import Check, Table, Value, Walk
from calculators.bench.units import bare, magnitude_in, printed, printed_bare, quantity
from calculators.job.former import FORMER
from calculators.job.readings import as_read, is_result

_MOST_VALUES = 12

Readings = Mapping[str, Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class Stale:
    """A reading that a decision rests on and that has changed."""

    label: str
    then: str
    now: str


@dataclass(frozen=True, slots=True)
class Changed:
    """A value that comes out otherwise today; ``by`` is the difference, for a number."""

    label: str
    then: str
    now: str
    by: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Decided:
    """A decision, and what changed since.

    Parameters
    ----------
    entry : mapping
        As the schema has it.
    title : str
    stale : tuple of Stale
    changed : tuple of Changed
    unanswered : str
        Why there is no answer to today's readings; empty where there is one.
    is_former : bool
        A calculator of a former edition decided it: there is no answer of today to set beside it.
    other_card : bool
        The engine card was chosen or changed after it.
    """

    entry: Mapping[str, Any]
    title: str
    stale: tuple[Stale, ...] = ()
    changed: tuple[Changed, ...] = ()
    unanswered: str = ""
    is_former: bool = False
    other_card: bool = False

    @property
    def heading(self) -> str:
        """What it finds out, as paper has it; what nobody asks any more is called as it was."""
        of = questions().get(self.entry["calculator"])
        return of.tells if of else self.title

    @property
    def is_doubted(self) -> bool:
        return bool(self.stale or self.changed or self.unanswered or self.other_card)


def desk_of(readings: Readings, card: EngineCard | None, *, example: bool = False, before: Desk | None = None) -> Desk:
    """Return the desk on which a job's readings lie; what former calculators worked out does not."""
    typed = {path: Reading(one["text"], one.get("unit")) for path, one in readings.items() if not is_result(one)}
    return Desk(typed, card, example=example, before=before)


def decision_of(asked: Asked, readings: Readings) -> dict[str, Any]:
    """Return an answer as the job sheet keeps it, with the readings that it rests on.

    Parameters
    ----------
    asked : Asked
        With its answer.
    readings : mapping
        The job's.
    """
    assert asked.answer  # noqa: S101 (the caller has looked)
    known = {read.path: read for read in as_read(readings) if may_rest_on(asked.of, read.path)}
    return {
        "calculator": asked.of.name,
        "title": asked.of.asks,
        "lead": asked.answer.says,
        **({"record": asked.answer.record} if asked.answer.record else {}),
        "values": [_frozen(value) for value in _chosen(asked.answer)],
        "rests_on": {path: {"label": read.label, "text": read.text} for path, read in known.items()},
        **on_paper(asked.answer.walks, asked.answer.tables),
    }


def checks_of(name: str, checks: Iterable[Check]) -> list[dict[str, str]]:
    """Return what is to be looked at later as entries of the job; the same check replaces the one before."""
    return [
        {
            "id": uuid5(NAMESPACE_URL, f"{name}/{check.key}").hex,
            "what": check.what,
            "due": check.due,
            "distance": check.distance,
        }
        for check in checks
    ]


def _chosen(answer: Answer) -> Sequence[Value]:
    return (tuple(value for value in answer.values if value.lead) or answer.values)[:_MOST_VALUES]


def _frozen(value: Value) -> dict[str, Any]:
    number, unit = _number(value)
    more = {} if number is None else {"number": number} | ({"unit": unit} if unit else {})
    return {"key": value.key, "label": value.label, "text": _text(value)} | more


def _text(value: Value) -> str:
    return " = ".join(value.texts)


def _number(value: Value) -> tuple[float | None, str | None]:
    """Return a value as a bare number in its first unit; none for words."""
    if isinstance(value.quantity, str):
        return None, None
    unit = value.units[0] if value.units else None
    return (magnitude_in(value.quantity, unit) if unit else float(bare(value.quantity)[0])), unit


def on_paper(walks: Iterable[Walk], tables: Iterable[Table]) -> dict[str, Any]:
    """Return of an answer what the bench strip and the card for the dash are printed from."""
    stages = [
        {"title": stage.title, "words": stage.steps[0].words, "steps": [step.large for step in stage.steps]}
        for walk in walks
        if walk.on_paper
        for stage in walk.stages
        if stage.steps
    ]
    printed_tables = [
        {
            "title": table.title,
            "columns": [column.label for column in table.columns],
            "rows": [
                [column.text(cell) for column, cell in zip(table.columns, row.cells, strict=True)] for row in table.rows
            ],
        }
        for table in tables
        if table.on_paper
    ]
    return ({"stages": stages} if stages else {}) | ({"tables": printed_tables} if printed_tables else {})


def title_of(name: str, written: str = "") -> str:
    """Return what a question, or a calculator of a former edition, is called; else what was written with it."""
    if name in questions():
        return questions()[name].asks
    return FORMER[name].title if name in FORMER else written or name


def decided(job: Mapping[str, Any], card: EngineCard | None = None, desk: Desk | None = None) -> tuple[Decided, ...]:
    """Return the decisions, each with what is no longer as it was when it was made.

    Parameters
    ----------
    job : mapping
    card : EngineCard, optional
        The job's.
    desk : Desk, optional
        On which the job's readings lie with its card, where there is one already.
    """
    readings = job.get("readings", {})
    card_since = job.get("card", {}).get("when", "")
    desk = desk or desk_of(readings, card)
    return tuple(_set_beside(entry, desk, readings, entry["when"] < card_since) for entry in job.get("decisions", ()))


def _set_beside(entry: Mapping[str, Any], desk: Desk, readings: Readings, other_card: bool) -> Decided:
    name = entry["calculator"]
    title = entry.get("title") or title_of(name)
    of = questions().get(name)
    if of is None:
        stale = tuple(_stale(entry, readings, None))
        return Decided(entry=entry, title=title, stale=stale, is_former=True, other_card=other_card)
    asked = desk.ask(name)
    return Decided(
        entry=entry,
        title=title,
        stale=tuple(_stale(entry, readings, _filled_in(of, desk))),
        changed=tuple(_changed(entry, asked.answer)) if asked.answer else (),
        unanswered="" if asked.answer else "; ".join(error.message for error in (*asked.errors, *asked.lacking)),
        other_card=other_card,
    )


def _stale(entry: Mapping[str, Any], readings: Readings, filled: Mapping[str, str] | None) -> Iterable[Stale]:
    """Yield the readings that have changed.

    What a calculator of a former edition rested on may have been a result, which no job holds any more: only what is
    there counts.
    """
    read = {one.path: one for one in as_read(readings)}
    for path, then in entry.get("rests_on", {}).items():
        if path not in read and filled is None:
            continue
        now = read[path].text if path in read else (filled or {}).get(path, "")
        raw = readings.get(path, {}).get("text", "").strip()
        if then["text"].strip() not in (raw, now):
            yield Stale(then["label"], then["text"], now or "nothing")


def _filled_in(of: type[Question], desk: Desk) -> dict[str, str]:
    """Return what stands in the boxes that nobody typed in, from the card or as usual, by path."""
    found = {}
    for under in rests_on(of):
        asked = desk.ask(under.name)
        for entry, table in entries_and_columns(under):
            for row in range(1, asked.rows.get(table.key, 0) + 1) if table else (0,):
                known = asked.known.get(f"{entry.key}.{row}" if row else entry.key)
                if known and known.origin in (Origin.CARD, Origin.USUAL) and known.text:
                    found[path_of(under, entry, row)] = known.text
    return found


def _changed(entry: Mapping[str, Any], answer: Answer) -> Iterable[Changed]:
    today = {value.key: value for value in answer.values}
    labels = {value.label: value for value in answer.values}
    for then in entry.get("values", ()):
        value = today.get(then["key"]) if "key" in then else labels.get(then["label"])
        if value is None:
            yield Changed(then["label"], then["text"], "not worked out", "")
        elif _text(value) != then["text"]:
            yield Changed(then["label"], then["text"], _text(value), _difference(then, value))

    if other := _other_step(entry.get("stages", ()), on_paper(answer.walks, ()).get("stages", ())):
        yield other


def _other_step(then: Sequence[Mapping[str, Any]], now: Sequence[Mapping[str, Any]]) -> Changed | None:
    """Return the first step that is another today, as it is read from two metres; None where all are the same."""
    before, after = ([(stage["title"], step) for stage in stages for step in stage["steps"]] for stages in (then, now))
    for (title, one), (_, other) in itertools.zip_longest(before, after, fillvalue=("", "")):
        if one != other:
            return Changed(title or "A step", one or "not there", other or "not there", "")
    return None


def _difference(then: Mapping[str, Any], value: Value) -> str:
    number, unit = _number(value)
    if number is None or "number" not in then or then.get("unit") != unit:
        return ""
    apart = number - then["number"]
    size = float(f"{abs(apart):.6g}")
    places = value.places if len(value.units) < 2 else None
    text = printed(quantity(size, unit), unit, places) if unit else printed_bare(size, places)
    return f"{'−' if apart < 0 else '+'}{text}" if any(digit in "123456789" for digit in text) else ""
