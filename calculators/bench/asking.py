"""Asking a question by texts: ``key=value``, for the command line, the outside checks and the tests."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Iterator, Mapping
from functools import cache
from typing import Any, cast

from calculators.bench.answer import Answer
from calculators.bench.card import EngineCard
from calculators.bench.cells import cells_of
from calculators.bench.desk import Asked, Desk, Reading, path_of
from calculators.bench.entries import Entry
from calculators.bench.errors import FieldError, InputErrors
from calculators.bench.question import Question, entries_and_columns, provider, question

_KEY = re.compile(r"([a-z_][a-z0-9_]*)(?:\.([1-9][0-9]{0,2}))?", re.ASCII)


def rests_on(of: type[Question], seen: tuple[str, ...] = ()) -> Iterator[type[Question]]:
    """Yield a question, then those whose values it takes for its entries, the nearest first."""
    yield of
    for entry, _ in entries_and_columns(of):
        by = provider(entry.facts.shared_as.partition(".")[0]) if entry.facts.shared_as else None
        if by and by.name != of.name and by.name not in seen:
            yield from rests_on(by, (*seen, of.name))


def may_rest_on(of: type[Question], path: str) -> bool:
    """Tell whether a reading's path is that of an entry of a question, or of one that it takes values from."""
    stems = _stems(cast("Hashable", of))
    stem, _, row = path.rpartition(".")
    return path in stems or (row.isdigit() and f"{stem}.row" in stems)


@cache
def _stems(of: Any) -> frozenset[str]:
    return frozenset(
        path_of(asked, entry) + (".row" if table else "")
        for asked in rests_on(of)
        for entry, table in entries_and_columns(asked)
    )


def readings_of(of: type[Question], texts: Iterable[str]) -> dict[str, Reading]:
    """Return what ``key=value`` texts say, by the path under which a job keeps it.

    Parameters
    ----------
    of : type of Question
        Its own entries and those of the questions that it rests on are known, its own first.
    texts : iterable of str
        A column of a table is typed as one list, ``chamber='52.1; 52.4'``, or cell by cell, ``chamber.2=52.4``.

    Raises
    ------
    InputErrors
        One a text that is no ``key=value``, names no entry, or names one twice.
    """
    entries: dict[str, tuple[type[Question], Entry[Any], int]] = {}
    for asked in rests_on(of):
        for entry, table in entries_and_columns(asked):
            entries.setdefault(entry.key, (asked, entry, table.most if table else 0))
    found: dict[str, Reading] = {}
    by_key: dict[str, str] = {}
    errors = []
    for text in texts:
        name, sign, value = text.partition("=")
        name = name.strip()
        shape = _KEY.fullmatch(name)
        row = int(shape[2] or 0) if shape else 0
        if not sign:
            errors.append(FieldError(text, f"{text} must be written key=value"))
        elif not shape or shape[1] not in entries or row > entries[shape[1]][2]:
            errors.append(FieldError(name, f"{of.name} has no entry {name}; it has {', '.join(entries)}"))
        elif name in by_key:
            twice = f"{name} is given twice, as {by_key[name]} and as {value}; give it once"
            errors.append(FieldError(name, twice))
        else:
            by_key[name] = value
            asked, entry, most = entries[shape[1]]
            cells = dict(enumerate(cells_of(entry, value, most), 1)) if most and not row else {row: value}
            if len(cells) > max(most, 1):
                many = f"{entry.label} must have at most {most} entries, not {len(cells)}"
                errors.append(FieldError(name, many))
            else:
                found |= {path_of(asked, entry, number): Reading(cell) for number, cell in cells.items()}
    for name in by_key:
        column, _, row_name = name.rpartition(".")
        if row_name.isdigit() and column in by_key:
            errors.append(FieldError(name, f"{name} is given twice, by itself and in {column}; give it once"))
    if errors:
        raise InputErrors(*errors)
    return found


def beyond_the_rows(desk: Desk, of: type[Question], readings: Mapping[str, Reading]) -> list[FieldError]:
    """Return an error for each column of which more cells were given than its table has rows."""
    errors: dict[str, FieldError] = {}
    for asked in map(desk.ask, (under.name for under in rests_on(of))):
        for entry, table in entries_and_columns(asked.of):
            rows = asked.rows.get(table.key, 0) if table else 0
            unread = any(error.field == table.count for error in (*asked.errors, *asked.lacking)) if table else True
            if table and table.count and not unread and f"{path_of(asked.of, entry, rows + 1)}" in readings:
                given = max(row for row in range(1, table.most + 1) if path_of(asked.of, entry, row) in readings)
                entries = "entry" if rows == 1 else "entries"
                message = f"{entry.label} must have {rows} {entries}, not {given}"
                errors.setdefault(entry.key, FieldError(entry.key, message))
    return list(errors.values())


def asked_with(name: str, texts: Iterable[str] = (), card: EngineCard | None = None) -> Asked:
    """Return a question as it stands with these texts, answered or not.

    Raises
    ------
    UnknownQuestion
    InputErrors
        A text that is no entry.
    """
    of = question(name)
    return Desk(readings_of(of, texts), card).ask(name)


def answered(name: str, card: EngineCard | None = None, /, **texts: str) -> Answer:
    """Return the answer to a question, its entries given by keyword.

    Raises
    ------
    UnknownQuestion
    InputErrors
        What is wrong, in the question and in those that it rests on, and what is lacking.

    Examples
    --------
    >>> answered("torque.rocker_posts", figure="16 lb ft", posts="3").value("order").quantity
    'B – A – C'
    """
    of = question(name)
    desk = Desk(readings_of(of, (f"{key}={text}" for key, text in texts.items())), card)
    return answer_of(desk, of)


def answer_of(desk: Desk, of: type[Question]) -> Answer:
    """Return the answer to a question that lies on a desk.

    Raises
    ------
    InputErrors
    """
    asked = desk.ask(of.name)
    if asked.answer:
        return asked.answer
    under = [error for other in rests_on(of) if other is not of for error in desk.ask(other.name).errors]
    raise InputErrors(*dict.fromkeys((*under, *asked.errors, *asked.lacking)))  # a shared reading is wrong once


def example_texts(of: type[Question], card: EngineCard) -> Mapping[str, str]:
    """Return what the worked example of a question reads, by key: for tests that change one thing of it."""
    asked = Desk({}, card, example=True).ask(of.name)
    return {key: known.text for key, known in asked.known.items() if known.text}
