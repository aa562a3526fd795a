"""What a card asks for, as its schema says it: sections, entries and tables, each with its words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from calculators.bench.card import EngineCard
from calculators.bench.question import Question, entries_and_columns, questions, room_title
from calculators.bench.units import units_of
from calculators.bench.words import word
from calculators.card.checking import SCHEMA, Schema, resolved

_OPTION_WORDS = {
    "opposed": "opposed",
    "inline": "inline",
    "V": "V",
    "single": "single",
    "valve": "valve end of the rocker",
    "pushrod": "pushrod end of the rocker",
    "cast aluminium": "cast aluminium",
    "wrought aluminium": "wrought aluminium",
    "cast magnesium": "cast magnesium",
    "grey iron": "grey iron",
    "ductile iron": "ductile iron",
    "carbon steel": "carbon steel",
    "alloy steel": "alloy steel",
    "martensitic steel": "martensitic steel",
    "austenitic steel": "austenitic steel",
    "titanium": "titanium",
}


@dataclass(frozen=True, slots=True)
class Entry:
    """One box of the form.

    Parameters
    ----------
    path : str
        ``dimensions.bore``, which is also the name of the box; its source's is ``dimensions.bore.source``.
    label : str
        ``Bore``.
    noun : str
        The same inside a sentence about the whole card: ``Inlet (clearances)`` where the label says too little.
    value : mapping
        The schema of its value.
    sourced : bool
        A fact, with a box for where it comes from.
    """

    path: str
    label: str
    noun: str
    value: Schema
    sourced: bool

    @property
    def key(self) -> str:
        return self.path.rpartition(".")[2]

    @property
    def kind(self) -> str | None:
        """The kind of quantity, ``"length"``; None where it has no unit."""
        return self.value.get("format")

    @property
    def options(self) -> dict[str, str]:
        """What may be chosen, as the card has it, each with what the reader sees."""
        return {option: _OPTION_WORDS.get(option) or word(option) for option in self.value.get("enum", ())}

    @property
    def wanted(self) -> str:
        """What is to be typed, in words."""
        if self.kind:
            *most, last = (unit.symbol for unit in units_of(self.kind))
            return f"With its unit: {', '.join(most)} or {last}" if most else f"With its unit: {last}"
        match self.value:
            case {"type": "array", "items": {"type": "array"}}:
                return "Whole numbers in groups, like 1 2 / 3 4"
            case {"type": "array", "items": {"type": "integer"}}:
                return "Whole numbers in a row, like 1 4 3 2"
            case {"type": "array", "items": {"type": "number"}}:
                return "Numbers in a row, like 180 180 180 180"
            case {"type": "array"}:
                return "Names in a row, like A B C D"
            case {"type": "integer"}:
                return "A whole number"
            case {"type": "number"}:
                return "A number, like 7.6"
            case _:
                return ""

    @property
    def inputmode(self) -> str:
        """The keyboard that a phone offers: letters wherever a unit or a parting space is typed."""
        return {"integer": "numeric", "number": "decimal"}.get(self.value.get("type", ""), "text")


@dataclass(frozen=True, slots=True)
class Table:
    """Things in rows, like studs with their places."""

    path: str
    label: str
    columns: tuple[Entry, ...]
    most: int

    @property
    def key(self) -> str:
        return self.path.rpartition(".")[2]


@dataclass(frozen=True, slots=True)
class CardSection:
    """Facts that stand under one key of a card."""

    path: str
    title: str
    help: str
    required: bool
    entries: tuple[Entry, ...]
    tables: tuple[Table, ...]

    @property
    def paths(self) -> tuple[str, ...]:
        """The paths of its entries and tables."""
        return (*(entry.path for entry in self.entries), *(table.path for table in self.tables))


def _words(key: str, schema: Schema) -> str:
    """Return what a key is called: its title, which only a translated schema has, else the key itself in words."""
    return str(schema.get("title") or key.replace("_", " ").capitalize())


def _is_fact(schema: Schema) -> bool:
    return set(schema.get("properties", ())) == {"value", "source"}


def _entry(path: str, reference: Schema) -> Entry:
    schema = resolved(reference)
    value = resolved(schema["properties"]["value"]) if _is_fact(schema) else schema
    label = _words(path.rpartition(".")[2], reference)
    return Entry(path, label, label, value, _is_fact(schema))


def _sections(schema: Schema, path: str, title: str) -> Iterator[CardSection]:
    """Yield the section of a mapping, and those of the mappings in it."""
    entries: list[Entry] = []
    tables: list[Table] = []
    inner: list[CardSection] = []
    for key, reference in schema["properties"].items():
        part, place = resolved(reference), f"{path}.{key}"
        if part.get("type") == "array" and part["items"].get("type") == "object":
            columns = tuple(_entry(f"{place}.{name}", cell) for name, cell in part["items"]["properties"].items())
            tables.append(Table(place, _words(key, reference).lower(), columns, part["maxItems"]))
        elif part.get("type") == "object" and not _is_fact(part):
            inner += _sections(part, place, f"{title}: {_words(key, reference).lower()}")
        else:
            entries.append(_entry(place, reference))
    if entries or tables:
        required = path in SCHEMA["required"]
        yield CardSection(path, title, schema.get("description", ""), required, tuple(entries), tuple(tables))
    yield from inner


def _named(sections: tuple[CardSection, ...]) -> tuple[CardSection, ...]:
    """Put the section behind each label with which one in another section begins: ``Inlet (clearances)``."""

    def noun(section: CardSection, entry: Entry) -> str:
        elsewhere = (f"{one.label} " for other in sections if other is not section for one in other.entries)
        unclear = any(label.startswith(f"{entry.label} ") for label in elsewhere)
        return f"{entry.label} ({section.title.lower()})" if unclear else entry.label

    return tuple(
        replace(section, entries=tuple(replace(entry, noun=noun(section, entry)) for entry in section.entries))
        for section in sections
    )


HEADINGS = tuple(
    _entry(key, part) for key, part in SCHEMA["properties"].items() if resolved(part).get("type") == "string"
)
"""What stands at the top of a card: its name and what engine it is of."""

SECTIONS = _named(
    tuple(
        section
        for key, part in SCHEMA["properties"].items()
        if resolved(part).get("type") == "object"
        for section in _sections(resolved(part), key, _words(key, part))
    )
)


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
    return tuple(
        entry.label
        for entry, _ in entries_and_columns(asked)
        if entry.facts.card and not entry.optional and entry.facts.usual is None and not card.text(entry.facts.card)
    )


def inherited_for(asked: type[Question], card: EngineCard) -> tuple[str, ...]:
    """Return the labels of the entries that stay empty, for the reader's card has nothing but the example's figure."""
    return tuple(
        entry.label
        for entry, _ in entries_and_columns(asked)
        if entry.facts.card and not entry.optional and entry.facts.usual is None and card.inherited(entry.facts.card)
    )


def inherited_entries(card: EngineCard) -> tuple[str, ...]:
    """Return the paths of all facts and tables of the reader's card that are the example's still."""
    paths = (path for section in SECTIONS for path in section.paths)
    return tuple(path for path in paths if not path.endswith(".source") and card.inherited(path))


def at(tree: Any, path: str) -> Any:
    """Return what stands at a path of a tree, or None; a tree from outside may be anything."""
    for key in path.split("."):
        tree = tree.get(key) if isinstance(tree, Mapping) else None
    return tree
