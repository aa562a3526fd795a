"""Questions on the command line: their names, what they ask for, and their answers."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from calculators.bench.asking import answer_of, beyond_the_rows, readings_of
from calculators.bench.card import EngineCard
from calculators.bench.desk import Asked, Desk, Known
from calculators.bench.entries import Entry
from calculators.bench.errors import InputErrors
from calculators.bench.plain_text import table_lines
from calculators.bench.printing import said_whole
from calculators.bench.question import entries_and_columns, question, questions
from calculators.bench.units import EXPANSION


def listed_questions() -> str:
    """Return every question by name, with what it asks."""
    width = max(map(len, questions()), default=0)
    return "\n".join(f"{name:{width}}  {found.asks}" for name, found in questions().items())


def asked_on_the_command_line(name: str, texts: Iterable[str], card: EngineCard | None) -> Asked:
    """Return a question with its answer.

    Raises
    ------
    UnknownQuestion
    InputErrors
        What is wrong, and what is lacking.
    """
    of = question(name)
    readings = readings_of(of, texts)
    desk = Desk(readings, card)
    if beyond := beyond_the_rows(desk, of, readings):
        raise InputErrors(*beyond)
    answer_of(desk, of)
    return desk.ask(name)


def answer_text(asked: Asked, shown: Callable[[str], str] = str) -> str:
    """Return an answer as lines of text, rounded as on the page.

    Parameters
    ----------
    shown : callable
        Gives a text as the terminal shows it, for the width of its column.
    """
    answer = asked.answer
    assert answer  # noqa: S101 (the caller has looked)
    lines = [asked.of.asks, "=" * len(asked.of.asks), "", answer.headline, "", answer.says, ""]
    lines += [f"{caution.signal.upper()}: {caution.text}" for caution in answer.warnings]
    lines += [""] if answer.warnings else []
    labels = [shown(value.label) for value in answer.values]
    width = max(map(len, labels), default=0)
    lines += [f"{label:{width}}  {' = '.join(value.texts)}" for label, value in zip(labels, answer.values, strict=True)]
    for table in answer.tables:
        lines += ["", table.title, "-" * len(table.title), *table_lines(table, shown)]
    lines += ["", *answer.every_note] if answer.every_note else []
    lines += ["", "Taken", "-----", *(f"{key}: {_taken(known)}" for key, known in asked.known.items())]
    return "\n".join(lines)


def _taken(known: Known) -> str:
    return f"{said_whole(known.value)} ({known.origin})"


def answer_data(asked: Asked) -> dict[str, Any]:
    """Return an answer as plain data, unrounded, with what each entry was understood as and where it comes from."""
    answer = asked.answer
    assert answer  # noqa: S101 (the caller has looked)
    taken = {
        key: {"text": known.text, "understood": _taken(known), "origin": known.origin, "by": known.by}
        for key, known in asked.known.items()
    }
    return answer.as_data() | {"question": asked.of.name, "k": EXPANSION, "taken": taken, "example": asked.is_example}


def described_data(name: str) -> dict[str, Any]:
    """Return what a question asks for, as plain data."""
    of = question(name)
    facts = [_described(entry, table.each if table else "") for entry, table in entries_and_columns(of)]
    return {"name": of.name, "asks": of.asks, "entries": facts}


def described_text(name: str) -> str:
    """Return what a question asks for, as lines of text."""
    described = described_data(name)
    lines = [described["asks"], ""]
    for fact in described["entries"]:
        lines.append(f"{fact['key']}: {fact['label']} ({fact['kind']}{', one each row' if fact['each'] else ''})")
        lines += [f"    {fact['hint']}"] if fact["hint"] else []
        lines += [f"    units: {', '.join(fact['units'])}"] if fact["units"] else []
        lines += [f"    from {fact['low']} to {fact['high']}: {fact['why']}"] if fact["why"] else []
        lines += [f"    one of: {', '.join(fact['options'])}"] if fact["options"] else []
        lines += [f"    usual: {fact['usual']}"] if fact["usual"] else []
        lines += [f"    for example: {fact['example']}"] if fact["example"] else []
        lines += ["    may be left empty"] if fact["optional"] else []
    return "\n".join(lines)


def _described(entry: Entry[Any], each: str) -> dict[str, Any]:
    kind = entry.each
    low, high = getattr(kind, "limits", ("", ""))
    return {
        "key": entry.key,
        "label": entry.label,
        "kind": entry.kind.name,
        "units": [unit.symbol for unit in getattr(kind, "units", ())],
        "low": low,
        "high": high,
        "why": getattr(kind, "why", ""),
        "options": list(getattr(kind, "options", ())),
        "usual": entry.facts.usual,
        "example": entry.facts.example,
        "optional": entry.optional,
        "hint": entry.facts.hint,
        "card": entry.facts.card,
        "shared_as": entry.facts.shared_as,
        "each": each,
    }
