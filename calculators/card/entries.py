"""How a card's facts are asked for: what stands beside each box, which questions take it, and what a card lacks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from calculators.bench.card import EngineCard
from calculators.bench.card_facts import CardFacts
from calculators.bench.entries import Entry
from calculators.bench.kinds import Choice, Groups, Measure, Names, Number, Series
from calculators.bench.question import Question, entries_and_columns, questions, room_title
from calculators.bench.sections import Rows, every_section

HEADINGS = CardFacts.entries()
"""What stands at the top of a card: its name and what engine it is of."""
SECTIONS = tuple(every_section(CardFacts))


def wanted(entry: Entry[Any]) -> str:
    """Return what is to be typed, in words."""
    kind = entry.kind
    if isinstance(kind, Measure):
        *most, last = (unit.symbol for unit in kind.units)
        return f"With its unit: {', '.join(most)} or {last}" if most else f"With its unit: {last}"
    if isinstance(kind, Groups):
        return "Whole numbers in groups, like 1 2 / 3 4"
    if isinstance(kind, Series):
        numbers = "Whole numbers" if isinstance(kind.of, Number) and kind.of.whole else "Numbers"
        return f"{numbers} in a row, like {kind.like}"
    if isinstance(kind, Names):
        return "Names in a row, like A B C D"
    if isinstance(kind, Number):
        return "A whole number" if kind.whole else "A number, like 7.6"
    return ""


def limits(entry: Entry[Any]) -> str:
    """Return between which figures a fact must be, or nothing."""
    return " to ".join(entry.kind.limits) if isinstance(entry.kind, Measure | Number) else ""


def hint(entry: Entry[Any]) -> str:
    """Return the line above a box: what is typed there, its limits, and who takes it."""
    taken = ", ".join(takers().get(entry.path, ()))
    said = (wanted(entry), limits(entry), entry.facts.hint.rstrip("."), f"Taken by: {taken}" if taken else "")
    return ". ".join(filter(None, said))


def options(entry: Entry[Any]) -> Mapping[str, str]:
    """Return what may be chosen, as the card has it, each with what the reader sees."""
    return entry.kind.options if isinstance(entry.kind, Choice) else {}


def inputmode(entry: Entry[Any]) -> str:
    """Return the keyboard that a phone offers: letters wherever a unit or a parting space is typed."""
    if not isinstance(entry.kind, Number):
        return "text"
    return "numeric" if entry.kind.whole else "decimal"


@cache
def nouns() -> Mapping[str, str]:
    """Return what each fact is called in a sentence about the whole card.

    Where a label begins another section's too, its own section stands behind it: ``Inlet (clearances)``.
    """
    found = {entry.path: entry.label for entry in HEADINGS}
    for section in SECTIONS:
        elsewhere = [f"{entry.label} " for other in SECTIONS if other is not section for entry in other.entries()]
        for entry in section.entries():
            unclear = any(label.startswith(f"{entry.label} ") for label in elsewhere)
            found[entry.path] = f"{entry.label} ({section.title.lower()})" if unclear else entry.label
        found |= {f"{table.path}.{column.key}": column.label for table in section.tables() for column in table.columns}
    return found


def boxes() -> Iterator[str]:
    """Yield the name of each box in the order of the form, and of each table."""
    yield from (entry.path for entry in HEADINGS)
    for section in SECTIONS:
        for table in section.tables():
            yield table.path
            yield from (cell(table, number, column) for number in range(1, table.most + 1) for column in table.columns)
        for entry in section.entries():
            yield from (entry.path, f"{entry.path}.source")


def cell(table: Rows[Any], number: int, column: Entry[Any]) -> str:
    """Return the name of a box in a table."""
    return f"{table.path}.{number}.{column.key}"


def facts_of(asked: type[Question]) -> tuple[str, ...]:
    """Return the paths of the facts that a question takes from the card, for its entries or by itself."""
    of_entries = (entry.facts.card for entry, _ in entries_and_columns(asked) if entry.facts.card)
    return tuple(dict.fromkeys((*of_entries, *asked.from_card)))


@cache
def takers() -> Mapping[str, tuple[str, ...]]:
    """Return the rooms whose questions take a fact, by its path; a table's path has those that take what is in it."""
    found: dict[str, dict[str, None]] = {}
    for asked in questions().values():
        for path in facts_of(asked):
            found.setdefault(path, {})[room_title(asked.name.partition(".")[0])] = None
    return {path: tuple(titles) for path, titles in found.items()}


def missing_for(asked: type[Question], card: EngineCard) -> tuple[str, ...]:
    """Return the labels of the entries that the card leaves empty and nothing else fills."""
    return tuple(label for label, path in _only_from_a_card(asked) if not card.text(path))


def inherited_for(asked: type[Question], card: EngineCard) -> tuple[str, ...]:
    """Return the labels of the entries that stay empty, for the reader's card has nothing but the example's figure."""
    return tuple(label for label, path in _only_from_a_card(asked) if card.inherited(path))


def _only_from_a_card(asked: type[Question]) -> Iterator[tuple[str, str]]:
    for entry, _ in entries_and_columns(asked):
        if entry.facts.card and not entry.optional and entry.facts.usual is None:
            yield entry.label, entry.facts.card


def inherited_entries(card: EngineCard) -> tuple[str, ...]:
    """Return the paths of all facts and tables of the reader's card that are the example's still."""
    every = (path for section in SECTIONS for path in section.paths())
    return tuple(path for path in every if not path.endswith(".source") and card.inherited(path))


def at(tree: Any, path: str) -> Any:
    """Return what stands at a path of a tree, or None; a tree from outside may be anything."""
    for key in path.split("."):
        tree = tree.get(key) if isinstance(tree, Mapping) else None
    return tree
