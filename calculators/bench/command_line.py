"""Questions on the command line: their names, what they ask for, and their answers."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from calculators._engine_card import EngineCard
from calculators._text import table_lines
from calculators._units import EXPANSION
from calculators.bench.asking import answer_of, readings_of
from calculators.bench.desk import Asked, Desk, Known
from calculators.bench.entries import Entry
from calculators.bench.printing import said_whole
from calculators.bench.question import question, questions


def listed_questions() -> str:
    """Return every question by name, with what it asks."""
    width = max(map(len, questions()), default=0)
    return "\n".join(f"{name:{width}}  {found.asks}" for name, found in questions().items())


def run_question(name: str, texts: Iterable[str], card: EngineCard | None, as_json: bool) -> str:
    """Return the answer to a question, as lines of text or as JSON.

    Raises
    ------
    UnknownQuestion
    InputErrors
        What is wrong, and what is lacking.
    """
    of = question(name)
    desk = Desk(readings_of(of, texts), card)
    answer_of(desk, of)
    asked = desk.ask(name)
    return _as_json(asked) if as_json else _as_text(asked)


def _as_text(asked: Asked) -> str:
    answer = asked.answer
    assert answer  # noqa: S101 (the caller has looked)
    lines = [asked.of.asks, "=" * len(asked.of.asks), "", answer.headline, "", answer.says, ""]
    lines += [f"{caution.signal.upper()}: {caution.text}" for caution in answer.warnings]
    lines += [""] if answer.warnings else []
    width = max((len(value.label) for value in answer.values), default=0)
    lines += [f"{value.label:{width}}  {' = '.join(value.texts)}" for value in answer.values]
    for table in answer.tables:
        lines += ["", table.title, "-" * len(table.title), *table_lines(table)]
    lines += ["", *answer.notes] if answer.notes else []
    lines += ["", "Taken", "-----", *(f"{key}: {_taken(known)}" for key, known in asked.known.items())]
    return "\n".join(lines)


def _taken(known: Known) -> str:
    return f"{said_whole(known.value)} ({known.origin})"


def _as_json(asked: Asked) -> str:
    answer = asked.answer
    assert answer  # noqa: S101 (the caller has looked)
    taken: Mapping[str, Any] = {
        key: {"text": known.text, "understood": _taken(known), "origin": known.origin, "by": known.by}
        for key, known in asked.known.items()
    }
    data = answer.as_data() | {"question": asked.of.name, "k": EXPANSION, "taken": taken, "example": asked.is_example}
    return json.dumps(data, ensure_ascii=False, indent=2)


def described_question(name: str, as_json: bool) -> str:
    """Return what a question asks for."""
    of = question(name)
    facts = [_described(entry, "") for entry in of.entries()]
    facts += [_described(column, table.each) for table in of.tables() for column in table.columns]
    if as_json:
        return json.dumps({"name": of.name, "asks": of.asks, "entries": facts}, ensure_ascii=False, indent=2)
    lines = [of.asks, ""]
    for fact in facts:
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
    kind = entry.field.entry
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
